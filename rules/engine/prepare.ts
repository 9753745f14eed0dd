import { limit } from '../knowledge/needed-limits.ts';
import { buildNet, floatingBand_v, floats, type Solved, solve as solveNet, takesHold } from '../physics/index.ts';
import type {
  Band,
  Check,
  Circuit,
  Effect,
  Expected,
  Knowledge,
  MachineInHand,
  MachineState,
  Measured,
  Meter,
  Prepared,
  Unit,
} from '../types.ts';
import { forMachine } from './case.ts';
import { fitsCircuit } from './fits.ts';
import { atTemperature, sensorLimits } from './temperature.ts';
import { drawn, pointsOn } from './variants.ts';

/** One reading before supply range, leads and meter are put on. */
interface Raw {
  centre: number | 'open';
  lo: number;
  hi: number;
  open: boolean;
}
type What = 'volts' | 'ohms' | 'amps';
interface How {
  lowImpedance?: boolean;
  lifted?: string;
  branch?: string;
}
const UNIT: Record<What, Unit> = { volts: 'V', ohms: 'Ω', amps: 'A' };
type Corner = 'low' | 'nominal' | 'high';

/**
 * Everything a check would show on this machine, computed from circuit, plate, supply and meter, never typed in.
 * Solves on demand and keeps what it solved; the same machine always gives the same numbers. Pure: callers may keep it.
 */
