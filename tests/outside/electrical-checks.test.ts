import { describe, expect, test } from 'vitest';
import thermistors from '../../rules/knowledge/thermistors.json' with { type: 'json' };
import * as physics from '../../rules/physics/index.ts';
import file from '../data/electrical-checks.json' with { type: 'json' };
import { limit, METERS } from '../rules/physics/knowledge.ts';
import { centerTap, type Feed, smallNet } from './small-net.ts';

/**
 * Printed and worked numbers against the code the program runs: the solver, the meter, the heater's ohms, the curves, the limits.
 * Rows that no such code answers are named below with the reason, so that none is passed over in silence.
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

/** Reason -> rows. */
const NOT_OURS: Record<string, string> = Object.fromEntries(
  Object.entries({
    'load for sizing a service: nothing here sizes a service': 'circuit-01 circuit-03',
    'time-current of a fuse in a plug: no such supply here': 'circuit-09 circuit-10',
    'ampacity and ohms of wires by size: the drawings give each wire its ohms':
      'circuit-06 conductor-01 conductor-03 conductor-04 conductor-06 conductor-09 conductor-10 conductor-12 conductor-13 conductor-15 conductor-16',
    'a metal at another temperature: no reading is corrected for it': 'conductor-07 motor-06',
    'percent of a number: nothing here is computed':
      'supply-16 supply-22 supply-24 supply-25 conductor-19 conductor-21 joint-03 heating-wire-12 ghost-03',
    'range B and utilization: a supply is judged by range A at the service':
      'supply-07 supply-09 supply-10 supply-12 supply-13 supply-15 supply-21',
    'the ratio that tells a wye: the system of a house is told, and everything is solved on it': 'supply-27 supply-28',
    'backwards from heat, drop or a reading to ohms: the solver goes from ohms to readings, and suspects are held against those':
      'joint-01 joint-04 joint-09 source-01 source-03 source-04 parallel-03',
    'leads are put on the expected reading, and not taken off the told one': 'meter-07',
    'a buzzer: no beep is taken as a reading': 'meter-09 meter-10',
    'Beta, Steinhart and Hart, ratios: sensors stand as tables of °C and Ω':
      'parallel-04 ntc-01 ntc-03 ntc-04 ntc-06 ntc-07 ntc-09 ntc-10 ntc-12 ntc-13 ntc-21 ntc-22 ntc-24 ntc-27 ntc-28 ntc-30 ntc-31',
    'small heaters with an absolute tolerance: a dryer heater is ten times as large': 'rating-band-03',
    'a set point and its tolerance in °C: no function adds two temperatures':
      'thermal-control-01 thermal-control-03 thermal-control-04',
    'the least volts a motor is rated for: what it still starts on is lower, and common practice': 'motor-01',
    'sizing of a start capacitor: board and capacitor work is left out on purpose': 'motor-03',
    'standstill impedances of a design: not what an ohmmeter reads': 'motor-04',
    'speed of the centrifugal switch: nothing here knows a speed': 'motor-07',
    'identification of windings: no check asks for it': 'motor-09',
    'drying time from energy: belongs to drying, not to the circuit': 'power-12',
    'gas igniter: gas heat is referred, not measured': 'igniter-01 igniter-03 igniter-04',
  }).flatMap(([reason, ids]) => ids.split(' ').map((id) => [`e-${id}`, reason])),
);

const meter = METERS.get('meter-4000-count')!;
const simple = METERS.get('meter-2000-count')!;
const leg = limit('service-leg-a');
const tolerance = limit('rating-tolerance');
const flag = (yes: boolean) => (yes ? 1 : 0);
/** A load fed so that it carries these amps, with something in series. */
const carrying = (amps: number, volts: number, ohm: number) =>
  smallNet(centerTap(volts), { series: ['A', 'x', ohm], load: ['x', 'B', volts / amps - ohm] });
/** A heater by its plate, on other volts. */
const heater = (i: Inputs, rated_w: number, rated_v = i.Vr!) =>
  smallNet(centerTap(i.V!), { heater: ['A', 'B', physics.hot_ohm(rated_v, rated_w)] }).watts('heater')!;
/** Two loads, one on each leg, with the neutral gone. */
const openNeutral = (i: Inputs, first_ohm: number, second_ohm: number) =>
  smallNet(centerTap(i.V!), { first: ['A', 'x', first_ohm], second: ['x', 'B', second_ohm] });
