/**
 * Every fault of every complaint before a dryer that is not ours: hand-written netlists in a circuit simulator and its own table of what
 * is seen, heard and felt (tests/dryer). One world a fault; which complaint, machine and person, and which of the likely answers, is
 * drawn by a seed.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { knowledge } from '../../rules/index.ts';
import { amiss, inWords, led, sample, type Trial, trialsOf } from './referee.ts';
import known from './referee-known.json' with { type: 'json' };
import type { Outcome } from './worlds.ts';

const SEED = 1;
const isKnown = (t: Trial) => known.some(({ fault, complaint }) => t.faults[0] === fault && t.family === complaint);
const worlds: [Trial, Outcome][] = [];

beforeAll(async () => {
  for (const trial of sample(SEED)) worlds.push([trial, await led(trial)]);
});

describe('every fault before the simulated dryer', () => {
  test('the sample has every fault, every complaint, every machine and every person', () => {
    const k = knowledge();
    const of = (what: (t: Trial) => string) => [...new Set(worlds.map(([t]) => what(t)))].sort();
    expect(of((t) => t.faults.join())).toEqual([...k.faults.keys()].sort());
    expect(of((t) => t.family)).toEqual([...k.families.keys()].sort());
    expect(of((t) => t.machine)).toEqual([...k.machines.keys()].sort());
    expect(of((t) => t.audience)).toEqual(['agent', 'homeowner', 'technician']);
  });

  test.each(['wrong part', 'unsafe request', 'missed referral', 'stuck', 'not the right end'])('%s: none', (what) => {
    const bad = worlds.filter(([t, o]) => !isKnown(t) && amiss(t, o).includes(what));
    expect(bad.map(([t, o]) => inWords(t, o))).toEqual([]);
  });

  test('a world known to fail still does, and names no wrong part', async () => {
    for (const { fault, complaint } of known) {
      const trial = trialsOf('technician').find((t) => t.faults[0] === fault && t.family === complaint);
      if (!trial) throw new Error(`no world of ${fault} under ${complaint}`);
      expect([fault, amiss(trial, await led(trial))]).toEqual([fault, ['not the right end']]);
    }
  });
});
