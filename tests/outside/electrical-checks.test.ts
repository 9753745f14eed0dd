import { describe, expect, test } from 'vitest';
import thermistors from '../../rules/knowledge/thermistors.json' with { type: 'json' };
import conductors from '../../rules/physics/conductors.json' with { type: 'json' };
import alloys from '../../rules/physics/heating-alloys.json' with { type: 'json' };
import * as physics from '../../rules/physics/index.ts';
import type { Meter } from '../../rules/types.ts';
import file from '../data/electrical-checks.json' with { type: 'json' };
import { limit, METERS } from '../rules/physics/knowledge.ts';

/**
 * Printed and worked numbers against our own functions. Each row names the function that has to come out at it; rows that no function
 * of the physics answers are named below with the reason, so that none is passed over in silence.
 */
type Inputs = Record<string, number> & { [word: string]: unknown };
interface Row {
  id: string;
  topic: string;
  inputs: Record<string, unknown>;
  expected: { value: number; unit: string; tolerance: number };
  source: string;
}
const rows = file.checks as unknown as Row[];

const NOT_OURS: Record<string, string> = {
  'e-circuit-01': 'load for sizing a service: nothing here sizes a service',
  'e-circuit-03': 'load for sizing a service: nothing here sizes a service',
  'e-circuit-09': 'time-current of a fuse in a plug: no such supply here',
  'e-circuit-10': 'time-current of a fuse in a plug: no such supply here',
  'e-rating-band-03': 'small heaters with an absolute tolerance: a dryer heater is ten times as large',
  'e-thermal-control-01': 'a set point and its tolerance in °C: no function adds two temperatures',
  'e-thermal-control-03': 'a set point and its tolerance in °C: no function adds two temperatures',
  'e-thermal-control-04': 'a set point and its tolerance in °C: no function adds two temperatures',
  'e-motor-03': 'sizing of a start capacitor: board and capacitor work is left out on purpose',
  'e-motor-04': 'standstill impedances of a design: not what an ohmmeter reads',
  'e-motor-07': 'speed of the centrifugal switch: nothing here knows a speed',
  'e-motor-09': 'identification of windings: no check asks for it',
  'e-power-12': 'drying time from energy: belongs to drying, not to the circuit',
  'e-igniter-01': 'gas igniter: gas heat is referred, not measured',
  'e-igniter-03': 'gas igniter: gas heat is referred, not measured',
  'e-igniter-04': 'gas igniter: gas heat is referred, not measured',
};

const meter = METERS.get('meter-4000-count')!;
const simple = METERS.get('meter-2000-count')!;
const exact: Meter = { ...meter, ohms: [{ upTo: 4e7, percent: 0, counts: 0, resolution: 0.1 }] };
const curve = (name: unknown) =>
  thermistors.curves.find((c) => `${c.r25_ohm / 1000}k` === String(name).split(' ')[0] && String(name).endsWith(`=${c.beta_k}`))!;
const table = (name: unknown) => curve(name).rows as [number, number][];
const alloy = (title: unknown) => alloys.alloys.find((a) => a.title === title)!.factors as [number, number][];
const service = (i: Inputs) => {
  const system = String(i.system).startsWith('120/240') ? 'split' : String(i.system).includes('208') ? 'wye' : 'leg';
  const kind = String(i.kind) === 'utilization' ? 'use' : 'service';
  const l = limit(`${kind}-${system}-${String(i.range ?? 'A').toLowerCase()}`);
  return String(i.limit).includes('max') ? l.hi : l.lo;
};
const constants = (i: Inputs): [number, number, number] => [i.a!, i.b!, i.c!];
const flag = (yes: boolean) => (yes ? 1 : 0);
const n = (i: Inputs, ...keys: string[]) => keys.map((k) => i[k] as number);

