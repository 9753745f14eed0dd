import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';

/** What whoever knows dryers and meters would state without looking: common practice, said here a second time. */
const k = knowledge();

describe('covers', () => {
  test.each([
    ['terminal', 'pulled-out'],
    ['rear', 'pulled-out'],
    ['front-drum', 'top-front'],
  ])('%s is reached by way of %s, and that costs its minutes', (cover, first) => {
    expect(k.covers.get(cover)?.behind).toBe(first);
    expect(k.covers.get(first)!.open_min).toBeGreaterThan(0);
  });
});

describe.each([...k.meters.values()].map((meter) => [meter.id, meter] as const))('%s', (_, { ohms }) => {
  test('has nearly as many digits on every range of ohms', () => {
    const counts = ohms.map(({ upTo, resolution }) => upTo / resolution);
    // The highest range may end early; a digit is ten times as many counts.
    for (const count of counts) expect(count / Math.max(...counts)).toBeGreaterThan(0.5);
  });
});

test('no two lines of one list tell the same', () => {
  for (const check of k.checks.values()) {
    const lines = Object.entries(check.choices ?? {}).filter(([line]) => line !== 'none');
    const told = lines.map(([, facts]) => JSON.stringify(Object.entries(facts).sort()));
    const twice = lines.filter((_, i) => told.indexOf(told[i]!) !== i).map(([line]) => line);
    expect(twice, check.id).toEqual([]);
  }
});

test.each([
  [
    'low-heat-long-dry',
    'timed_or_automatic',
    'only-automatic',
    'shuts-off-early',
    'dry on time, damp on automatic: it ends too soon',
  ],
  ['no-heat', 'clothes_at_end', 'hot-and-damp', 'low-heat-long-dry', 'hot clothes were heated'],
  ['shuts-off-early', 'trip_when', 'after-10-40-min', 'trips-breaker', 'the breaker ends it'],
])('under %s, %s %s is a matter of %s: %s', (family, fact, is, to) => {
  const own = k.families.get(family)!.crossovers.filter((c) => c.fact === fact);
  expect(own.find((c) => c.to === to)).toEqual({ fact, is, to });
});

test.each([['clean-bars', 'proof-auto-ends', 'the bars end an automatic cycle and no other']])(
  '%s is proved by %s: %s',
  (repair, proof) => {
    expect(k.repairs.get(repair)?.proofs).toContain(proof);
  },
);
