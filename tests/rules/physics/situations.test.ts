import { describe, expect, test } from 'vitest';
import { buildNet, solve } from '../../../rules/physics/index.ts';
import type { Effect } from '../../../rules/types.ts';
import file from '../../data/circuit-situations.json' with { type: 'json' };
import { MACHINES, METERS, STATES, SUPPLY } from './knowledge.ts';

interface Row {
  what: 'volts' | 'ohms' | 'amps' | 'watts';
  points?: [string, string];
  branches?: string[];
  lowImpedance?: boolean;
  open?: boolean;
  below?: number;
  expected?: number;
  tolerance?: number;
}
interface Situation {
  id: string;
  machine: string;
  state: string;
  what: string;
  hookup?: 'three-wire' | 'four-wire';
  system?: string;
  effects?: Effect[];
  lifts?: string[];
  readings: Row[];
}
const situations = file.situations as unknown as Situation[];
const meter = METERS.get('meter-4000-count')!;

test('all 52 situations are there', () => {
  expect(situations).toHaveLength(52);
  expect(situations.flatMap((s) => s.readings).length).toBeGreaterThan(110);
});

describe.each(situations)('$id $what', (s) => {
  const solved = solve(
    buildNet(SUPPLY, MACHINES.get(s.machine)!, STATES.get(s.state)!, {
      ...(s.hookup && { hookup: s.hookup }),
      ...(s.system && { system: s.system }),
      ...(s.lifts && { lifts: s.lifts }),
      effects: s.effects ?? [],
    }),
  );
  const shown = ({ what, points, branches, lowImpedance }: Row): number | 'open' | undefined => {
    if (what === 'volts')
      return solved.volts(points![0], points![1], lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm)?.volts;
    if (what === 'ohms') return solved.ohms(points![0], points![1], meter.over_range_ohm);
    return branches!.reduce((sum, b) => sum + (what === 'amps' ? solved.amps(b)! : solved.watts(b)!), 0);
  };
  test.each(s.readings)('$what $points $branches', (r) => {
    const is = shown(r);
    if (r.open) return expect(is).toBe('open');
    expect(is).toBeTypeOf('number');
    if (r.below !== undefined) return expect(is).toBeLessThan(r.below);
    expect(is).toBeGreaterThanOrEqual(r.expected! - r.tolerance!);
    expect(is).toBeLessThanOrEqual(r.expected! + r.tolerance!);
  });
});