const tolerance = limit('rating-tolerance');
const ours: Record<string, (i: Inputs) => number | undefined> = {
  'e-supply-16': (i) => physics.byPercent(i.nominal!, i.pct!),
  'e-supply-18': (i) => flag(physics.within(i.V_LL!, limit('service-split-a'))),
  'e-supply-19': (i) => flag(physics.within(i.V_LL!, limit('service-split-a'))),
  'e-supply-21': (i) => flag(physics.within(i.V_LL!, limit('service-split-b'))),
  'e-supply-22': (i) => physics.byPercent(i.nominal!, i.pct!),
  'e-supply-24': (i) => physics.byPercent(i.nominal!, i.pct!),
  'e-supply-25': (i) => physics.byPercent(i.nominal!, i.pct!),
  'e-supply-27': (i) => physics.legRatio(i.V_LL!, i.V_LN!, i.V_LN!),
  'e-supply-28': (i) => physics.legRatio(i.V_LL!, i.V_L1N!, i.V_L2N!),
  'e-circuit-04': (i) => physics.rated_a(i.V!, i.VA!),
  'e-circuit-06': (i) => conductors.awg.find((c) => c.size === i.awg)?.limit_a,
  'e-circuit-07': (i) => physics.rated_a(i.V!, i.P!),
  'e-conductor-06': (i) => physics.perKm_ohm(i.r_kft!),
  'e-conductor-07': (i) => physics.atTemperature_ohm(i.r75!, conductors.copper_per_k, 75, i.t!),
  'e-conductor-18': (i) => physics.drop_v(i.len_ft!, i.r_kft!, i.I!),
  'e-conductor-19': (i) => physics.percentOf(i.drop!, i.V!),
  'e-conductor-21': (i) => i.V! - physics.byPercent(i.V!, -i.pct!),
  'e-power-01': (i) => physics.hot_ohm(i.V!, i.P!),
  'e-power-03': (i) => physics.heat_w(i.V!, i.Vr!, i.P!),
  'e-power-04': (i) => physics.percentOf(physics.heat_w(i.V!, i.Vr!, 5400), 5400),
  'e-power-06': (i) => physics.percentOf(physics.heat_w(i.V!, i.Vr!, 5400), 5400),
  'e-power-07': (i) => physics.percentOf(physics.heat_w(i.V!, i.Vr!, 5400), 5400),
  'e-power-09': (i) => physics.heat_w(i.V!, i.Vr!, i.P!),
  'e-power-10': (i) => physics.betweenLegs_v(i.V_LN!, i.V_LN!, 120),
  'e-open-neutral-01': (i) => physics.openNeutral(i.V!, physics.hot_ohm(i.Vleg!, i.P1!), physics.hot_ohm(i.Vleg!, i.P2!)).first_v,
  'e-open-neutral-03': (i) => physics.openNeutral(i.V!, i.R1!, i.R2!).amps,
  'e-open-neutral-04': (i) => physics.openNeutral(i.V!, i.R1!, i.R2!).second_v,
  'e-open-neutral-06': (i) => physics.openNeutral(i.V!, i.R1!, i.R2!).second_v,
  'e-open-neutral-07': (i) => {
    const { first_v, second_v } = physics.openNeutral(i.V!, i.V1!, i.V2!);
    return i.V! - (first_v + second_v) + Math.abs(first_v - i.V1!) + Math.abs(second_v - i.V2!);
  },
  'e-joint-01': (i) => physics.jointFromHeat_ohm(i.P!, i.I!),
  'e-joint-03': (i) => physics.percentOf(i.drop!, i.V!),
  'e-joint-04': (i) => physics.jointFromHeat_ohm(i.P!, i.I!),
  'e-joint-06': (i) => physics.jointInSeries(i.V!, i.R!, i.Rj!).load_w,
  'e-joint-07': (i) => physics.jointInSeries(i.V!, i.R!, i.Rj!).joint_w,
  'e-joint-09': (i) => physics.jointFromLoadVolts_ohm(i.V!, i.V_el!, i.R!),
  'e-joint-10': (i) => physics.contact_w(i.I!, i.R_mohm! / 1000),
  'e-source-01': (i) => physics.source_ohm(i.V0!, i.V1!, i.I!),
  'e-source-03': (i) => physics.source_ohm(i.V0!, i.V1!, i.I!),
  'e-source-04': (i) => physics.legSag_v([i.V0!, i.V0b!], [i.V1!, i.V1b!]),
  'e-lost-leg-01': (i) => physics.fedBack_v(i.V!, i.R_el!, i.R_load!),
  'e-lost-leg-03': (i) => physics.betweenLegs_v(i.V_L1N!, i.V_L2N!, 0),
  'e-lost-leg-04': (i) => physics.fedBack_v(i.V!, i.R_el!, i.R_load!),
  'e-parallel-01': (i) => physics.sideBySide_ohm(i.R!, i.Rp!) as number,
  'e-parallel-03': (i) => physics.alone_ohm(i.Rmeas!, i.Rp!) as number,
  'e-parallel-04': (i) => physics.bySteinhartHart_c(constants(i), i.R!),
  'e-ntc-21': (i) => physics.beta_k(25, i.R25!, 50, i.R50!),
  'e-ntc-22': (i) => physics.byBeta_c(i.R25!, i.beta!, i.R!),
  'e-ntc-24': (i) => physics.beta_k(25, i.R25!, 50, i.R50!),
  'e-ntc-27': (i) => physics.beta_k(25, i.R25!, 50, i.R50!),
  'e-ntc-28': (i) => physics.byBeta_ohm(i.R25!, i.beta!, i.t!),
  'e-ntc-30': (i) => physics.scaled_ohm(i.R_ratio!, i.R25!),
  'e-ntc-31': (i) => physics.nearRow_ohm(i.Tx! - 273.15, i.Rx!, i.alpha!, i.T! - 273.15),
  'e-heating-wire-09': (i) => physics.cold_ohm(i.R_hot!, i.Ct!),
  'e-heating-wire-10': (i) => physics.cold_ohm(i.R_hot!, i.Ct!),
  'e-heating-wire-12': (i) => physics.byPercent(i.nom!, 100 * i.tol!),
  'e-rating-band-01': (i) => physics.ratedBand_w(i.P!, tolerance).hi,
  'e-rating-band-04': (i) => physics.hotBand_ohm(i.V!, i.P!, tolerance).lo,
  'e-rating-band-06': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).lo,
  'e-rating-band-07': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).hi,
  'e-rating-band-09': (i) => flag(physics.within(i.measured!, physics.ratedBand_w(i.P!, tolerance))),
  'e-rating-band-10': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).lo,
  'e-thermal-control-06': (i) => physics.shownOhms(i.R_mohm! / 1000, exact, { lo: i.lead!, hi: i.lead! }).lo,
  'e-meter-01': (i) => physics.slack(i.R!, physics.ohmsLine(meter, i.R!)!),
  'e-meter-03': (i) => physics.slack(i.R!, physics.ohmsLine(simple, i.R!)!),
  'e-meter-04': (i) => physics.slack(i.V!, meter.volts),
  'e-meter-06': (i) => physics.shownFor(i.V!, METERS.get('meter-6000-count')!.volts).hi,
  'e-meter-07': (i) => physics.withoutLeads_ohm(i.R_read!, i.lead!),
  'e-meter-09': (i) => flag(physics.buzzes(i.R!, { ...meter, buzzer_ohm: i.threshold! })),
  'e-meter-10': (i) => flag(physics.buzzes(i.R!, { ...meter, buzzer_ohm: i.threshold! })),
  'e-ghost-01': (i) => physics.ghost_v(i.V!, i.C!, i.f!, i.Z!),
  'e-ghost-03': (i) => physics.byPercent(i.V!, i.pct! - 100),
  'e-ghost-04': (i) => 1000 * physics.throughInput_a(i.V!, meter.lowImpedance_ohm),
  'e-motor-01': (i) => {
    const least = physics.byPercent(i.Vr!, -i.pct!);
    return physics.within(least, limit('motor-volts')) ? least : undefined;
  },
  'e-motor-06': (i) => physics.atTemperature_ohm(i.R0!, i.alpha!, 25, i.t!),
  'e-frame-01': (i) => physics.along_v(i.I!, i.R!),
  'e-frame-03': (i) => physics.divided_v(i.V!, i.Z_motor!, i.R_body!),
};

