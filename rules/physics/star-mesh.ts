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

/** Complex numbers one after the other: real part of i at 2i, imaginary part at 2i + 1. */
export type Complexes = Float64Array;
export const complexes = (length: number): Complexes => new Float64Array(2 * length);

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
  const g = between_s;
  const r = toReference_s;
  const w = complexes(neighbor.length);
  const star_ohm = complexes(pattern.nodes);
  let m = 0;
  for (let k = 0; k < order.length; k++) {
    const node = 2 * order[k]!;
    const from = first[k]!;
    const to = first[k + 1]!;
    const ownR = r[node]!;
    const ownI = r[node + 1]!;
    let sumR = ownR;
    let sumI = ownI;
    for (let p = from; p < to; p++) {
      const s = 2 * neighborSlot[p]!;
      sumR += g[s]!;
      sumI += g[s + 1]!;
    }
    const size = sumR * sumR + sumI * sumI;
    const zr = sumR / size;
    const zi = -sumI / size;
    star_ohm[node] = zr;
    star_ohm[node + 1] = zi;
    for (let p = from; p < to; p++) {
      const s = 2 * neighborSlot[p]!;
      const xr = g[s]! * zr - g[s + 1]! * zi;
      const xi = g[s]! * zi + g[s + 1]! * zr;
      w[2 * p] = xr;
      w[2 * p + 1] = xi;
      const n = 2 * neighbor[p]!;
      r[n] = r[n]! + xr * ownR - xi * ownI;
      r[n + 1] = r[n + 1]! + xr * ownI + xi * ownR;
    }
    for (let p = from; p < to; p++) {
      const xr = w[2 * p]!;
      const xi = w[2 * p + 1]!;
      for (let q = p + 1; q < to; q++) {
        const target = 2 * mesh[m++]!;
        if (target < 0) continue;
        const s = 2 * neighborSlot[q]!;
        g[target] = g[target]! + xr * g[s]! - xi * g[s + 1]!;
        g[target + 1] = g[target + 1]! + xr * g[s + 1]! + xi * g[s]!;
      }
    }
  }
  return { pattern, weight: w, star_ohm };
}

/** Volts of every node, given those of the sources (already in `volts`) and no current put in. Fills and returns `volts`. */
export function spread({ pattern, weight: w }: Eliminated, volts: Complexes): Complexes {
  const { order, first, neighbor } = pattern;
  for (let k = order.length - 1; k >= 0; k--) {
    let vr = 0;
    let vi = 0;
    const to = first[k + 1]!;
    for (let p = first[k]!; p < to; p++) {
      const n = 2 * neighbor[p]!;
      vr += w[2 * p]! * volts[n]! - w[2 * p + 1]! * volts[n + 1]!;
      vi += w[2 * p]! * volts[n + 1]! + w[2 * p + 1]! * volts[n]!;
    }
    const node = 2 * order[k]!;
    volts[node] = vr;
    volts[node + 1] = vi;
  }
  return volts;
}

/**
 * Volts of every node with the sources at 0 V and the amps put into each node (back through the reference).
 * `values` comes in as amps and goes out as volts; those of the sources must come in as 0.
 */
export function inject({ pattern, weight: w, star_ohm }: Eliminated, values: Complexes): Complexes {
  const { order, first, neighbor, nodes, fixed } = pattern;
  const j = values;
  for (let k = 0; k < order.length; k++) {
    const node = 2 * order[k]!;
    const ar = j[node]!;
    const ai = j[node + 1]!;
    if (ar === 0 && ai === 0) continue;
    const to = first[k + 1]!;
    for (let p = first[k]!; p < to; p++) {
      const n = 2 * neighbor[p]!;
      j[n] = j[n]! + w[2 * p]! * ar - w[2 * p + 1]! * ai;
      j[n + 1] = j[n + 1]! + w[2 * p]! * ai + w[2 * p + 1]! * ar;
    }
  }
  // What ran into a source is gone: a source stands at 0 V here.
  j.fill(0, 2 * (nodes - fixed));
  for (let k = order.length - 1; k >= 0; k--) {
    const node = 2 * order[k]!;
    let vr = j[node]! * star_ohm[node]! - j[node + 1]! * star_ohm[node + 1]!;
    let vi = j[node]! * star_ohm[node + 1]! + j[node + 1]! * star_ohm[node]!;
    const to = first[k + 1]!;
    for (let p = first[k]!; p < to; p++) {
      const n = 2 * neighbor[p]!;
      vr += w[2 * p]! * j[n]! - w[2 * p + 1]! * j[n + 1]!;
      vi += w[2 * p]! * j[n + 1]! + w[2 * p + 1]! * j[n]!;
    }
    j[node] = vr;
    j[node + 1] = vi;
  }
  return j;
}
