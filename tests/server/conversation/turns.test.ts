import { describe, expect, test } from 'vitest';
import type { Meaning } from '../../../server/types.ts';
import { checkIn, toldIn } from '../../answers.ts';
import { Case, inWorld, isRefused, k, talkOf, text, throughGates } from './parts.ts';

const say = (what: Extract<Meaning, { is: 'talk' }>['what'], of?: string): Meaning[] => [
  { is: 'talk', what, evidence: '', ...(of !== undefined && { of }) },
];
const volts = (value: number): Meaning[] => [{ is: 'reading', what: 'volts', value, evidence: '' }];
const table: Record<string, Meaning[]> = {
  'no heat': [{ is: 'complaint', family: 'no-heat', evidence: '' }],
  'no heat and noise': [
    { is: 'complaint', family: 'no-heat', evidence: '' },
    { is: 'complaint', family: 'noise', evidence: '' },
  ],
  rust: [{ is: 'complaint', family: 'rust', evidence: '' }],
  gas: [{ is: 'hazard', fact: 'gas_smell', value: 'yes', sure: true, evidence: '' }],
  'maybe gas': [{ is: 'hazard', fact: 'gas_smell', value: 'yes', sure: false, evidence: '' }],
  'no gas': [{ is: 'answer', fact: 'gas_smell', value: 'no', evidence: '' }],
  'maybe water': [{ is: 'hazard', fact: 'water_seen', value: 'yes', sure: false, evidence: '' }],
  'very hot': [{ is: 'answer', fact: 'clothes_at_end', value: 'too-hot', evidence: '' }],
  '240': volts(240),
  undo: say('undo'),
  why: say('why'),
  'not sure': say('unsure'),
  cannot: say('declined'),
  later: say('later'),
  none: [{ is: 'plain-no', of: 'plain', evidence: 'none' }],
  no: say('no'),
  'made safe': say('made-safe'),
  'I am qualified': say('qualified'),
  'no meter': say('no-meter'),
  'what is a leg': say('what-is-that', 'leg'),
  'how long': say('how-long'),
  person: say('person'),
  'may I use it': say('may-use'),
  'this or that': [
    {
      is: 'ambiguous',
      question: 'Which one?',
      options: [
        { label: 'Electric', meaning: { is: 'answer', fact: 'fuel', value: 'electric', evidence: '' } },
        { label: 'Gas', meaning: { is: 'answer', fact: 'fuel', value: 'gas', evidence: '' } },
      ],
    },
  ],
};
const talk = talkOf(table);
const open = async (who: 'homeowner' | 'agent' | 'technician' = 'technician') => {
  const c = await Case.open(talk, who);
  await c.say('no heat');
  return c;
};

describe('one sentence', () => {
  test('a case opens with what it does not know and the safety note', async () => {
    for (const audience of ['homeowner', 'agent', 'technician'] as const) {
      const opened = await talk.open({ audience });
      if ('problem' in opened) throw new Error();
      expect(opened.reply.ask).toMatchObject({ check: 'complaint', kind: 'one' });
      expect(text(opened.reply, 'caution')).toMatch(/come before|come first/);
      expect(opened.reply.ask!.script === undefined).toBe(audience !== 'agent');
    }
  });
  test('may tell two complaints, each kept once', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.say('no heat and noise');
    expect(c.last.view.families).toEqual(['no-heat', 'noise']);
    await c.say('no heat');
    expect(c.last.added).toEqual([]);
  });
  test('that tells an unknown complaint is asked on', async () => {
    const c = await Case.open(talk, 'homeowner');
    const reply = await c.say('rust');
    expect(text(reply, 'say')).toMatch(/do not know that complaint/);
    expect(reply.ask?.check).toBe('complaint');
  });
  test('that tells of another complaint moves the talk there', async () => {
    const c = await open('homeowner');
    const reply = await c.say('very hot');
    expect(c.last.view.families).toEqual(['overheats']);
    expect(text(reply, 'say')).toMatch(/It gets too hot/);
  });
  test('with two meanings is asked back, by number, by name or by button, and nothing is guessed', async () => {
    for (const pick of ['2', 'gas', 'Gas']) {
      const c = await Case.open(talkOf({ ...table, gas: [] }), 'technician');
      await c.say('no heat');
      const reply = await c.say('this or that');
      expect(reply.ask).toMatchObject({ check: 'which', choices: [{ label: 'Electric' }, { label: 'Gas' }] });
      expect(reply.evidence).toEqual([]);
      if (pick === '2') await c.tell('which', '2');
      else await c.say(pick);
      expect(c.fact('fuel')).toBe('gas');
    }
  });
  test('with a bare number is asked where the leads were', async () => {
    const c = await open();
    const reply = await c.say('240');
    expect(reply.ask?.check).toBe('which');
    expect(reply.ask!.choices.length).toBeGreaterThan(1);
    const n = reply.ask!.choices.findIndex((x) => x.label === 'between legs idle') + 1;
    await c.say(String(n));
    expect(c.fact('between_legs_idle')).toBe(240);
  });
});

