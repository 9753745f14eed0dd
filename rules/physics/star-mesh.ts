/**
 * Elimination of nodes from a network of admittances. A node is taken out by joining its neighbors directly (star to mesh), so every
 * number is a sum of terms of one sign: nothing cancels, and a 4 mΩ lead may stand beside a 10 MΩ meter without loss.
 * The order (fewest neighbors first) depends on the drawing alone and is worked out once.
 */
export interface Pattern {
  /** All nodes; the last `fixed` of them are never taken out (sources). The reference is not a node: it stands at 0 V. */
  nodes: number;
  fixed: number;
  /** Slot of the pair (a, b) at a * nodes + b; -1 = no such pair. */
  slotOf: Int32Array;
  slots: number;
  order: Int32Array;
  /** Neighbors of order[i] when it goes: from first[i] to first[i + 1]. */
  first: Int32Array;
  neighbor: Int32Array;
  neighborSlot: Int32Array;
  /** For each pair of those neighbors, in turn, the slot that takes their mesh admittance; -1 = between two sources. */
  mesh: Int32Array;
}

/** @param pairs  node pairs that may be joined; equal ends are left out */
export function patternOf(nodes: number, fixed: number, pairs: Iterable<readonly [number, number]>): Pattern {
  const beside = Array.from({ length: nodes }, () => new Set<number>());
  const slotOf = new Int32Array(nodes * nodes).fill(-1);
  let slots = 0;
  const join = (a: number, b: number): void => {
    if (a === b || slotOf[a * nodes + b] !== -1) return;
    slotOf[a * nodes + b] = slotOf[b * nodes + a] = slots++;
    beside[a]!.add(b);
    beside[b]!.add(a);
  };
  for (const [a, b] of pairs) join(a, b);
  const free = nodes - fixed;
  const left = new Set(Array.from({ length: free }, (_, i) => i));
  const order: number[] = [];
  const first = [0];
  const neighbor: number[] = [];
  const neighborSlot: number[] = [];
  const mesh: number[] = [];
  while (left.size) {
    let node = -1;
    for (const candidate of left) if (node < 0 || beside[candidate]!.size < beside[node]!.size) node = candidate;
    left.delete(node);
    const around = [...beside[node]!].sort((a, b) => a - b);
    for (const n of around) beside[n]!.delete(node);
    for (const n of around) {
      neighbor.push(n);
      neighborSlot.push(slotOf[node * nodes + n]!);
    }
    for (let i = 0; i < around.length; i++)
      for (let j = i + 1; j < around.length; j++) {
        const a = around[i]!;
        const b = around[j]!;
        if (a >= free) mesh.push(-1);
        else {
          join(a, b);
          mesh.push(slotOf[a * nodes + b]!);
        }
      }
    order.push(node);
    first.push(neighbor.length);
  }
  return {
    nodes,
    fixed,
    slotOf,
    slots,
    order: Int32Array.from(order),
    first: Int32Array.from(first),
    neighbor: Int32Array.from(neighbor),
    neighborSlot: Int32Array.from(neighborSlot),
    mesh: Int32Array.from(mesh),
  };
}

/** Complex numbers as two arrays. */
export interface Complexes {
  re: Float64Array;
  im: Float64Array;
}
export const complexes = (length: number): Complexes => ({ re: new Float64Array(length), im: new Float64Array(length) });

/** What is left of a network once every free node is taken out. */
export interface Eliminated {
  pattern: Pattern;
  /** Share of each neighbor in a node's voltage, in the order of `pattern.neighbor`. */
  weight: Complexes;
  /** Ω from a node to all its neighbors at once when it was taken out, by node. */
  star_ohm: Complexes;
}

/**
 * @param between_s  siemens by slot; used up by the elimination
 * @param toReference_s  siemens from each node to the reference; each free node needs something above zero. Used up as well
 */