/** Rows that only look something up, by topic. */
function lookedUp(row: Row): number | undefined {
  const i = row.inputs as Inputs;
  if (row.topic === 'supply') return service(i);
  if (row.topic === 'heating-wire') return physics.alloyFactorAt(alloy(i.alloy), i.t!);
  if (row.topic === 'ntc' && 'curve' in i) return physics.byTable_ohm(table(i.curve), i.t!);
  if (row.topic === 'ntc') {
    const [R, t] = n(i, 'R', 't');
    return R === undefined ? physics.bySteinhartHart_ohm(constants(i), t!) : physics.bySteinhartHart_c(constants(i), R);
  }
  if (row.topic === 'conductor' && 'awg' in i) return conductors.awg.find((c) => c.size === i.awg)?.ohm_kft;
  const wire = conductors.metric.find((c) => c.mm2 === i.mm2);
  return i.conductor_class === 5 ? wire?.flexible_ohm_km : wire?.solid_ohm_km;
}

test('every row is either answered by a function of ours or named with a reason, and only rows that exist are named', () => {
  const ids = new Set(rows.map((r) => r.id));
  expect(rows).toHaveLength(130);
  expect([...Object.keys(NOT_OURS), ...Object.keys(ours)].filter((id) => !ids.has(id))).toEqual([]);
  expect(Object.keys(NOT_OURS).filter((id) => id in ours)).toEqual([]);
  expect(Object.keys(NOT_OURS)).toHaveLength(16);
});

describe('printed and worked numbers', () => {
  test.each(rows.filter((r) => !(r.id in NOT_OURS)))('$id: $source', (row) => {
    const value = (ours[row.id] ?? (() => lookedUp(row)))(row.inputs as Inputs);
    expect(value).toBeTypeOf('number');
    expect(Math.abs(value! - row.expected.value)).toBeLessThanOrEqual(row.expected.tolerance + 1e-9);
  });
});