describe('what was not understood', () => {
  test('is never asked again in the same words: example, choices, skip, person', async () => {
    const c = await open('homeowner');
    const seen: string[] = [];
    for (const words of ['hm', 'hmm', 'hmmm', 'hmmmm']) seen.push(text(await c.say(words), 'ask'));
    expect(seen[0]).toMatch(/Say it like/);
    expect(seen[1]).toMatch(/gas smell or hiss/);
    expect(seen[2]).toMatch(/not sure/);
    expect(seen[3]).toMatch(/person/);
    expect(new Set(seen).size).toBe(4);
  });
  test('starts over once something is understood, and does not stand among the answers', async () => {
    const c = await open('homeowner');
    await c.say('hm');
    await c.tell('gate-now', 'none');
    const reply = await c.say('hm');
    expect(reply.ask!.text).toMatch(/Say it like/);
    expect(c.last.view.answers.map((a) => a.said)).not.toContain('hm');
  });
  test('is looked at again just as it was left', async () => {
    const c = await open('homeowner');
    const reply = await c.say('hm');
    const looked = await talk.look(c.record);
    expect(!isRefused(looked) && looked.reply.ask).toEqual(reply.ask);
  });
});

describe('beside the question', () => {
  test.each([
    ['why', /It is gate now.*asked of everybody/s],
    ['what is a leg', /two live wires/],
    ['how long', /About \d+ more minutes/],
    ['may I use it', /Leave it off/],
    ['do latex gloves help', /do not protect you from a shock/],
    ['can I jumper the limit', /Never bridge a safety part/],
  ])('"%s" is answered, stored nowhere, and the question stands', async (said, says) => {
    const c = await open();
    const reply = await c.say(said);
    expect(text(reply)).toMatch(says);
    expect(c.last.added).toEqual([]);
    expect(reply.ask?.check).toBe('gate-now');
    expect(reply.ask?.text).toMatch(/^Back to the open question/);
  });
  test('a person who wants somebody sent is noted for the job sheet', async () => {
    const c = await open();
    const reply = await c.say('person');
    expect(text(reply)).toMatch(/job sheet/);
    expect(c.last.added).toMatchObject([
      { act: 'note', note: 'noted', item: { name: 'visit_wanted', value: 'yes' }, said: 'person' },
    ]);
    expect(reply.ask?.check).toBe('gate-now');
  });
  test('"why" tells what each outcome would leave', async () => {
    const c = await open();
    await throughGates(c);
    const reply = await c.say('why');
    expect(text(reply, 'explain')).toMatch(/- \*.+\* leaves .+\./);
  });
  test.each(['not sure', 'cannot', 'later'])('"%s" goes to the open check', async (said) => {
    const c = await open();
    const before = await throughGates(c);
    await c.say(said);
    expect(c.last.added).toMatchObject([
      { about: { check: before.ask!.check }, act: { 'not sure': 'unsure', cannot: 'declined', later: 'later' }[said] },
    ]);
    expect(c.last.reply.ask?.check).not.toBe(before.ask!.check);
  });
  test('"no" to a list is "none of these"', async () => {
    const c = await open();
    await c.say('none');
    expect(c.fact('gas_smell')).toBe('no');
    expect(text(c.last.reply, 'say')).toMatch(/None of these/);
  });
  test('a "no" that is no plain one clears no list of dangers', async () => {
    const c = await open();
    await c.say('no');
    expect(c.fact('gas_smell')).toBeUndefined();
    expect(c.last.reply.ask?.check).toBe('gate-now');
  });
  test('"I am qualified" counts from a technician alone', async () => {
    const c = await open();
    await c.say('I am qualified');
    expect(c.fact('qualified')).toBe('yes');
    const owner = await open('homeowner');
    await owner.say('I am qualified');
    expect([owner.fact('qualified'), owner.last.added]).toEqual([undefined, []]);
  });
});

