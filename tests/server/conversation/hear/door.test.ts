import { describe, expect, test } from 'vitest';
import { factIn } from '../../../../rules/index.ts';
import type { AnswerInput } from '../../../../server/conversation-port.ts';
import { toldIn } from '../../../answers.ts';
import { Case, isRefused, k, talkOf, text, throughGates } from '../parts.ts';

const talk = talkOf({
  'minus five': [{ is: 'reading', what: 'ohms', value: -5, fact: 'coil_ohms', evidence: '' }],
  'ten ohms, plugged in': [{ is: 'reading', what: 'ohms', value: 10, fact: 'coil_ohms', state: 'idle-off', evidence: '' }],
  'it beeps': [{ is: 'reading', what: 'ohms', value: 'beep', evidence: '' }],
  'no, 9.8': [
    { is: 'talk', what: 'correct', evidence: '' },
    { is: 'reading', what: 'ohms', value: 9.8, fact: 'coil_ohms', evidence: '' },
  ],
  'plate 5400 W 240 V 10 A': [{ is: 'plate', volts: 240, total_w: 5400, amps: 10, evidence: '' }],
  'plate 24 A 240 V': [{ is: 'plate', volts: 240, amps: 24, evidence: '' }],
});
const technician = async () => {
  const c = await Case.open(talk, 'technician');
  await c.tell('complaint', 'no-heat');
  return c;
};

describe('what cannot be is refused, and nothing is stored', () => {
  test.each<[string, AnswerInput, string, RegExp]>([
    ['less than nothing', { fact: 'coil_ohms', value: -5 }, 'not-possible', /-5 Ω cannot be.*between 0 Ω/],
    ['no house has it', { fact: 'between_legs_idle', value: 4000 }, 'not-possible', /4000 V cannot be.*0 V and 600 V/],
    ['not a number', { fact: 'coil_ohms', value: Number.NaN }, 'not-a-number', /number in Ω/],
    ['infinite', { fact: 'coil_ohms', value: Number.POSITIVE_INFINITY }, 'not-a-number', /number in Ω/],
    ['a word for a number', { fact: 'coil_ohms', value: 'good' }, 'not-ohms', /"good".*"open"/],
    ['what a meter shows for over range', { fact: 'coil_ohms', value: 'OL' }, 'not-ohms', /"OL".*"open"/],
    ['a number no meter shows', { fact: 'coil_ohms', value: 1e302 }, 'not-possible', /^> 1000000 GΩ cannot be.*0 Ω and OL/],
    ['over range on volts', { fact: 'between_legs_idle', value: 'open' }, 'not-a-number', /number in V/],
    ['volts for ohms', { fact: 'coil_ohms', value: 10, unit: 'V' }, 'wrong-unit', /in V\..*in Ω/],
    ['ohms with the plug in', { fact: 'coil_ohms', value: 10, state: 'idle-off' }, 'ohms-live', /plug out/],
    ['a choice that is none', { fact: 'fuel', value: 'coal' }, 'no-such-choice', /electric, gas, unsure/],
    ['a fact that is none', { fact: 'colour', value: 'white' }, 'no-such-fact', /"colour"/],
    ['a state that is none', { fact: 'coil_ohms', value: 10, state: 'flying' }, 'no-such-state', /"flying"/],
    ['points that are none', { fact: 'coil_ohms', value: 10, points: ['E1', 'moon'] }, 'no-such-points', /"moon"/],
    ['a check of another fact', { fact: 'coil_ohms', value: 10, check: 'ask-kind' }, 'wrong-check', /ask-kind/],
    ['an entry that is not on the list', { fact: 'gate-now', value: 'aliens' }, 'no-such-choice', /gas-smell-or-hiss/],
    ['a complaint that is none', { fact: 'complaint', value: 'rust' }, 'no-such-choice', /no-heat/],
  ])('%s', async (_, input, code, says) => {
    const c = await technician();
    const turn = await talk.answer(c.record, input);
    expect(isRefused(turn) && turn.problem.code).toBe(code);
    expect(isRefused(turn) && turn.problem.message).toMatch(says);
  });

  test.each([
    ['minus five', /-5 Ω cannot be/],
    ['ten ohms, plugged in', /plug out/],
    ['it beeps', /What number/],
    ['plate 5400 W 240 V 10 A', /about 2400 W, and the plate says 5400 W/],
  ])('typed, "%s" is asked again', async (said, says) => {
    const c = await technician();
    const reply = await c.say(said);
    expect(text(reply, 'say')).toMatch(says);
    expect(c.last.added).toEqual([]);
    expect(text(reply, 'ask')).toMatch(/^Back to the open question/);
  });

  test.each([
    [{ volts: 24 }, 'plate-volts'],
    [{ total_w: 54_000 }, 'plate-watts'],
    [{ amps: 400 }, 'plate-amps'],
    [{ total_w: 5000, heater_w: 5400 }, 'plate-heater-above-total'],
    [{ volts: 240, amps: 10, total_w: 5400 }, 'plate-amps-against-watts'],
  ])('a plate of %o contradicts itself: %s', async (plate, code) => {
    const opened = await talk.open({ audience: 'technician', machine: { plate } });
    expect('problem' in opened && opened.problem.code).toBe(code);
    const c = await technician();
    const patched = await talk.patch(c.record, { machine: { plate } });
    expect(isRefused(patched) && patched.problem.code).toBe(code);
  });

  test.each([
    ['circuits', { circuits: ['steam'] }, 'no-such-machine'],
    ['meter', { meter: 'dowsing-rod' }, 'no-such-meter'],
    ['a way to be built', { variants: ['three-coils'] }, 'no-such-variant'],
    ['a way it may be built', { maybe: ['three-coils'] }, 'no-such-variant'],
    ['a repair done before', { repaired: ['polish-it'] }, 'no-such-repair'],
    ['system', { system: 'monorail' }, 'no-such-system'],
    ['leads', { leads_ohm: -1 }, 'leads'],
  ])('a machine with unknown %s', async (_, machine, code) => {
    const opened = await talk.open({ audience: 'technician', machine });
    expect('problem' in opened && opened.problem.code).toBe(code);
  });
});

