import { expect, test } from 'vitest';
import { FILES } from '../../rules/knowledge/files.ts';
import { loadKnowledge } from '../../rules/knowledge/load.ts';
import danger from '../data/expected-stops.json' with { type: 'json' };
import { holdHandFiles } from '../hand/problems.ts';
import { KIND_COUNT, mutants } from './mutants.ts';
import { caughtBy, unmetNow } from './suite.ts';

holdHandFiles(loadKnowledge(FILES));

/** Processor time of some work, in microseconds: other work may run beside it, and a slow machine is slow at all of it. */
async function processor(work: () => Promise<unknown>): Promise<number> {
  const from = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(from);
  return user + system;
}
const COUNT = 50;
const SEED = 1;

test('the knowledge as it stands meets every expectation stated outside it', async () => {
  expect(await unmetNow()).toEqual([]);
});

test('of fifty faults put into copies of the knowledge at least forty-eight are caught, in half of what fifty times all would take', async () => {
  const all = mutants(COUNT, SEED);
  const survived: string[] = [];
  const whole = await processor(unmetNow);
  const taken = await processor(async () => {
    for (const m of all) if (!(await caughtBy(m.parts))) survived.push(`${m.kind}: ${m.what}`);
  });
  expect(COUNT - survived.length, survived.join('\n')).toBeGreaterThanOrEqual(48);
  // Only what reads the changed file is asked again: about ten times all were seen.
  expect(taken / whole).toBeLessThan(COUNT / 2);
});

test('the faults are of every kind, no two alike, and the same each time', () => {
  const all = mutants(COUNT, SEED);
  expect(new Set(all.map((m) => m.kind)).size).toBe(KIND_COUNT);
  expect(new Set(all.map((m) => m.what)).size).toBe(COUNT);
  expect(mutants(COUNT, SEED).map((m) => m.what)).toEqual(all.map((m) => m.what));
  expect(mutants(COUNT, SEED + 1).map((m) => m.what)).not.toEqual(all.map((m) => m.what));
});

test('a fault changes its copy and nothing else', () => {
  const { version } = loadKnowledge(FILES);
  for (const m of mutants(COUNT, SEED)) {
    const changed = Object.keys(FILES).filter((f) => JSON.stringify(m.parts[f]) !== JSON.stringify(FILES[f]));
    expect(changed.length, m.what).toBeGreaterThan(0);
    expect(changed.length, m.what).toBeLessThanOrEqual(2);
  }
  expect(loadKnowledge(FILES).version).toBe(version);
});

test('nothing speaks against a copy without a fault', async () => {
  expect(await caughtBy(structuredClone(FILES) as Record<string, unknown>)).toBeUndefined();
});

test('every stop of the knowledge is one the list of dangers states', () => {
  expect([...loadKnowledge(FILES).stops.keys()].sort()).toEqual(danger.stops.map((s) => s.id).sort());
});
