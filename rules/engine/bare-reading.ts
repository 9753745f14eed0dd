import { limit } from '../knowledge/needed-limits.ts';
import { floatingBand_v, floats, type Solved } from '../physics/index.ts';
import type { Circuit, Effect, MachineState, MeterSetting } from '../types.ts';
import type { Model } from './model.ts';
import { type Condition, hasOhms, membersOf, solvedNet } from './solved-nets.ts';

/** What is between two points before supply range, leads and meter are put on: nominal, and from lowest to highest. V, Ω or A. */
export interface Bare {
  centre: number | 'open';
  /** lo > hi: nothing finite can be there. */
  lo: number;
  hi: number;
  /** No path at all can be there as well. */
  open: boolean;
}
/** Where and how a reading is taken. Amps are those in `branch`. */
export interface Probe {
  what: MeterSetting;
  points: readonly [string, string];
  state: MachineState;
  lowImpedance?: boolean;
  lifted?: string;
  branch?: string;
}

/** One quantity under one set of faults on one circuit: nominal, and over the corners of plate and fault and the fault's other members. */
export function bareReading(model: Model, circuit: Circuit, faults: readonly string[], probe: Probe): Bare | 'will-not-run' {
  const [drawn, ...others] = membersOf(model, circuit, faults);
  const nominally = (effects: Effect[]): Condition => ({
    circuit,
    state: probe.state,
    effects,
    times: 1,
    corner: 'nominal',
    lifted: probe.lifted,
  });
  const nominal = solvedNet(model, nominally(drawn));
  const runs = (solved: Solved) => !probe.state.running || solved.runs(limit(model.knowledge, 'motor-least-volts').lo);
  if (!runs(nominal)) return 'will-not-run';
  const all = [show(model, nominal, probe), ...ghosts(model, nominal, probe), ...atCorners(model, nominally(drawn), probe)];
  for (const member of others) {
    // Where a part touches is read dead: with power on, the breaker decides what is left to read.
    if (probe.what !== 'ohms' && member.some((e) => 'touch' in e)) continue;
    if (!probe.state.running || runs(solvedNet(model, nominally(member))))
      all.push(...atCorners(model, nominally(member), probe));
  }
  return spanOf(all);
}

/** The same with plate and parts at either end of their spread, and the fault's own ohms at either end of theirs. */
function atCorners(model: Model, condition: Condition, probe: Probe): (number | 'open')[] {
  const by = limit(model.knowledge, 'fault-ohm-spread');
  const timesOf = hasOhms(condition.effects) ? [by.lo, by.hi] : [1];
  return (['low', 'high'] as const).flatMap((corner) =>
    timesOf.map((times) => show(model, solvedNet(model, { ...condition, corner, times }), probe)),
  );
}

function show({ meter }: Model, solved: Solved, { what, points, lowImpedance, branch }: Probe): number | 'open' {
  if (what === 'amps') return (branch ? solved.amps(branch) : 0) ?? 0;
  if (what === 'volts') return solved.volts(...points, lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm)?.volts ?? 0;
  return solved.ohms(...points, meter.over_range_ohm) ?? 'open';
}

/** A point held by nothing but insulation shows what its neighbours couple into it: anything up to a good part of the line. */
function ghosts({ knowledge, meter }: Model, solved: Solved, { what, points, lowImpedance }: Probe): number[] {
  if (what !== 'volts') return [];
  const input_ohm = lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm;
  const read = solved.volts(...points, input_ohm);
  if (!read || !floats(read.source_ohm, limit(knowledge, 'floating-source').lo)) return [];
  const line_v = 2 * limit(knowledge, 'nominal-supply-leg').lo;
  const { lo, hi } = floatingBand_v(line_v, limit(knowledge, 'stray-coupling').lo, input_ohm);
  return [lo, hi];
}

/** The first of these is the nominal one. */
function spanOf(all: readonly (number | 'open')[]): Bare {
  const finite = all.filter((x): x is number => x !== 'open');
  return {
    centre: all[0]!,
    lo: finite.length ? Math.min(...finite) : Number.POSITIVE_INFINITY,
    hi: finite.length ? Math.max(...finite) : Number.NEGATIVE_INFINITY,
    open: finite.length < all.length,
  };
}