describe('who may tell what', () => {
  test.each(['qualified', 'made_safe'])('only a technician states %s', async (fact) => {
    for (const audience of ['homeowner', 'agent', 'technician'] as const) {
      const c = await Case.open(talk, audience);
      await c.tell('sparks_or_bang', 'yes');
      const turn = await talk.answer(c.record, { fact, value: 'yes' });
      expect([audience, isRefused(turn) ? turn.problem.code : 'taken']).toEqual([
        audience,
        audience === 'technician' ? 'taken' : 'not-yours',
      ]);
    }
  });
  test('a word that is none is said back as no markup', async () => {
    const c = await Case.open(talkOf({ odd: [{ is: 'answer', fact: 'fuel', value: '<b>*coal*', evidence: '' }] }), 'homeowner');
    await c.tell('complaint', 'no-heat');
    expect(text(await c.say('odd'), 'say')).toContain('"\\<b\\>\\*coal\\*"');
  });
  test('a homeowner’s reading from inside is taken, judged and answered with the caution', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.tell('complaint', 'no-heat');
    const reply = await c.tell('coil_ohms', 'open');
    expect(reply.evidence.at(-1)).toMatchObject({ fact: 'coil_ohms', value: 'open', verdict: 'open' });
    expect(text(reply, 'caution')).toMatch(/not for you/);
    expect(text(await c.tell('between_legs_receptacle', 240), 'caution')).toMatch(/can kill/);
  });
  test('a technician is reminded of it for live readings alone, until they say they are qualified', async () => {
    const c = await technician();
    expect(text(await c.tell('coil_ohms', 10), 'caution')).not.toMatch(/qualified and permitted/);
    expect(text(await c.tell('between_legs_idle', 240), 'caution')).toMatch(/qualified and permitted/);
    await c.tell('qualified', 'yes');
    expect(text(await c.tell('motor_leg_to_neutral_idle', 120), 'caution')).not.toMatch(/qualified and permitted/);
  });
});

describe('a second telling', () => {
  test('of a quantity is a repeat, of a choice a change of mind, of the same choice nothing', async () => {
    const c = await technician();
    await c.tell('coil_ohms', 10);
    const seq = c.seq('coil_ohms');
    await c.tell('coil_ohms', 11);
    expect(c.last.added).toMatchObject([{ act: 'repeat', of: seq, value: 11 }]);
    await c.tell('fuel', 'gas');
    await c.tell('fuel', 'electric');
    expect(c.last.added).toMatchObject([{ act: 'correct', value: 'electric' }]);
    const reply = await c.tell('fuel', 'electric');
    expect(c.last.added).toEqual([]);
    expect(text(reply, 'say')).toBe('I have that already.');
  });
  test('said to be a correction, it takes the first one’s place', async () => {
    const c = await technician();
    await c.tell('coil_ohms', 98);
    const seq = c.seq('coil_ohms');
    const reply = await c.say('no, 9.8');
    expect(c.last.added).toMatchObject([{ act: 'correct', of: seq, value: 9.8 }]);
    expect(reply.evidence.filter((r) => r.fact === 'coil_ohms')).toMatchObject([{ value: 9.8 }]);
  });
  test('an amps plate is a watts plate', async () => {
    const c = await technician();
    await c.say('plate 24 A 240 V');
    const shown = (await c.tell('coil_ohms', 9.8)).evidence.at(-1)!.expected!;
    const d = await Case.open(talk, 'technician', { plate: { volts: 240, total_w: 5760 } });
    expect((await d.tell('coil_ohms', 9.8)).evidence.at(-1)!.expected).toEqual(shown);
  });
});

describe('a list asked as one question', () => {
  const gate = k.checks.get('gate-signs')!;
  test('"none" answers all of it', async () => {
    const c = await technician();
    await c.tell('gate-signs', 'none');
    expect(Object.fromEntries(toldIn(c.last.added))).toEqual(gate.choices!.none);
  });
  test('a pick answers the rest as "none" would: the whole list was read', async () => {
    const c = await technician();
    await c.tell('gate-signs', 'lights-dip-on-start, one-snap-from-cloth');
    expect(Object.fromEntries(toldIn(c.last.added))).toEqual({
      ...gate.choices!.none,
      house_lights: 'dip-on-start',
      shock_kind: 'one-snap',
    });
  });
  test('"none" takes back nothing told before', async () => {
    const c = await technician();
    await c.tell('water_seen', 'yes');
    const reply = await c.tell('gate-signs', 'none');
    expect(c.last.added.map(factIn)).not.toContain('water_seen');
    expect(reply.consultation.stops.map((s) => s.sign)).toContain('water');
  });
  test('"not sure" is said of each of its facts, and counts as yes where that is the safe side', async () => {
    const c = await technician();
    const reply = await c.tell('gate-now', 'unsure');
    expect(c.last.added.every((a) => a.act === 'unsure' && factIn(a) !== undefined)).toBe(true);
    expect(reply.consultation.stops.map((s) => s.sign)).toContain('gas-smell');
  });
});

test('a check and a value alone reach the engine as the answer to the open question', async () => {
  const c = await technician();
  const reply = await throughGates(c);
  expect(reply.consultation.next?.why).not.toBe('gate');
  expect(reply.ask?.check).toBe(reply.consultation.next?.check);
});