const volts = (net: physics.Solved, a: string, b: string) => net.volts(a, b, meter.input_ohm)!.open_v;
const oneLeg = (leg_v: number): Feed => ({ a: [leg_v, 0], b: [0, 0] });
const hi_w = (rated_v: number, rated_w: number) => rated_v ** 2 / physics.hotBand_ohm(rated_v, rated_w, tolerance).lo;

const ours: Record<string, (i: Inputs) => number | undefined> = {
  'e-supply-01': () => leg.lo,
  'e-supply-03': () => 2 * leg.lo,
  'e-supply-04': () => 2 * leg.hi,
  'e-supply-06': () => volts(smallNet({ a: [leg.hi, 0], b: [leg.hi, -120] }, {}), 'A', 'B'),
  'e-supply-18': (i) => flag(i.V_LL! >= 2 * leg.lo && i.V_LL! <= 2 * leg.hi),
  'e-supply-19': (i) => flag(i.V_LL! >= 2 * leg.lo && i.V_LL! <= 2 * leg.hi),
  'e-circuit-04': (i) => smallNet(centerTap(i.V!), { load: ['A', 'B', physics.hot_ohm(i.V!, i.VA!)] }).amps('load'),
  'e-circuit-07': (i) => smallNet(centerTap(i.V!), { load: ['A', 'B', physics.hot_ohm(i.V!, i.P!)] }).amps('load'),
  'e-conductor-18': (i) => volts(carrying(i.I!, 240, (2 * i.len_ft! * i.r_kft!) / 1000), 'A', 'x'),
  'e-power-01': (i) => physics.hot_ohm(i.V!, i.P!),
  'e-power-03': (i) => heater(i, i.P!),
  'e-power-04': (i) => heater(i, 100),
  'e-power-06': (i) => heater(i, 100),
  'e-power-07': (i) => heater(i, 100),
  'e-power-09': (i) => heater(i, i.P!),
  'e-power-10': (i) => volts(smallNet({ a: [i.V_LN!, 0], b: [i.V_LN!, -120] }, {}), 'A', 'B'),
  'e-open-neutral-01': (i) => volts(openNeutral(i, physics.hot_ohm(i.Vleg!, i.P1!), physics.hot_ohm(i.Vleg!, i.P2!)), 'A', 'x'),
  'e-open-neutral-03': (i) => openNeutral(i, i.R1!, i.R2!).amps('first'),
  'e-open-neutral-04': (i) => volts(openNeutral(i, i.R1!, i.R2!), 'x', 'B'),
  'e-open-neutral-06': (i) => volts(openNeutral(i, i.R1!, i.R2!), 'x', 'B'),
  'e-open-neutral-07': (i) => {
    const net = openNeutral(i, i.V1!, i.V2!);
    return Math.abs(volts(net, 'A', 'x') - i.V1!) + Math.abs(volts(net, 'x', 'B') - i.V2!);
  },
  'e-joint-06': (i) => smallNet(centerTap(i.V!), { joint: ['A', 'x', i.Rj!], load: ['x', 'B', i.R!] }).watts('load'),
  'e-joint-07': (i) => smallNet(centerTap(i.V!), { joint: ['A', 'x', i.Rj!], load: ['x', 'B', i.R!] }).watts('joint'),
  'e-joint-10': (i) => carrying(i.I!, 240, i.R_mohm! / 1000).watts('series'),
  'e-lost-leg-01': (i) => volts(smallNet(oneLeg(i.V!), { heater: ['A', 'x', i.R_el!], load: ['x', 'N', i.R_load!] }), 'x', 'N'),
  'e-lost-leg-03': (i) => volts(smallNet({ a: [i.V_L1N!, 0], b: [i.V_L2N!, 0] }, {}), 'A', 'B'),
  'e-lost-leg-04': (i) => volts(smallNet(oneLeg(i.V!), { heater: ['A', 'x', i.R_el!], load: ['x', 'N', i.R_load!] }), 'x', 'N'),
  'e-parallel-01': (i) =>
    smallNet(oneLeg(0), { part: ['x', 'y', i.R!], beside: ['x', 'y', i.Rp!] }).ohms('x', 'y', 4e7) as number,
  'e-heating-wire-09': (i) => physics.cold_ohm(i.R_hot!, i.Ct!),
  'e-heating-wire-10': (i) => physics.cold_ohm(i.R_hot!, i.Ct!),
  'e-rating-band-01': (i) => hi_w(240, i.P!),
  'e-rating-band-04': (i) => physics.hotBand_ohm(i.V!, i.P!, tolerance).lo,
  'e-rating-band-06': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).lo,
  'e-rating-band-07': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).hi,
  'e-rating-band-09': (i) => flag(i.measured! <= hi_w(240, i.P!)),
  'e-rating-band-10': (i) => physics.coldBand_ohm(i.V!, i.P!, tolerance, limit('alloy-factor')).lo,
  'e-thermal-control-06': (i) =>
    smallNet(oneLeg(0), { contact: ['x', 'y', i.R_mohm! / 1000], leads: ['y', 'z', i.lead!] }).ohms('x', 'z', 4e7) as number,
  'e-meter-01': (i) => physics.slack(i.R!, physics.ohmsLine(meter, i.R!)!),
  'e-meter-03': (i) => physics.slack(i.R!, physics.ohmsLine(simple, i.R!)!),
  'e-meter-04': (i) => physics.slack(i.V!, meter.volts),
  'e-meter-06': (i) => i.V! + physics.slack(i.V!, METERS.get('meter-6000-count')!.volts),
  'e-ghost-01': (i) => physics.floatingBand_v(i.V!, 1 / (2 * Math.PI * i.f! * i.C!), i.Z!).hi,
  'e-ghost-04': (i) => 1000 * smallNet(oneLeg(i.V!), { meter: ['A', 'N', meter.lowImpedance_ohm] }).amps('meter')!,
  'e-frame-01': (i) => volts(carrying(i.I!, 120, i.R!), 'A', 'x'),
  'e-frame-03': (i) => volts(smallNet(oneLeg(i.V!), { motor: ['A', 'x', i.Z_motor!], body: ['x', 'N', i.R_body!] }), 'x', 'N'),
};