describe('one sentence taken two ways', () => {
  const gate: Meaning = { is: 'answer', fact: 'gate-signs', value: 'lights-dip-on-start', evidence: '' };
  const two = talkOf({
    'lights dip': [gate, { is: 'answer', fact: 'house_lights', value: 'dip-on-start', evidence: '' }],
    'minus five': [{ is: 'reading', what: 'ohms', value: -5, evidence: '' }],
    'coil ten': [{ is: 'reading', what: 'ohms', value: 10, evidence: '' }],
    either: table['this or that']!,
  });
  test('is told once, and a list named from is not thereby read to its end', async () => {
    const c = await Case.open(two, 'homeowner');
    await c.tell('complaint', 'no-heat');
    await c.tell('gate-now', 'none');
    await c.tell('ask-kind', 'electric-vented');
    const reply = await c.say('lights dip');
    expect(c.last.added).toMatchObject([{ fact: 'house_lights', value: 'dip-on-start' }]);
    expect(reply.ask).toMatchObject({ check: 'gate-signs', text: expect.stringMatching(/^Anything else on this list/) });
    await c.tell('gate-signs', 'none');
    expect([c.fact('house_lights'), c.fact('water_seen')]).toEqual(['dip-on-start', 'no']);
  });
  test('a reading that cannot be is refused before anyone asks where it was taken; else only places that go by its words are offered', async () => {
    const c = await Case.open(two, 'technician');
    await c.tell('complaint', 'no-heat');
    expect(text(await c.say('minus five'), 'say')).toMatch(/-5 Ω cannot be/);
    const reply = await c.say('coil ten');
    expect(reply.ask!.choices.length).toBeGreaterThan(0);
    expect(reply.ask!.choices.every((x) => x.label.includes('coil'))).toBe(true);
  });
  test('what is not this person’s to state and was only let fall is kept for the job sheet, with no word of reproach', async () => {
    const c = await Case.open(
      talkOf({ 'tenant says cold': [{ is: 'answer', fact: 'rented', value: 'yes', evidence: '' }, ...table['no heat']!] }),
      'technician',
    );
    const reply = await c.say('tenant says cold');
    expect([c.last.view.families, c.fact('rented')]).toEqual([['no-heat'], undefined]);
    expect(text(reply, 'say')).not.toMatch(/may state/);
    const sheet = (await talk.sheet(c.record)).json as { complaint: { said: string[] } };
    expect(sheet.complaint.said).toEqual(['tenant says cold']);
  });
  test('asked back once, it is not asked back in the same words again', async () => {
    const c = await Case.open(two, 'homeowner');
    await c.tell('complaint', 'no-heat');
    const once = await c.say('either');
    const twice = await c.say('either');
    expect(once.ask!.check).toBe('which');
    expect(twice.ask).toMatchObject({ check: 'gate-now', text: expect.stringMatching(/^I still did not get that/) });
  });
});

describe('taking back', () => {
  test('undo takes the last turn that told something, whatever was not understood since', async () => {
    const c = await open();
    await c.tell('fuel', 'gas');
    await c.tell('gate-now', 'none');
    await c.say('hm');
    await c.say('undo');
    expect([c.fact('gas_smell'), c.fact('fuel')]).toEqual([undefined, 'gas']);
    await c.undo();
    expect([c.fact('fuel'), c.last.view.families]).toEqual([undefined, ['no-heat']]);
    await c.undo();
    expect(c.last.view.families).toEqual([]);
    const none = await talk.undo(c.record);
    expect(isRefused(none) && none.problem.code).toBe('nothing-to-undo');
    expect(text(await c.say('undo'), 'explain')).toMatch(/nothing to take back/);
  });
  test('undo, then the same again, is the case as it was', async () => {
    const c = await open();
    await c.tell('gate-now', 'none');
    const once = await c.tell('fuel', 'electric');
    await c.undo();
    const again = await c.tell('fuel', 'electric');
    const plain = ({ consultation: q }: typeof once) => [q.suspects.map((s) => [s.faults, s.share, s.live]), q.next, q.stops];
    expect(plain(again)).toEqual(plain(once));
  });
  test('a conversation that never saw the case says the same as the one that led it', async () => {
    const c = await open();
    await throughGates(c);
    await c.tell('coil_ohms', 'open');
    const warm = await talk.look(c.record);
    const cold = await talkOf(table).look(structuredClone(c.record));
    expect(JSON.stringify(cold)).toBe(JSON.stringify(warm));
  });
  test('a change stands in the place of what it changes', async () => {
    const c = await open();
    await c.tell('coil_ohms', 98);
    await c.tell('fuel', 'electric');
    const reply = await c.change(c.seq('coil_ohms'), 9.8);
    expect(reply.evidence.filter((r) => r.fact === 'coil_ohms')).toMatchObject([{ value: 9.8, verdict: 'good' }]);
    const gone = await talk.change(c.record, 1, 9.9);
    expect(isRefused(gone) && gone.problem.code).toBe('no-such-answer');
    const bad = await talk.change(c.record, c.seq('coil_ohms'), -5);
    expect(isRefused(bad) && bad.problem.code).toBe('not-possible');
  });
  test('the order of answers changes no verdict and no share', async () => {
    const told: [string, string | number][] = [
      ['fuel', 'electric'],
      ['coil_ohms', 10],
      ['warmth', 'never-warm'],
      ['between_legs_idle', 240],
    ];
    const end = async (order: typeof told) => {
      const c = await open();
      for (const [fact, value] of order) await c.tell(fact, value);
      const q = c.last.reply;
      return [
        q.suspects.map((s) => [s.faults, s.share, s.live]),
        Object.fromEntries(q.evidence.map((r) => [r.fact, [r.verdict, r.expectedShown]])),
      ];
    };
    expect(await end(told.toReversed())).toEqual(await end(told));
  });
});