export function eliminate(pattern: Pattern, between_s: Complexes, toReference_s: Complexes): Eliminated {
  const { order, first, neighbor, neighborSlot, mesh } = pattern;
  const gr = between_s.re;
  const gi = between_s.im;
  const rr = toReference_s.re;
  const ri = toReference_s.im;
  const weight = complexes(neighbor.length);
  const wr = weight.re;
  const wi = weight.im;
  const star_ohm = complexes(pattern.nodes);
  let m = 0;
  for (let k = 0; k < order.length; k++) {
    const node = order[k]!;
    const from = first[k]!;
    const to = first[k + 1]!;
    const ownR = rr[node]!;
    const ownI = ri[node]!;
    let sumR = ownR;
    let sumI = ownI;
    for (let p = from; p < to; p++) {
      const s = neighborSlot[p]!;
      sumR += gr[s]!;
      sumI += gi[s]!;
    }
    const size = sumR * sumR + sumI * sumI;
    const zr = sumR / size;
    const zi = -sumI / size;
    star_ohm.re[node] = zr;
    star_ohm.im[node] = zi;
    for (let p = from; p < to; p++) {
      const s = neighborSlot[p]!;
      const xr = gr[s]! * zr - gi[s]! * zi;
      const xi = gr[s]! * zi + gi[s]! * zr;
      wr[p] = xr;
      wi[p] = xi;
      const n = neighbor[p]!;
      rr[n] = rr[n]! + xr * ownR - xi * ownI;
      ri[n] = ri[n]! + xr * ownI + xi * ownR;
    }
    for (let p = from; p < to; p++)
      for (let q = p + 1; q < to; q++) {
        const target = mesh[m++]!;
        if (target < 0) continue;
        const s = neighborSlot[q]!;
        gr[target] = gr[target]! + wr[p]! * gr[s]! - wi[p]! * gi[s]!;
        gi[target] = gi[target]! + wr[p]! * gi[s]! + wi[p]! * gr[s]!;
      }
  }
  return { pattern, weight, star_ohm };
}

/** Volts of every node, given those of the sources (already in `volts`) and no current put in. */
export function spread({ pattern, weight }: Eliminated, volts: Complexes): Complexes {
  const { order, first, neighbor } = pattern;
  for (let k = order.length - 1; k >= 0; k--) {
    let vr = 0;
    let vi = 0;
    for (let p = first[k]!; p < first[k + 1]!; p++) {
      const n = neighbor[p]!;
      vr += weight.re[p]! * volts.re[n]! - weight.im[p]! * volts.im[n]!;
      vi += weight.re[p]! * volts.im[n]! + weight.im[p]! * volts.re[n]!;
    }
    volts.re[order[k]!] = vr;
    volts.im[order[k]!] = vi;
  }
  return volts;
}

/** Volts of every node with the sources at 0 V and the amps of `amps` put into each node (back through the reference). `amps` is used up. */
export function inject({ pattern, weight, star_ohm }: Eliminated, amps: Complexes): Complexes {
  const { order, first, neighbor } = pattern;
  const jr = amps.re;
  const ji = amps.im;
  for (let k = 0; k < order.length; k++) {
    const node = order[k]!;
    const ar = jr[node]!;
    const ai = ji[node]!;
    if (ar === 0 && ai === 0) continue;
    for (let p = first[k]!; p < first[k + 1]!; p++) {
      const n = neighbor[p]!;
      jr[n] = jr[n]! + weight.re[p]! * ar - weight.im[p]! * ai;
      ji[n] = ji[n]! + weight.re[p]! * ai + weight.im[p]! * ar;
    }
  }
  const volts = complexes(pattern.nodes);
  for (let k = order.length - 1; k >= 0; k--) {
    const node = order[k]!;
    let vr = jr[node]! * star_ohm.re[node]! - ji[node]! * star_ohm.im[node]!;
    let vi = jr[node]! * star_ohm.im[node]! + ji[node]! * star_ohm.re[node]!;
    for (let p = first[k]!; p < first[k + 1]!; p++) {
      const n = neighbor[p]!;
      vr += weight.re[p]! * volts.re[n]! - weight.im[p]! * volts.im[n]!;
      vi += weight.re[p]! * volts.im[n]! + weight.im[p]! * volts.re[n]!;
    }
    volts.re[node] = vr;
    volts.im[node] = vi;
  }
  return volts;
}