/** A curve by its printed name, "10k B25/85=3435". */
const tableOf = (name: unknown) =>
  thermistors.curves.find((c) => `${c.r25_ohm / 1000}k` === String(name).split(' ')[0] && String(name).endsWith(`=${c.beta_k}`))!
    .rows as [number, number][];
const byCurve = (row: Row): row is Row & { inputs: { curve: string; t: number } } => 'curve' in row.inputs;
/** Hot over cold of one alloy at one temperature: the spread that coils are given has to hold it. */
const ofAlloy = (row: Row) => 'alloy' in row.inputs;

test('every row is either answered by code that runs or named with a reason, and only rows that exist are named', () => {
  const ids = new Set(rows.map((r) => r.id));
  const answered = [...Object.keys(ours), ...rows.filter((r) => byCurve(r) || ofAlloy(r)).map((r) => r.id)];
  expect(rows).toHaveLength(130);
  expect([...Object.keys(NOT_OURS), ...answered].filter((id) => !ids.has(id))).toEqual([]);
  expect(answered.filter((id) => id in NOT_OURS)).toEqual([]);
  expect(rows.map((r) => r.id).filter((id) => !(id in NOT_OURS) && !answered.includes(id))).toEqual([]);
});

describe('printed and worked numbers', () => {
  test.each(rows.filter((r) => r.id in ours))('$id: $source', (row) => {
    const value = ours[row.id]!(row.inputs as Inputs);
    expect(Math.abs(value! - row.expected.value)).toBeLessThanOrEqual(row.expected.tolerance + 1e-6);
  });
  test.each(rows.filter(byCurve))('$id: $source', (row) => {
    const ohm = physics.byTable_ohm(tableOf(row.inputs.curve), row.inputs.t)!;
    expect(Math.abs(ohm - row.expected.value)).toBeLessThanOrEqual(row.expected.tolerance + 1e-9);
  });
  test.each(rows.filter(ofAlloy))('$id lies in the spread coils are given: $source', (row) => {
    const { lo, hi } = limit('alloy-factor');
    expect(row.expected.value).toBeGreaterThanOrEqual(lo);
    expect(row.expected.value).toBeLessThanOrEqual(hi);
  });
});