describe('settings', () => {
  test('audience, units and machine change from here on, and undo takes them back', async () => {
    const c = await open('homeowner');
    c.take(await talk.patch(c.record, { audience: 'technician', qualified: true }));
    expect([c.last.view.audience, c.fact('qualified')]).toEqual(['technician', 'yes']);
    await c.undo();
    expect([c.last.view.audience, c.fact('qualified')]).toEqual(['homeowner', undefined]);
    const turn = await talk.patch(c.record, { qualified: true });
    expect(isRefused(turn) && turn.problem.code).toBe('not-yours');
  });
});

describe('whatever is wrong with the machine', () => {
  const faults = [
    'element-open',
    'supply-leg-lost-other-leg',
    'thermal-cutoff-open',
    'setting-air-only',
    'vent-duct-restricted',
    'terminal-block-burnt-other-leg',
  ];
  test.each(faults)('%s: a homeowner or a caller is never asked for a reading, and the talk ends in who comes', async (fault) => {
    for (const who of ['homeowner', 'agent'] as const) {
      const c = await Case.open(talk, who);
      await c.tell('complaint', 'no-heat');
      const reply = await inWorld(c, fault);
      const asked = c.record.answers.flatMap((a) => checkIn(a) ?? []);
      expect(asked.filter((id) => (k.checks.get(id)?.level ?? 0) > 1)).toEqual([]);
      expect(reply.consultation.conclusion).toBeDefined();
      expect(reply.consultation.referral?.trades.length).toBeGreaterThan(0);
      expect(text(reply, 'refer')).toMatch(/Who: /);
    }
  });
});

describe('a sensor and how warm it was', () => {
  const reading = (at_c?: number): Meaning[] => [
    {
      is: 'reading',
      what: 'ohms',
      value: 15_700,
      unit: 'Ω',
      fact: 'thermistor_ohms',
      evidence: '',
      ...(at_c !== undefined && { at_c }),
    },
  ];
  const here = talkOf({
    cold: reading(15),
    bare: reading(),
    '15 C': [{ is: 'reading', what: 'temperature', value: 15, evidence: '' }],
  });
  const begun = async () => {
    const c = await Case.open(here, 'technician', { circuits: ['electronic-relay-thermistor'] });
    await c.tell('complaint', 'overheats');
    await throughGates(c);
    return c;
  };
  test('told in one breath, both are taken', async () => {
    const c = await begun();
    await c.say('cold');
    const told = toldIn(c.last.added);
    expect(told).toEqual([
      ['thermistor_ohms', 15_700],
      ['sensor_temperature', 15],
    ]);
  });
  test('told alone, the warmth is asked as a number, and answered with one', async () => {
    const c = await begun();
    const reply = await c.say('bare');
    expect(reply.ask).toMatchObject({ check: 'sensor-temperature', kind: 'readings', choices: [] });
    expect(reply.ask!.reads).toEqual([expect.objectContaining({ fact: 'sensor_temperature', unit: '°C' })]);
    expect(reply.ask!.wiring).toBeUndefined();
    await c.say('15 C');
    expect(toldIn(c.last.added)).toEqual([['sensor_temperature', 15]]);
    expect(c.last.reply.ask?.check).not.toBe('sensor-temperature');
  });
});
