/** Plain arithmetic only, in a fixed order: the same rows give the same weights to the byte on every run and runtime. */
export interface Row {
  features: readonly string[];
  /** 1 = yes, 0 = no, between = a careful person would ask. */
  target: number;
  weight: number;
}
export interface Trained {
  bias: number;
  weights: Map<string, number>;
}

/** A pseudo-random order from a seed, in whole numbers. */
function shuffled(n: number, seed: number): number[] {
  const order = Array.from({ length: n }, (_, i) => i);
  let a = seed | 0;
  for (let i = n - 1; i > 0; i--) {
    a = (Math.imul(a, 1664525) + 1013904223) | 0;
    const j = (a >>> 0) % (i + 1);
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}

/** 0.5 at 0, towards 0 and 1 at the ends; no transcendental function, which runtimes may round differently. */
const squash = (x: number): number => 0.5 + x / (2 * (1 + Math.abs(x)));
/** How far one feature alone moves the score at first. */
const STEP = 0.12;

/** A regression on yes and no by stochastic steps; a feature met often takes smaller ones. */
export function train(rows: readonly Row[], { epochs = 8, rate = 0.8, decay = 1e-5 } = {}): Trained {
  const ids = new Map<string, number>();
  const coded = rows.map((r) => ({
    on: Int32Array.from(r.features, (f) => {
      const id = ids.get(f) ?? ids.size;
      ids.set(f, id);
      return id;
    }),
    target: r.target,
    weight: r.weight,
  }));
  const w = new Float64Array(ids.size);
  const g = new Float64Array(ids.size).fill(1);
  let bias = 0;
  let gb = 1;
  for (let e = 0; e < epochs; e++)
    for (const i of shuffled(coded.length, 7 + e)) {
      const { on, target, weight } = coded[i]!;
      let x = bias;
      for (const k of on) x += w[k]! * STEP;
      const step = (squash(x * 2) - target) * weight;
      gb += step * step;
      bias -= (rate * step) / Math.sqrt(gb);
      for (const k of on) {
        const d = step * STEP + decay * w[k]!;
        g[k]! += d * d;
        w[k]! -= (rate * d) / Math.sqrt(g[k]!);
      }
    }
  return { bias, weights: new Map([...ids].map(([f, k]) => [f, w[k]! * STEP])) };
}