export function prepare(k: Knowledge, machine: MachineInHand): Prepared {
  const sensors = sensorLimits(k);
  const circuits = drawn(k, machine).map((c) => atTemperature(c, machine.temperatures, sensors, false));
  const anyRoom = new Map(drawn(k, machine).map((c, i) => [circuits[i]!, atTemperature(c, undefined, sensors, true)]));
  const meter = k.meters.get(machine.meter) ?? [...k.meters.values()][0]!;
  const hookup = machine.hookup === 'unknown' ? 'four-wire' : machine.hookup;
  const solved = new Map<string, Solved>();
  const raws = new Map<string, Raw[] | 'will-not-run'>();
  const expectedKept = new Map<string, (Expected[] | 'will-not-run')[]>();
  const motorLeast = limit(k, 'motor-least-volts').lo;

  const fitting = (faults: readonly string[]) =>
    circuits.filter((c) => faults.every((f) => fitsCircuit(k.faults.get(f) ?? { fits: ['-'] }, c.attributes)));
  const spread = (effects: readonly Effect[], times: number): Effect[] =>
    effects.map((e) => {
      if ('branch' in e && typeof e.ohm === 'number') return { branch: e.branch, ohm: e.ohm * times };
      if ('add' in e) return { add: [e.add[0], e.add[1], e.add[2] * times] };
      if ('touch' in e) return { touch: [e.touch[0], e.touch[1], e.touch[2], e.touch[3] * times] };
      return e;
    });
  /** All that these faults may come to on a circuit: as drawn first, then every other member of each of them. */
  function comeTo(c: Circuit, faults: readonly string[]): Effect[][] {
    const all = faults.map((f) => k.faults.get(f)).filter((f) => f !== undefined);
    const out = [all.flatMap((f) => f.effects)];
    for (const f of all)
      for (const member of f.members ?? [])
        if (member.some((e) => takesHold(k.supply, c, e))) out.push(all.flatMap((x) => (x === f ? member : x.effects)));
    return out;
  }
  const coils = new Map([...circuits, ...anyRoom.values()].map((c) => [nameOf(c), coilCorners(k, c, machine.plate)]));

  function solve(c: Circuit, state: MachineState, as: readonly Effect[], corner: Corner, times: number, lifted?: string): Solved {
    const effects = spread(as, times);
    const key = `${nameOf(c)}|${state.id}|${JSON.stringify(effects)}|${corner}|${lifted ?? ''}`;
    const had = solved.get(key);
    if (had) return had;
    const made = solveNet(
      buildNet(k.supply, c, state, {
        hookup,
        system: machine.system,
        coil: coils.get(nameOf(c))![corner],
        effects,
        parts: corner,
        lifts: lifted ? [lifted] : [],
      }),
    );
    // A solved net is several kB; readings are kept apart.
    if (solved.size > 2_000) solved.clear();
    solved.set(key, made);
    return made;
  }

  const resistive = (effects: readonly Effect[]) =>
    effects.some((e) => ('branch' in e && typeof e.ohm === 'number') || 'add' in e || 'touch' in e);

  /** One quantity under one set of faults on one circuit: nominal, and over the corners of plate and fault and the fault's other members. */
  function raw(
    c: Circuit,
    what: What,
    points: readonly [string, string],
    state: MachineState,
    faults: readonly string[],
    how: How,
  ): Raw | 'will-not-run' {
    const [drawn, ...others] = comeTo(c, faults) as [Effect[], ...Effect[][]];
    const nominal = solve(c, state, drawn, 'nominal', 1, how.lifted);
    if (state.running && !nominal.runs(motorLeast)) return 'will-not-run';
    const all = [show(nominal, what, points, how)];
    if (what === 'volts') all.push(...ghosts(nominal, points, how));
    for (const as of [drawn, ...others]) {
      // Where a part touches is read dead: with power on, the breaker decides what is left to read.
      if (as !== drawn && what !== 'ohms' && as.some((e) => 'touch' in e)) continue;
      if (as !== drawn && state.running && !solve(c, state, as, 'nominal', 1, how.lifted).runs(motorLeast)) continue;
      const by = limit(k, 'fault-ohm-spread');
      for (const corner of ['low', 'high'] as const)
        for (const t of resistive(as) ? [by.lo, by.hi] : [1])
          all.push(show(solve(c, state, as, corner, t, how.lifted), what, points, how));
    }
    const finite = all.filter((x): x is number => x !== 'open');
    return {
      centre: all[0]!,
      lo: finite.length ? Math.min(...finite) : Number.POSITIVE_INFINITY,
      hi: finite.length ? Math.max(...finite) : Number.NEGATIVE_INFINITY,
      open: finite.length < all.length,
    };
  }

  function show(s: Solved, what: What, points: readonly [string, string], how: How): number | 'open' {
    if (what === 'amps') return (how.branch ? s.amps(how.branch) : 0) ?? 0;
    if (what === 'volts')
      return s.volts(points[0], points[1], how.lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm)?.volts ?? 0;
    return s.ohms(points[0], points[1], meter.over_range_ohm) ?? 'open';
  }

  // A point held by nothing but insulation shows what its neighbours couple into it: anything up to a good part of the line.
  function ghosts(s: Solved, points: readonly [string, string], how: How): number[] {
    const input_ohm = how.lowImpedance ? meter.lowImpedance_ohm : meter.input_ohm;
    const read = s.volts(points[0], points[1], input_ohm);
    if (!read || !floats(read.source_ohm, limit(k, 'floating-source').lo)) return [];
    const { lo, hi } = floatingBand_v(2 * limit(k, 'nominal-supply-leg').lo, limit(k, 'stray-coupling').lo, input_ohm);
    return [lo, hi];
  }

  function band(r: Raw, what: What, scale: number | undefined): Band {
    const unit = UNIT[what];
    if (r.lo > r.hi) return { lo: Number.POSITIVE_INFINITY, hi: Number.NEGATIVE_INFINITY, unit, open: true, from: ['meter'] };
    let { lo, hi } = r;
    const from = ['plate', 'meter'];
    if (what === 'ohms') {
      const leads = machine.leads_ohm === undefined ? meter.leads_ohm : { lo: 0, hi: 0.1 };
      hi += leads.hi;
    } else {
      const range = limit(k, 'service-leg-a');
      const nominal = limit(k, 'nominal-supply-leg').lo;
      const drift = limit(k, 'supply-fluctuation').lo;
      lo *= scale === undefined ? range.lo / nominal : scale * (1 - drift);
      hi *= scale === undefined ? range.hi / nominal : scale * (1 + drift);
      from.push(scale === undefined ? 'supply' : 'supply-measured');
    }
    lo = Math.max(0, lo - slack(meter, what, lo));
    hi += slack(meter, what, hi);
    const out: Band = { lo: sig(lo), hi: sig(hi), unit, from };
    if (r.open || hi > meter.over_range_ohm) out.open = true;
    return out;
  }

  function expected(checkId: string, faults: readonly string[], scale?: number): (Expected[] | 'will-not-run')[] {
    const key = `${checkId}|${faults.join('+')}|${scale ?? '-'}`;
    const had = expectedKept.get(key);
    if (had) return had;
    const check = k.checks.get(checkId);
    const out = check?.measure
      ? fitting(faults)
          .filter((c) => fitsCircuit(check, c.attributes))
          .map((c) => onCircuit(c, check, faults, scale))
      : [];
    const frozen = Object.freeze(out) as (Expected[] | 'will-not-run')[];
    if (expectedKept.size > 50_000) expectedKept.clear();
    expectedKept.set(key, frozen);
    return frozen;
  }

  function onCircuit(
    c: Circuit,
    check: Check,
    faults: readonly string[],
    scale: number | undefined,
  ): Expected[] | 'will-not-run' {
    const m = check.measure!;
    const id = `${check.id}|${nameOf(c)}|${faults.join('+')}`;
    const reads = m.reads.filter((r) => pointsOn(c, r.points));
    let list = raws.get(id);
    if (!list) {
      list = rawsOf(c, check, reads, faults);
      raws.set(id, list);
    }
    if (list === 'will-not-run') return list;
    return list.map((r, i) => ({
      fact: reads[i]!.fact,
      centre: typeof r.centre === 'number' ? sig(r.centre) : r.centre,
      band: band(r, m.what, scale),
    }));
  }

  function rawsOf(c: Circuit, check: Check, reads: readonly Measured[], faults: readonly string[]): Raw[] | 'will-not-run' {
    const m = check.measure!;
    const state = k.states.get(check.state)!;
    const out: Raw[] = [];
    for (const r of reads) {
      const how: How = { lowImpedance: m.lowImpedance };
      const lifted = forMachine(m.lift, c.id);
      if (lifted) how.lifted = lifted;
      const branch = forMachine(r.branch, c.id);
      if (branch) how.branch = branch;
      const one = raw(c, m.what, pointsOn(c, r.points)!, state, faults, how);
      if (one === 'will-not-run') return one;
      out.push(one);
    }
    return out;
  }

  const loose = new Map<string, Raw | 'will-not-run'>();
  function kept(
    c: Circuit,
    what: What,
    points: readonly [string, string],
    state: MachineState,
    faults: readonly string[],
    how: How,
  ) {
    const key = `${nameOf(c)}|${what}|${points}|${state.id}|${faults.join('+')}|${how.lowImpedance ?? ''}|${how.lifted ?? ''}|${how.branch ?? ''}`;
    const one = loose.get(key) ?? raw(c, what, points, state, faults, how);
    if (loose.size > 20_000) loose.clear();
    loose.set(key, one);
    return one;
  }

  return Object.freeze({
    knowledge: k,
    machine,
    circuits,
    expected,
    between(what, points, stateId, faults, how = {}) {
      const state = k.states.get(stateId);
      if (!state) return [];
      return fitting(faults)
        .filter((c) => how.machine === undefined || nameOf(c) === how.machine)
        .map((c) => {
          if (
            ![...c.nodes, ...k.supply.nodes].some((n) => n.id === points[0]) ||
            ![...c.nodes, ...k.supply.nodes].some((n) => n.id === points[1])
          )
            return 'not-here' as const;
          const one = kept(how.anyTemperature ? anyRoom.get(c)! : c, what, points, state, faults, how);
          if (one === 'will-not-run') return one;
          return {
            fact: '',
            centre: typeof one.centre === 'number' ? sig(one.centre) : one.centre,
            band: band(one, what, how.scale),
          };
        });
    },
  } satisfies Prepared);
}

