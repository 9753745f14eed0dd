import { describe, expect, test } from 'vitest';
import {
  actions,
  ahead,
  greedy,
  type PlanCheck,
  type PlanWorld,
  put,
  rollout,
  standing,
  startNode,
  words,
} from '../../../rules/engine/plan.ts';
import { fixed, optimum, ours } from '../../bench/optimum.ts';

/** A world from a table: for each check, what each suspect shows. Suspects with equal results cannot be told apart by it. */
function world(
  checks: { id: string; rank?: number; min: number; covers?: number; shuts?: number; shows: number[]; own?: number[] }[],
  weights: number[],
): PlanWorld {
  const n = weights.length;
  return {
    suspects: weights.map((weight, key) => ({ weight, key })),
    checks: checks.map((c): PlanCheck => {
      const survivors: Uint32Array[] = [];
      for (const r of new Set(c.shows)) {
        const set = new Uint32Array(words(n));
        c.shows.forEach((x, s) => {
          if (x === r) put(set, s);
        });
        survivors[r] = set;
      }
      return {
        id: c.id,
        rank: c.rank ?? 4,
        state: -1,
        covers: c.covers ?? 0,
        shuts: c.shuts ?? 0,
        min: c.min,
        shows: Int32Array.from(c.shows),
        survivors,
        confirms: c.shows.map((_, s) => c.own?.includes(s) ?? false),
        after: c.shows.map(() => []),
        repeatable: true,
        alone: c.shows.map(() => false),
        backs: c.shows.map((r) => r !== 0),
      };
    }),
    covers: [10],
    states: [{ to: [0] }],
  };
}

describe('a plan over two suspects', () => {
  const w = world(
    [
      { id: 'own-a', min: 3, shows: [1, 0], own: [0] },
      { id: 'own-b', min: 3, shows: [0, 1], own: [1] },
    ],
    [3, 1],
  );
  test('asks the likelier part first, then reads it again', () => {
    const start = startNode(w);
    expect(standing(w, start)).toBe('split');
    expect(w.checks[rollout(w, start)!.action.check]!.id).toBe('own-a');
  });
  test('the minutes are the sum over the results, worked out by hand', () => {
    // 3 to split; then a (3 of 4): once more, 3; b (1 of 4): its own check 3, then once more 3, for its first reading showed nothing of it.
    expect(ours(w, startNode(w))).toBeCloseTo(3 + (3 / 4) * 3 + (1 / 4) * 6, 9);
    expect(optimum(w, startNode(w))!.min).toBeCloseTo(3 + (3 / 4) * 3 + (1 / 4) * 6, 9);
  });
});

test('a class that can split hides every later one, however quick', () => {
  const w = world(
    [
      { id: 'slow-look', rank: 2, min: 9, shows: [0, 0, 1], own: [2] },
      { id: 'quick-read', rank: 5, min: 1, shows: [0, 1, 2], own: [0, 1, 2] },
    ],
    [1, 1, 1],
  );
  expect(actions(w, startNode(w)).map((a) => w.checks[a.check]!.id)).toEqual(['slow-look']);
});

test('a cover is paid once for everything behind it', () => {
  const w = world(
    [
      { id: 'one', min: 1, covers: 1, shows: [0, 1, 1], own: [0] },
      { id: 'two', min: 1, covers: 1, shows: [1, 0, 1], own: [1] },
      { id: 'three', min: 1, covers: 1, shows: [1, 1, 0], own: [2] },
    ],
    [1, 1, 1],
  );
  // 10 for the cover, once. First part: read twice (12). Second: the first reading backs its own (12). Third: one more than the second (13).
  expect(optimum(w, startNode(w))!.min).toBeCloseTo((12 + 12 + 13) / 3, 9);
});

test('three policies on seeded random worlds: optimum <= ours <= greedy-ish, and fixed never beats the optimum', () => {
  let seed = 7;
  const next = (n: number) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed % n;
  };
  let sumOurs = 0;
  let sumBest = 0;
  for (let i = 0; i < 40; i++) {
    const n = 3 + next(5);
    const checks = Array.from({ length: n }, (_, s) => ({
      id: `own-${s}`,
      min: 1 + next(6),
      covers: next(2),
      shows: Array.from({ length: n }, (_, t): number => (t === s ? 1 : 0)),
      own: [s],
    }));
    for (let c = 0; c < 3; c++)
      checks.push({
        id: `half-${c}`,
        min: 1 + next(6),
        covers: next(2),
        shows: Array.from({ length: n }, () => next(2)),
        own: [],
      });
    const w = world(
      checks,
      Array.from({ length: n }, () => 1 + next(9)),
    );
    const start = startNode(w);
    const best = optimum(w, start)!.min;
    const mine = ours(w, start);
    expect(mine).toBeGreaterThanOrEqual(best - 1e-9);
    expect(fixed(w, start)).toBeGreaterThanOrEqual(best - 1e-9);
    expect(ahead(w, start, greedy).min).toBeGreaterThanOrEqual(best - 1e-9);
    sumOurs += mine;
    sumBest += best;
  }
  expect(sumOurs / sumBest).toBeLessThan(1.03);
});
