import { existsSync } from 'node:fs';
import { expect, test } from 'vitest';
import { HAND_FAULTS, outdated } from './by-hand/faults.ts';
import { tryFaults } from './by-hand/try-faults.ts';

/** So many of them are put in with every run; `npm run hand-faults` tries all. */
const SAMPLE = 2;
const SEED = 20261130;

test('every fault put in by hand still has its place, and none stands twice', () => {
  expect(outdated()).toEqual([]);
  expect(HAND_FAULTS.length).toBeGreaterThanOrEqual(50);
  expect(new Set(HAND_FAULTS.map((f) => f.id)).size).toBe(HAND_FAULTS.length);
});

test('of those that a quick test caught before, the ones of this seed are caught again', async () => {
  const known = HAND_FAULTS.filter((f) => f.caughtBy?.startsWith('tests/rules/') && existsSync(f.caughtBy));
  const picked = Array.from({ length: SAMPLE }, (_, i) => known[(SEED * (i + 1)) % known.length]!);
  const tried = await tryFaults(picked, () => {}, 'known');
  expect(tried.filter((t) => t.by === undefined).map((t) => t.fault.id)).toEqual([]);
});
