import { expect, test } from 'vitest';
import { explainedReply as replyShape } from '../../../../server/shapes/reply.ts';
import { Case, inWorld, talkOf, throughGates } from '../parts.ts';

async function technician(answers: Record<string, string> = {}) {
  const c = await Case.open(talkOf(), 'technician');
  await throughGates(c, answers);
  return c;
}

test('a measured reading says how far off the meter may be; a choice says nothing of the kind', async () => {
  const c = await technician();
  const reply = await c.tell('coil_ohms', 10.6, { check: 'coil-ohms' });
  const row = reply.evidence.find((r) => r.fact === 'coil_ohms')!;
  expect(row.meter!.lo).toBeLessThan(10.6);
  expect(row.meter!.hi).toBeGreaterThan(10.6);
  // Both ways alike, and never as wide as the band itself.
  expect(10.6 - row.meter!.lo).toBeCloseTo(row.meter!.hi - 10.6, 4);
  expect(row.meter!.hi - row.meter!.lo).toBeLessThan(row.expected!.hi - row.expected!.lo);
  expect(reply.evidence.filter((r) => typeof r.value !== 'number' && r.meter)).toEqual([]);
});

test('a suspect says by reading what it would have shown, and the reading lies where it speaks', async () => {
  const c = await technician();
  await c.tell('coil_ohms', 'open', { check: 'coil-ohms' });
  const reply = await c.tell('between_legs_idle', 240, { check: 'supply-at-block-idle' });
  const seq = reply.evidence.find((r) => r.fact === 'coil_ohms')!.seq;
  const of = (fault: string) => reply.suspects.find((s) => s.faults.join() === fault)!;
  expect(of('element-open').speaks!.find((s) => s.seq === seq)).toMatchObject({
    is: 'for',
    would: expect.stringMatching(/OL|MΩ/),
  });
  expect(of('high-limit-open').speaks!.find((s) => s.seq === seq)).toMatchObject({
    is: 'against',
    would: expect.stringMatching(/Ω/),
  });
  for (const s of reply.suspects) {
    expect(s.speaks!.filter((one) => one.is === 'for')).toHaveLength(s.for.length);
    expect(s.speaks!.filter((one) => one.is === 'against')).toHaveLength(s.against.length);
  }
});

test('each outcome of the open check leaves only suspects of now, likeliest first, and no more than are named and counted', async () => {
  const c = await Case.open(talkOf(), 'technician');
  const seen = [] as (typeof c.last.reply)[];
  const take = c.take.bind(c);
  c.take = (turn) => {
    const reply = take(turn);
    seen.push(reply);
    return reply;
  };
  await inWorld(c, 'high-limit-open');
  const looked = seen.filter((r) => r.outlook);
  expect(looked.length).toBeGreaterThan(3);
  for (const { outlook, suspects, consultation } of looked) {
    const live = new Set(suspects.map((s) => s.label));
    for (const { leaves } of outlook!.outcomes) {
      for (const one of leaves) expect(live).toContain(one.label);
      const shares = leaves.map((one) => one.share);
      expect(shares).toEqual(shares.toSorted((a, b) => b - a));
    }
    const labels = outlook!.outcomes.map((o) => o.label);
    expect(new Set(labels).size).toBe(labels.length);
    expect(labels.length).toBeLessThanOrEqual(consultation.next!.outcomes.length);
  }
  expect(seen.at(-1)!.outlook).toBeUndefined();
});

test('heat is drawn from what was read between the legs: the square of the voltage', async () => {
  const c = await technician();
  const before = c.last.reply.curves!;
  expect(before.supply).toBeUndefined();
  expect(before.thermistor).toBeUndefined();
  const { curves } = await c.tell('between_legs_idle', 208, { check: 'supply-at-block-idle' });
  expect(curves!.heat!.plate).toEqual({ volts_v: 240, watts_w: 5400, known: false });
  // 5400 W × (208 / 240)².
  expect(curves!.heat!.reading).toMatchObject({ volts_v: 208, watts_w: 4056 });
});

test('the supply is drawn at rest and under load, pair by pair', async () => {
  const c = await technician();
  for (const [fact, value] of [
    ['between_legs_idle', 240.2],
    ['motor_leg_to_neutral_idle', 120.1],
    ['other_leg_to_neutral_idle', 120.1],
  ] as const)
    await c.tell(fact, value, { check: 'supply-at-block-idle' });
  const { curves } = await c.tell('other_leg_to_neutral_heat', 98, { check: 'supply-at-block-heat' });
  const rows = curves!.supply!;
  expect(rows.map((r) => r.idle_v)).toEqual([240.2, 120.1, 120.1]);
  expect(rows.map((r) => r.load_v)).toEqual([undefined, undefined, 98]);
  const least = rows[2]!.least_v!;
  expect(least).toBeGreaterThan(105);
  expect(least).toBeLessThan(120.1);
});

test('a thermistor reading stands on its curves with the temperature it means', async () => {
  const c = await technician({ control_kind: 'buttons' });
  const { curves } = await c.tell('thermistor_ohms', 12_493, { check: 'thermistor-ohms' });
  const { thermistor } = curves!;
  expect(thermistor!.curves.map((x) => x.r25_ohm)).toEqual([10_000, 10_000]);
  // A row of the printed table: 12493 Ω at 20 °C.
  expect(thermistor!.reading).toMatchObject({ ohm: 12_493, at_c: [20, expect.any(Number)] });
  expect(Math.abs(thermistor!.reading!.at_c[1]! - 20)).toBeLessThan(2);
  const far = await c.tell('thermistor_ohms', 'open', { check: 'thermistor-ohms', act: 'tell' });
  expect(far.curves!.thermistor!.reading).toBeUndefined();
  expect(replyShape.safeParse(JSON.parse(JSON.stringify(far))).error).toBeUndefined();
});
