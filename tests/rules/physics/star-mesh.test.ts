import fc from 'fast-check';
import { add, type Complex, complex, lusolve, type Matrix } from 'mathjs';
import { expect, test } from 'vitest';
import { complexes, eliminate, inject, patternOf, spread } from '../../../rules/physics/star-mesh.ts';

interface Edge {
  a: number;
  b: number;
  re_ohm: number;
  im_ohm: number;
}
const ohm = fc.double({ min: -3, max: 4, noNaN: true }).map((e) => 10 ** e);
/** Random nets: `nodes` counts free nodes; then two sources; -1 is the reference. Every free node hangs on an earlier one. */
const nets = fc.integer({ min: 2, max: 14 }).chain((free) =>
  fc.record({
    free: fc.constant(free),
    tree: fc.array(fc.record({ to: fc.nat(), re_ohm: ohm, im_ohm: fc.oneof(fc.constant(0), ohm) }), {
      minLength: free,
      maxLength: free,
    }),
    more: fc.array(fc.record({ a: fc.nat(), b: fc.nat(), re_ohm: ohm, im_ohm: fc.oneof(fc.constant(0), ohm) }), {
      maxLength: 2 * free,
    }),
  }),
);
type Drawn = typeof nets extends fc.Arbitrary<infer T> ? T : never;

function edgesOf({ free, tree, more }: Drawn): Edge[] {
  const ends = free + 3;
  const at = (i: number) => (i % ends) - 1;
  return [
    // The reference, a source, or an earlier node: so nothing is left hanging.
    ...tree.map(({ to, ...z }, i) => ({
      a: i,
      b: [-1, free, free + 1, ...Array.from({ length: i }, (_, k) => k)][to % (i + 3)]!,
      ...z,
    })),
    ...more.map(({ a, b, ...z }) => ({ a: at(a), b: at(b), ...z })),
  ].filter((e) => e.a !== e.b);
}
const LEAK_S = 1e-10;
const admittance = ({ re_ohm, im_ohm }: Edge): [number, number] => {
  const size = re_ohm ** 2 + im_ohm ** 2;
  return [re_ohm / size, -im_ohm / size];
};
function eliminated(free: number, edges: Edge[]) {
  const nodes = free + 2;
  const pattern = patternOf(
    nodes,
    2,
    edges.filter((e) => e.a >= 0 && e.b >= 0).map((e): [number, number] => [e.a, e.b]),
  );
  const between = complexes(pattern.slots);
  const reference = complexes(nodes);
  for (let i = 0; i < nodes; i++) reference[2 * i] = LEAK_S;
  for (const e of edges) {
    const [re, im] = admittance(e);
    const [into, at] = e.a < 0 || e.b < 0 ? [reference, Math.max(e.a, e.b)] : [between, pattern.slotOf[e.a * nodes + e.b]!];
    into[2 * at] = into[2 * at]! + re;
    into[2 * at + 1] = into[2 * at + 1]! + im;
  }
  return eliminate(pattern, between, reference);
}
/** The textbook way: the whole matrix of the free nodes, solved by a library. */
function byMatrix(free: number, edges: Edge[], sources: [number, number][], amps: number[]): Complex[] {
  const zero = () => complex(0, 0);
  const matrix = Array.from({ length: free }, () => Array.from({ length: free }, zero));
  const right = amps.slice(0, free).map((a) => complex(a, 0));
  for (let i = 0; i < free; i++) matrix[i]![i] = complex(LEAK_S, 0);
  for (const e of edges) {
    const [re, im] = admittance(e);
    for (const [from, to] of [
      [e.a, e.b],
      [e.b, e.a],
    ] as const) {
      if (from < 0 || from >= free) continue;
      matrix[from]![from] = add(matrix[from]![from]!, complex(re, im));
      if (to >= free) {
        const [vr, vi] = sources[to - free]!;
        right[from] = add(right[from]!, complex(re * vr - im * vi, re * vi + im * vr));
      } else if (to >= 0) matrix[from]![to] = add(matrix[from]![to]!, complex(-re, -im));
    }
  }
  const solved = lusolve(matrix as unknown as Matrix, right as unknown as Matrix) as unknown as (Complex | number)[][];
  return solved.map(([v]) => (typeof v === 'number' ? complex(v, 0) : v!));
}
const close = (ours: Float64Array, theirs: Complex[]) => {
  const scale = Math.max(1, ...theirs.map((v) => Math.hypot(v.re, v.im)));
  for (const [i, v] of theirs.entries())
    expect(Math.hypot(ours[2 * i]! - v.re, ours[2 * i + 1]! - v.im) / scale).toBeLessThan(1e-7);
};

test('volts from the sources are those of a full matrix solved by a library', () => {
  fc.assert(
    fc.property(nets, (drawn) => {
      const edges = edgesOf(drawn);
      const volts = complexes(drawn.free + 2);
      volts.set([120, 0, -60, 104], 2 * drawn.free);
      const sources: [number, number][] = [
        [120, 0],
        [-60, 104],
      ];
      close(spread(eliminated(drawn.free, edges), volts), byMatrix(drawn.free, edges, sources, new Array(drawn.free).fill(0)));
    }),
    { numRuns: 300, seed: 7 },
  );
});

test('volts from currents put in are those of a full matrix, and the sources stay at 0 V', () => {
  fc.assert(
    fc.property(nets, fc.nat(), (drawn, at) => {
      const edges = edgesOf(drawn);
      const amps = new Array<number>(drawn.free).fill(0);
      amps[at % drawn.free] = 1;
      const values = complexes(drawn.free + 2);
      values[2 * (at % drawn.free)] = 1;
      const volts = inject(eliminated(drawn.free, edges), values);
      const nothing: [number, number][] = [
        [0, 0],
        [0, 0],
      ];
      close(volts, byMatrix(drawn.free, edges, nothing, amps));
      expect([...volts.slice(2 * drawn.free)]).toEqual([0, 0, 0, 0]);
    }),
    { numRuns: 300, seed: 11 },
  );
});

test('a 4 mΩ lead beside a 10 GΩ leak keeps every digit: nothing cancels', () => {
  // 120 V through a chain of 30 leads into nothing but leaks: the exact drop is a sum one can write down.
  const free = 30;
  const edges = Array.from({ length: free }, (_, i): Edge => ({ a: i, b: i ? i - 1 : free, re_ohm: 0.004, im_ohm: 0 }));
  const volts = complexes(free + 2);
  volts[2 * free] = 120;
  const solved = spread(eliminated(free, edges), volts);
  const drop = 120 - solved[2 * (free - 1)]!;
  const expected = (120 * LEAK_S * 0.004 * (free * (free + 1))) / 2;
  expect(Math.abs(drop - expected)).toBeLessThan(1e-12);
});
