/** One slip in a case: a single reading or answer is wrong. The dryer is the circuit simulator's (tests/dryer); a seeded sample of places and slips. */
import { describe, expect, test } from 'vitest';
import { dryerFor, everyWorld } from '../bench/every-world.ts';
import { type Slipped, slipped } from '../bench/slips.ts';

async function sample(audience: 'technician' | 'homeowner' | 'agent', worlds: number, every: number): Promise<Slipped[]> {
  const out: Slipped[] = [];
  const all = everyWorld('no-heat', audience);
  for (const [i, w] of all.entries())
    if (i % Math.ceil(all.length / worlds) === 0)
      out.push(...(await slipped(w, () => dryerFor(w), undefined, { every, from: i })).runs);
  return out;
}
const told = (r: Slipped) => `${r.outcome.world.machine} ${r.outcome.world.faults}: ${r.slip} at ${r.at}`;

describe('one slip', () => {
  test('a technician is still led to the right end, and no part is condemned for it', async () => {
    const runs = await sample('technician', 10, 9);
    expect(runs.length).toBeGreaterThan(10);
    expect(runs.filter((r) => r.outcome.wrongPart || r.outcome.unsafeAsk || r.outcome.stuck).map(told)).toEqual([]);
    expect(
      runs.filter((r) => r.outcome.right).length / runs.length,
      runs
        .filter((r) => !r.outcome.right)
        .map(told)
        .join(),
    ).toBeGreaterThanOrEqual(0.97);
  });
  test.each(['homeowner', 'agent'] as const)('a %s is still told the right trade', async (audience) => {
    const runs = await sample(audience, 24, 2);
    expect(runs.length).toBeGreaterThan(20);
    expect(runs.filter((r) => r.outcome.unsafeAsk || r.outcome.stuck).map(told)).toEqual([]);
    expect(
      runs.filter((r) => r.outcome.right).length / runs.length,
      runs
        .filter((r) => !r.outcome.right)
        .map(told)
        .join(),
    ).toBeGreaterThanOrEqual(0.96);
  });
});
