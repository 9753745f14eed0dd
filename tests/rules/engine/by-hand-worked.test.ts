import { describe, expect, test } from 'vitest';
import { refer } from '../../../rules/engine/referral.ts';
import { consult, foldCase, judgeOne, knowledge, lineVolts, machineInHand, prepare, supplyScale } from '../../../rules/index.ts';
import { applyEffects } from '../../../rules/physics/effects.ts';
import type { Answer, CaseFacts, Expected, Knowledge, MachineInHand, Value } from '../../../rules/types.ts';
import { answerOf } from '../../answers.ts';
import { everyWorld } from '../../bench/every-world.ts';
import { modelDryer } from '../../bench/model-dryer.ts';
import { preparedFor } from '../../bench/worlds.ts';
import { DIAL_IN_HAND } from './in-hand.ts';

/**
 * Numbers worked out by hand from Ohm's law, the rating plate and the printed ranges, against what the engine makes of them.
 * Alloy: Kanthal handbook, temperature factor of resistivity; supply: ANSI C84.1, Table 1, range A at the service, 114 to 126 V a leg.
 */
const k = knowledge();
const healthy = (machine: Partial<MachineInHand>, check: string, fact: string, scale?: number): Expected => {
  const [list] = prepare(k, { ...DIAL_IN_HAND, ...machine }).expected(check, [], scale);
  return (list as Expected[]).find((e) => e.fact === fact)!;
};
const coil = (plate: MachineInHand['plate']) => healthy({ plate }, 'coil-ohms', 'coil_ohms').centre as number;

describe('the plate', () => {
  test('volts and watts give the coil its ohms: V² over P, a little less when cold', () => {
    expect(coil({ volts: 240, heater_w: 5300 })).toBeGreaterThan((0.9 * 240 ** 2) / 5300);
    expect(coil({ volts: 240, heater_w: 5300 })).toBeLessThanOrEqual(240 ** 2 / 5300);
    expect(coil({ volts: 208, heater_w: 5300 }) / coil({ volts: 240, heater_w: 5300 })).toBeCloseTo((208 / 240) ** 2, 2);
    expect(coil({ volts: 240, heater_w: 4000 }) / coil({ volts: 240, heater_w: 5000 })).toBeCloseTo(5 / 4, 2);
  });
  test("a plate's total holds the motor too: the heater has less", () => {
    const total = coil({ volts: 240, total_w: 5600 });
    // A drum motor of 1/4 to 1/3 hp takes some 200 to 600 W; the heater alone has the rest.
    expect(total).toBeGreaterThan(coil({ volts: 240, heater_w: 5450 }));
    expect(total).toBeLessThan(coil({ volts: 240, heater_w: 4900 }));
  });
});

describe('the supply', () => {
  const told = (...readings: [fact: string, value: Value, check: string][]): CaseFacts =>
    foldCase(
      k,
      { audience: 'technician', families: ['no-heat'], units: 'us' },
      readings.map(
        ([fact, value, check], i): Answer => ({
          ...{ seq: i + 1, turn: i + 1, act: 'tell', fact, value, check, said: '', by: 'technician' },
        }),
      ),
    );
  const idle = (volts: number): [string, Value, string] => ['between_legs_idle', volts, 'supply-at-block-idle'];
  const leg = (volts: number): [string, Value, string] => ['motor_leg_to_neutral_idle', volts, 'supply-at-block-idle'];

  test('the newest reading leg to leg is the line, whatever was read before', () => {
    const p = prepare(k, DIAL_IN_HAND);
    expect(lineVolts(p, told(idle(245), idle(231)))).toBe(231);
    expect(lineVolts(p, told(idle(231), idle(245)))).toBe(245);
  });
  test('the newest leg at rest scales the supply: over 120 V', () => {
    expect(supplyScale(k, told(leg(124), leg(114)))).toBeCloseTo(114 / 120, 3);
    expect(supplyScale(k, told(leg(114), leg(124)))).toBeCloseTo(124 / 120, 3);
  });
  test('a leg of 114 V takes 5 % off what is expected under load, and the range of the service with it', () => {
    const at = (scale?: number) => healthy({}, 'supply-at-block-heat', 'between_legs_heat', scale).band;
    expect(at(114 / 120).hi).toBeLessThan(236);
    expect(at(126 / 120).lo).toBeGreaterThan(238);
    expect(at().lo).toBeLessThan(at(120 / 120).lo);
    expect(at().hi).toBeGreaterThan(at(120 / 120).hi);
  });
});

describe('a reading just outside', () => {
  const read = async (value: number) => (await judgeOne(prepare(k, DIAL_IN_HAND), { check: 'coil-ohms', value })).verdict.is;
  test('is a close call on either side, and none further out', async () => {
    const { band } = healthy({}, 'coil-ohms', 'coil_ohms');
    expect(await read(band.hi * 1.02)).toBe('close call');
    expect(await read(band.lo * 0.98)).toBe('close call');
    expect(await read(band.hi * 1.2)).toBe('high');
    expect(await read(band.lo * 0.8)).toBe('low');
  });
});