/** Two drawings of one machine are told apart by their variants. */
export const nameOf = (c: Pick<Circuit, 'id' | 'redrawn'>): string => [c.id, ...(c.redrawn ?? [])].join('+');

/** Ω of the whole heater, hot and cold, at the corners of its rating: low = as strong as the tolerance allows. */
function coilCorners(
  k: Knowledge,
  c: Circuit,
  plate: MachineInHand['plate'],
): Record<Corner, { hot_ohm: number; cold_ohm: number }> {
  const volts = plate.volts ?? c.plate.volts;
  const motor = limit(k, 'motor-share-of-plate');
  const watts = plate.heater_w ?? (plate.total_w === undefined ? c.plate.heater_w : plate.total_w - (motor.lo + motor.hi) / 2);
  const rating = limit(k, 'rating-tolerance');
  const alloy = limit(k, 'alloy-factor');
  const hot_ohm = volts ** 2 / watts;
  return {
    nominal: { hot_ohm, cold_ohm: hot_ohm / limit(k, 'alloy-factor-nominal').lo },
    low: { hot_ohm: hot_ohm / rating.hi, cold_ohm: hot_ohm / rating.hi / alloy.hi },
    high: { hot_ohm: hot_ohm / rating.lo, cold_ohm: hot_ohm / rating.lo / alloy.lo },
  };
}

/** How far off a meter may show: percent of reading plus counts. */
function slack(meter: Meter, what: What, value: number): number {
  const range =
    what === 'volts'
      ? meter.volts
      : what === 'amps'
        ? meter.amps
        : (meter.ohms.find((r) => value <= r.upTo) ?? meter.ohms.at(-1)!);
  return (value * range.percent) / 100 + range.counts * range.resolution;
}

// Rounded so that comparing and printing agree in every runtime.
const sig = (x: number) => (Number.isFinite(x) && x !== 0 ? Number(x.toPrecision(9)) : x);

/** Solves ahead what a technician's case of these families will ask of this machine, so that no turn pays for it. Changes nothing that is shown. */
export function warm(p: Prepared, families?: readonly string[]): void {
  const faults = [...p.knowledge.faults.values()].filter((f) => !families || families.some((id) => f.weight[id]));
  for (const check of p.knowledge.checks.values()) {
    if (!check.measure) continue;
    p.expected(check.id, []);
    for (const fault of faults) p.expected(check.id, [fault.id]);
  }
}
