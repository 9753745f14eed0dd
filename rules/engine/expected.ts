import type { Check, Circuit, Expected, Measured, MeterSetting, Prepared } from '../types.ts';
import { type Bare, bareReading, type Probe } from './bare-reading.ts';
import { forMachine } from './case.ts';
import { fitsCircuit } from './fits.ts';
import { circuitsWith, type Model, nameOf, remembered } from './model.ts';
import { rounded, shownBand } from './shown-band.ts';
import { pointsOn } from './variants.ts';

const EXPECTED_KEPT = 50_000;
const BETWEEN_KEPT = 20_000;

/** What a check should show under a set of faults, on every circuit it is read on and those faults fit. See Prepared.expected. */
export function expectedOf(
  model: Model,
  checkId: string,
  faults: readonly string[],
  scale?: number,
): (Expected[] | 'will-not-run')[] {
  const key = `${checkId}|${faults.join('+')}|${scale ?? '-'}`;
  return remembered(model.had.expected, EXPECTED_KEPT, key, () => {
    const check = model.knowledge.checks.get(checkId);
    if (!check?.measure) return frozen([]);
    const circuits = circuitsWith(model, faults).filter((c) => fitsCircuit(check, c.attributes));
    return frozen(circuits.map((c) => onCircuit(model, c, check, faults, scale)));
  });
}
const frozen = <T>(list: T[]): T[] => Object.freeze(list) as T[];

function onCircuit(
  model: Model,
  circuit: Circuit,
  check: Check,
  faults: readonly string[],
  scale: number | undefined,
): Expected[] | 'will-not-run' {
  const { what, reads: everywhere } = check.measure!;
  const reads = everywhere.filter((r) => pointsOn(circuit, r.points));
  const key = `${check.id}|${nameOf(circuit)}|${faults.join('+')}`;
  const bare = remembered(model.had.ofCheck, Number.POSITIVE_INFINITY, key, () => bareOf(model, circuit, check, reads, faults));
  return bare === 'will-not-run' ? bare : bare.map((b, i) => asExpected(model, reads[i]!.fact, b, what, scale));
}

/** All that one visit of a check reads, in its order. A motor that does not turn gives none of it. */
function bareOf(
  model: Model,
  circuit: Circuit,
  check: Check,
  reads: readonly Measured[],
  faults: readonly string[],
): Bare[] | 'will-not-run' {
  const out: Bare[] = [];
  for (const read of reads) {
    const one = bareReading(model, circuit, faults, probeOf(model, circuit, check, read));
    if (one === 'will-not-run') return one;
    out.push(one);
  }
  return out;
}

function probeOf({ knowledge }: Model, circuit: Circuit, check: Check, read: Measured): Probe {
  const { what, lowImpedance, lift } = check.measure!;
  const lifted = forMachine(lift, circuit.id);
  const branch = forMachine(read.branch, circuit.id);
  return {
    what,
    points: pointsOn(circuit, read.points)!,
    state: knowledge.states.get(check.state)!,
    lowImpedance,
    ...(lifted && { lifted }),
    ...(branch && { branch }),
  };
}

/** What any two points in any state should show. See Prepared.between. */
export function expectedBetween(
  model: Model,
  what: MeterSetting,
  points: readonly [string, string],
  stateId: string,
  faults: readonly string[],
  how: NonNullable<Parameters<Prepared['between']>[4]> = {},
): ReturnType<Prepared['between']> {
  const state = model.knowledge.states.get(stateId);
  if (!state) return [];
  const { machine, anyTemperature, scale, ...rest } = how;
  const probe: Probe = { what, points, state, ...rest };
  return circuitsWith(model, faults)
    .filter((c) => machine === undefined || nameOf(c) === machine)
    .map((c) => {
      if (!points.every((id) => hasPoint(model, c, id))) return 'not-here';
      const bare = bareBetween(model, anyTemperature ? model.inAnyRoom.get(c)! : c, faults, probe);
      return bare === 'will-not-run' ? bare : asExpected(model, '', bare, what, scale);
    });
}

function bareBetween(model: Model, circuit: Circuit, faults: readonly string[], probe: Probe): Bare | 'will-not-run' {
  const { what, points, state, lowImpedance, lifted, branch } = probe;
  const key = `${nameOf(circuit)}|${what}|${points}|${state.id}|${faults.join('+')}|${lowImpedance ?? ''}|${lifted ?? ''}|${branch ?? ''}`;
  return remembered(model.had.between, BETWEEN_KEPT, key, () => bareReading(model, circuit, faults, probe));
}

const hasPoint = ({ knowledge }: Model, circuit: Circuit, id: string): boolean =>
  circuit.nodes.some((n) => n.id === id) || knowledge.supply.nodes.some((n) => n.id === id);

const asExpected = (model: Model, fact: string, bare: Bare, what: MeterSetting, scale: number | undefined): Expected => ({
  fact,
  centre: typeof bare.centre === 'number' ? rounded(bare.centre) : bare.centre,
  band: shownBand(model, bare, what, scale),
});