test('a contact that only one of the machines it may be has open is not welded for being closed', async () => {
  // Line in to the control's output, dead, dial at heat: closed on one drawing, a relay at rest on another.
  const check = k.checks.get('timer-contact-ohms')!;
  const reads = check.measure!.reads.map((r) => ({ ...r, points: { '*': ['HL1', 'L1'] as [string, string] } }));
  const anywhere = { ...check, fits: [], measure: { ...check.measure!, reads } };
  // Closed up to 2 Ω, so that a value may be closed and yet above the healthy band.
  const limits = new Map(k.limits).set('ohm-closed', { ...k.limits.get('ohm-closed')!, hi: 2 });
  const of: Knowledge = { ...k, limits, checks: new Map(k.checks).set(check.id, anywhere) };
  const judged = async (circuits: string[]) =>
    (await judgeOne(prepare(of, { ...DIAL_IN_HAND, circuits, leads_ohm: 0 }), { check: check.id, value: 1.5 })).verdict;
  const open = [...k.machines.keys()].filter((id) =>
    prepare(of, { ...DIAL_IN_HAND, circuits: [id] })
      .expected(check.id, [])
      .some((list) => (list as Expected[])[0]?.centre === 'open'),
  );
  expect(open.length).toBeGreaterThan(0);
  expect(open.length).toBeLessThan(k.machines.size);
  expect(await judged(open)).toMatchObject({ is: 'closed', rule: 'closed-where-open' });
  expect((await judged([...k.machines.keys()])).is).toBe('high');
});

test('three wires: the strap from neutral to the cabinet is a piece of metal, well under an ohm', () => {
  const p = prepare(k, { ...DIAL_IN_HAND, hookup: 'three-wire' });
  const [read] = p.between('ohms', ['N', k.supply.cabinet], 'unplugged-off', []);
  expect((read as Expected).centre).toBeLessThan(0.5);
});

test('of two faults on one contact it closes only where both let it, whichever is named first', () => {
  const circuit = k.machines.get('dial-single-coil')!;
  const contact = circuit.branches.find((b) => b.kind === 'contact' && b.closedIn)!.id;
  const [early, late] = [
    { contact, staysIn: ['run-high', 'idle-off'] },
    { contact, staysIn: ['run-high', 'run-low'] },
  ];
  for (const both of [
    [early, late],
    [late, early],
  ])
    expect(applyEffects(k.supply, circuit, both).branches.get(contact)?.staysIn).toEqual(['run-high']);
});

test('two free points are read where they tell so many times more a minute than the planned check', async () => {
  const margin = (times: number): Knowledge => ({
    ...k,
    limits: new Map(k.limits).set('two-points-margin', { ...k.limits.get('two-points-margin')!, lo: times, hi: times }),
  });
  let offered = 0;
  for (const w of everyWorld('no-heat', 'technician').filter((_, i) => i % 7 === 0)) {
    const dryer = modelDryer(w.machine, w.faults, 'no-heat', { quiet: true });
    const { f, next } = await upToTwoPoints(w.machine, dryer);
    if (!next) continue;
    offered++;
    if (offered > 2) break;
    const under = async (times: number) => {
      const of = margin(times);
      return (await consult(prepare(of, machineInHand(of, f)), f)).next?.points;
    };
    expect(await under(0.001)).toBeDefined();
    expect(await under(1000)).toBeUndefined();
  }
  expect(offered).toBeGreaterThan(0);
});

/** Leads a world until two points of the circuit are asked for, if ever. */
async function upToTwoPoints(machine: string, dryer: ReturnType<typeof modelDryer>) {
  const answers: Answer[] = [];
  for (let turn = 1; turn < 40; turn++) {
    const f = foldCase(
      k,
      { audience: 'technician', families: ['no-heat'], units: 'us', machine: { circuits: [machine] } },
      answers,
    );
    const { next } = await consult(preparedFor(k, machineInHand(k, f)), f);
    if (!next) break;
    if (next.points) return { f, next };
    const check = k.checks.get(next.check)!;
    const shown = await dryer.answer(check);
    for (const fact of check.settles) {
      const value = fact === 'qualified' ? 'yes' : fact === 'sensor_temperature' ? 25 : shown[fact];
      const base = { seq: answers.length + 1, turn, fact, check: check.id, said: '', by: 'technician' as const };
      if (value === undefined || value === 'cannot' || value === 'will-not-run')
        answers.push(answerOf({ ...base, act: 'declined' }));
      else answers.push(answerOf({ ...base, act: next.of === undefined ? 'tell' : 'repeat', value }));
    }
  }
  return { f: foldCase(k, { audience: 'technician', families: ['no-heat'], units: 'us' }, answers), next: undefined };
}

test('nothing runs with the drum out: whatever is off there is put back before anything that turns is asked', () => {
  for (const cover of ['front-drum', 'top-front', 'lint-chute']) expect(k.covers.get(cover)?.shutToRun, cover).toBe('always');
});

test('two faults at once take as long as the longer of their visits', async () => {
  const [first, second] = ['element-open', 'thermal-cutoff-open'];
  const faults = new Map(k.faults);
  for (const [id, visit_min] of [
    [first, 30],
    [second, 120],
  ] as const) {
    const fault = k.faults.get(id!)!;
    faults.set(id!, { ...fault, end: { ...fault.end, visit_min } });
  }
  const pair = { faults: [first!, second!], share: 1, live: true, misreads: 0, for: [], against: [], confirmedBy: [] };
  const { referral } = await refer({ ...k, faults }, [pair] as never, {}, []);
  expect(referral?.visit_min).toBe(120);
});
