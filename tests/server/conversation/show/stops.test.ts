import { describe, expect, test } from 'vitest';
import { usesPower } from '../../../../rules/knowledge/touches.ts';
import { safeChoice } from '../../../../server/conversation/stand/danger-ask.ts';
import type { Meaning } from '../../../../server/types.ts';
import { Case, k, talkOf, text } from '../parts.ts';

const table: Record<string, Meaning[]> = {
  'no gas': [{ is: 'answer', fact: 'gas_smell', value: 'no', evidence: '' }],
  gas: [{ is: 'hazard', fact: 'gas_smell', value: 'yes', sure: true, evidence: '' }],
  'gas, and somebody is down': [
    { is: 'hazard', fact: 'gas_smell', value: 'yes', sure: true, evidence: '' },
    { is: 'hazard', fact: 'person_held_or_hurt', value: 'yes', sure: true, evidence: '' },
  ],
  'maybe gas': [{ is: 'hazard', fact: 'gas_smell', value: 'yes', sure: false, evidence: '' }],
  'water, maybe': [{ is: 'hazard', fact: 'water_seen', value: 'yes', sure: false, evidence: '' }],
  'no, it was paint': [{ is: 'talk', what: 'no', evidence: '' }],
  no: [{ is: 'talk', what: 'no', evidence: '' }],
  yes: [{ is: 'talk', what: 'yes', evidence: '' }],
  'made safe': [{ is: 'talk', what: 'made-safe', evidence: '' }],
  undo: [{ is: 'talk', what: 'undo', evidence: '' }],
};
const talk = talkOf(table);
const open = async (who: 'homeowner' | 'agent' | 'technician' = 'homeowner') => {
  const c = await Case.open(talk, who);
  await c.tell('complaint', 'no-heat');
  return c;
};
const signs = (c: Case) => c.last.reply.consultation.stops.map((s) => s.sign);

describe('a stop', () => {
  test('is said alone: no question, no verdict, no end', async () => {
    for (const who of ['homeowner', 'agent', 'technician'] as const) {
      const c = await open(who);
      const reply = await c.say('gas');
      expect(reply.parts.map((p) => p.kind)).toEqual(reply.parts.map(() => 'stop'));
      expect(reply.ask).toBeUndefined();
      expect(text(reply)).toMatch(/Leave the house now/);
      expect(text(await c.say('and what is a leg?'))).toMatch(/The stop still stands: gas smell or hiss.*Leave the house now/s);
    }
  });

  test('gas leaves out every sentence that works a switch, a breaker or a phone in the house, whichever stop it belongs to', async () => {
    const c = await open();
    const reply = await c.say('gas, and somebody is down');
    expect(signs(c)).toEqual(['person-held', 'gas-smell']);
    const said = text(reply);
    expect(said.indexOf('Do not touch them.')).toBeGreaterThan(-1);
    expect(said.indexOf('Do not touch them.')).toBeLessThan(said.indexOf('Leave the house now.'));
    expect(said).not.toMatch(/Cut the power/);
    // The person's own "call now" is said where gas is: it goes, and "call from outside" stays.
    expect(said).not.toMatch(/Call the emergency number now\./);
    expect(said).toMatch(/call from outside/i);
  });

  test('whatever holds, nothing silenced is said, and nothing twice', async () => {
    let stopped = 0;
    for (const stop of k.rules.stops.filter((r) => r.then.stop)) {
      const c = await open();
      for (const [fact, value] of factsOf(stop.when)) await c.tell(fact, value).catch(() => undefined);
      const { reply } = c.last;
      stopped += reply.consultation.stops.length > 0 ? 1 : 0;
      const lines = reply.parts.flatMap((p) => p.text.split('\n\n'));
      const silenced = new Set(reply.consultation.silenced);
      const forbidden = new Set(reply.consultation.stops.flatMap((s) => s.suppresses));
      const held = reply.consultation.stops.flatMap((s) => k.stops.get(s.sign)!.sayNow.default ?? []);
      for (const line of held) {
        const never = line.touches.some((t) => forbidden.has(t));
        const plain = line.text.includes('{') ? undefined : line.text;
        if (line.touches.some((t) => silenced.has(t)) && plain && plain !== line.gasUnknown) expect(lines).not.toContain(plain);
        // Held back for the gas question alone: said with its "if", not dropped.
        if (!never && line.gasUnknown && !line.gasUnknown.includes('{') && line.touches.some((t) => silenced.has(t)))
          expect(lines).toContain(line.gasUnknown);
      }
      expect(lines.length).toBe(new Set(lines).size);
    }
    expect(stopped).toBeGreaterThan(20);
  });

  test('a call for help is never dropped, whatever is not known of gas', async () => {
    for (const [fact, value] of [
      ['person_held_or_hurt', 'yes'],
      ['trapped_or_caught', 'yes'],
      ['house_lights', 'half-out'],
    ] as const) {
      const c = await open();
      expect(text(await c.tell(fact, value))).toMatch(/Call the (emergency number|power company)/);
    }
  });

  test('the numbers are the region’s, where one is given', async () => {
    const c = await Case.open(talkOf(table, 'US'), 'homeowner');
    expect(text(await c.say('gas'))).toMatch(/Call 911 too/);
    const gb = await Case.open(talkOf(table, 'GB'), 'homeowner');
    expect(text(await gb.say('gas'))).toMatch(/0800 111 999/);
    const any = await open();
    expect(text(await any.say('gas'))).toMatch(/Call the emergency number too/);
  });

  test('"not sure" counts as yes where that is the safe side, and a hint of danger always does', async () => {
    const c = await open();
    await c.say('maybe gas');
    expect([c.last.added[0]!.act, signs(c)]).toEqual(['unsure', ['gas-smell']]);
    const d = await open();
    await d.say('water, maybe');
    expect([d.last.added[0]!.act, signs(d)]).toEqual(['tell', ['water']]);
  });
});

describe('a stop is lifted only by a correction said twice', () => {
  test.each<[string, (c: Case) => Promise<unknown>]>([
    ['typed', (c) => c.say('no gas')],
    ['structured', (c) => c.tell('gas_smell', 'no')],
    ['changed in place', (c) => c.change(c.seq('gas_smell'), 'no')],
    ['taken back', (c) => c.undo()],
    ['taken back by word', (c) => c.say('undo')],
  ])('%s', async (_, correct) => {
    const c = await open();
    await c.tell('fuel', 'electric');
    await c.say('gas');
    await correct(c);
    expect(signs(c)).toEqual(['gas-smell']);
    expect(c.last.reply.ask).toMatchObject({ check: 'read-back', kind: 'one' });
    expect(text(c.last.reply, 'stop')).toMatch(/Leave the house now/);
    await c.say('yes');
    expect(signs(c)).toEqual([]);
    expect(c.last.reply.ask?.check).toBe('gate-now');
  });
  test('"no" leaves it, and so does anything else', async () => {
    const c = await open();
    await c.say('gas');
    await c.say('no gas');
    await c.say('no');
    expect(signs(c)).toEqual(['gas-smell']);
    expect(c.last.reply.ask).toBeUndefined();
    await c.say('no gas');
    await c.say('hm');
    expect(signs(c)).toEqual(['gas-smell']);
    await c.say('yes');
    expect(signs(c)).toEqual(['gas-smell']);
  });
  test('a denial that names nothing is read back where one danger alone stands, and a bare "no" is none', async () => {
    const c = await open();
    await c.say('gas');
    await c.say('no');
    expect(c.last.reply.ask).toBeUndefined();
    await c.say('no, it was paint');
    expect([signs(c), c.last.reply.ask?.check]).toEqual([['gas-smell'], 'read-back']);
    const two = await open();
    await two.say('gas, and somebody is down');
    await two.say('no, it was paint');
    expect(two.last.reply.ask).toBeUndefined();
  });
  test('by button as well', async () => {
    const c = await open();
    await c.say('gas');
    await c.tell('gas_smell', 'no');
    await c.tell('read-back', 'yes');
    expect(signs(c)).toEqual([]);
  });
  test('"not sure" is lifted the same way, and only for what was said', async () => {
    const c = await open();
    await c.tell('gate-now', 'unsure');
    const all = signs(c);
    await c.tell('gas_smell', 'no');
    expect(signs(c)).toEqual(all);
    await c.tell('read-back', 'yes');
    expect(signs(c)).toEqual(all.filter((s) => s !== 'gas-smell'));
  });
  test('"none of these" does not lift it', async () => {
    const c = await open();
    await c.say('gas');
    await c.tell('gate-now', 'none');
    expect(signs(c)).toEqual(['gas-smell']);
  });
});

describe('a danger that no list asks about stops the talk as soon as it is told', () => {
  const told = [...k.facts.values()].filter((f) => f.volunteered && f.danger);
  test('each by everybody, with a plain answer that says no', async () => {
    expect(told.map((f) => f.id)).toEqual([
      'person_down',
      'burnt_hand',
      'wall_hot',
      'in_the_load',
      'ground_state',
      'breaker_number',
      'panel_cover',
      'outlet_loose',
      'duct_plastic',
      'run_without_filter',
      'hood_kind',
      'stack_firm',
      'old_wrap',
    ]);
    for (const f of told)
      for (const who of ['homeowner', 'agent', 'technician'] as const)
        for (const choice of f.choices!) {
          const c = await open(who);
          await c.tell(f.id, choice);
          expect(signs(c).length > 0, `${f.id} ${choice} ${who}`).toBe(f.danger!.includes(choice));
        }
  });
  test('a plain no to "indoors?" or "does it wobble?" tells no kind of hood and no stack', () => {
    expect(['hood_kind', 'stack_firm'].map((f) => safeChoice(k, f))).toEqual(['outdoors', 'steady']);
  });
  test('help for a person comes first, and power is cut only with its "if" while gas is not ruled out', async () => {
    const c = await open();
    await c.tell('burnt_hand', 'yes');
    await c.tell('person_down', 'yes');
    expect(signs(c)).toEqual(['not-breathing', 'burn']);
    expect(text(c.last.reply)).toMatch(/do not touch them\..*If you smell no gas, cut the power first.*cool running water/s);
  });
  test('where gas is smelled, nothing is switched and nobody phones inside', async () => {
    const c = await open();
    await c.say('gas');
    await c.tell('in_the_load', 'battery-or-vape');
    await c.tell('person_down', 'yes');
    await c.tell('breaker_number', '40-or-more');
    expect(text(c.last.reply)).not.toMatch(/dryer off, door|[Tt]urn the|[Cc]ut the power|on speaker/);
    expect(text(c.last.reply)).toMatch(/leave the dryer as it is, with the door shut/);
  });
});

describe('a danger that a meter found stops like one that was told', () => {
  const legs = { between_legs_idle: 240, motor_leg_to_neutral_idle: 88, other_leg_to_neutral_idle: 152 };
  const read = async (c: Case) => {
    for (const [fact, value] of Object.entries(legs)) await c.tell(fact, value);
  };
  test('whoever read it', async () => {
    for (const who of ['homeowner', 'agent', 'technician'] as const) {
      const c = await open(who);
      await read(c);
      expect(signs(c)).toEqual(['service-neutral']);
      expect(c.last.reply.ask).toBeUndefined();
      expect(text(c.last.reply)).toMatch(/power company's emergency line/);
    }
  });
  test('another number later does not lift it; the reading put right does, once read back', async () => {
    const c = await open('technician');
    await read(c);
    await c.tell('motor_leg_to_neutral_idle', 120);
    expect(signs(c)).toEqual(['service-neutral']);
    const d = await open('technician');
    await read(d);
    const seq = d.seq('motor_leg_to_neutral_idle');
    await d.change(seq, 120);
    expect([signs(d), d.last.reply.ask?.check]).toEqual([['service-neutral'], 'read-back']);
    await d.say('no');
    expect(signs(d)).toEqual(['service-neutral']);
    await d.change(seq, 120);
    await d.say('yes');
    expect(signs(d)).toEqual([]);
  });
  test('taken back, it is read back first', async () => {
    const c = await open('technician');
    await read(c);
    await c.undo();
    expect([signs(c), c.last.reply.ask?.check]).toEqual([['service-neutral'], 'read-back']);
    await c.say('yes');
    expect(signs(c)).toEqual([]);
  });
  test('"made safe" holds for what was found so far, and not for the next reading', async () => {
    const c = await open('technician');
    await c.tell('case_volts', 62);
    expect(signs(c)).toEqual(['live-cabinet']);
    await c.say('made safe');
    expect(signs(c)).toEqual([]);
    await c.tell('case_volts', 58);
    expect(signs(c)).toEqual(['live-cabinet']);
    await c.say('made safe');
    expect(signs(c)).toEqual([]);
  });
});

test('"made safe" from a technician lets dead work go on, from nobody else and not for what needs outside help', async () => {
  const c = await open('technician');
  await c.tell('sparks_or_bang', 'yes');
  expect(text(c.last.reply)).toMatch(/say "made safe"/);
  await c.say('made safe');
  expect(signs(c)).toEqual([]);
  const owner = await open('homeowner');
  await owner.tell('sparks_or_bang', 'yes');
  expect(text(owner.last.reply)).not.toMatch(/made safe/);
  await owner.say('made safe');
  expect(signs(owner)).toEqual(['sparks-or-bang']);
  const gas = await open('technician');
  await gas.say('gas');
  await gas.say('made safe');
  expect(signs(gas)).toEqual(['gas-smell']);
});

test('a technician works on the very sign they were called for, and the end says that power is not given back', async () => {
  for (const [fact, value] of [
    ['shock_kind', 'tingle'],
    ['water_seen', 'yes'],
    ['flame_or_smoke', 'earlier'],
  ] as const) {
    const c = await open('technician');
    await c.tell(fact, value);
    await c.say('made safe');
    expect(signs(c)).toEqual([]);
    expect(c.last.reply.ask).toBeDefined();
    for (let i = 0; i < 60 && c.last.reply.ask?.check !== 'ask-repair-done' && c.last.reply.ask; i++) {
      const { check, choices, kind } = c.last.reply.ask;
      expect(usesPower(k.checks.get(check)!.touches), check).toBe(false);
      if (kind === 'many') await c.tell(check, 'none');
      else if (kind === 'one') await c.tell(choices[0]!.fact ?? check, choices[0]!.id);
      else await c.tell(check, undefined, { act: 'declined' });
    }
    expect(text(c.last.reply, 'explain')).toMatch(/power is not given back here/);
    expect(text(c.last.reply, 'refer')).toMatch(/It must not be used meanwhile/);
  }
});

test('whoever is not at ease is not talked out of it by "made safe"', async () => {
  const c = await open('technician');
  await c.tell('at_ease', 'no');
  expect(text(c.last.reply)).not.toMatch(/made safe/);
  await c.say('made safe');
  expect(signs(c)).toEqual(['not-at-ease']);
});

test('"made safe" holds for the dangers told so far: not before one, and not for the next', async () => {
  const c = await open('technician');
  expect(text(await c.say('made safe'), 'say')).toMatch(/nothing to make safe/);
  expect(c.last.added).toEqual([]);
  await c.tell('sparks_or_bang', 'yes');
  await c.say('made safe');
  expect(signs(c)).toEqual([]);
  await c.tell('charred_lint', 'yes');
  expect(signs(c)).toEqual(['sparks-or-bang', 'charred-lint']);
  await c.say('made safe');
  expect(signs(c)).toEqual([]);
});

/** Facts that make a condition hold, as far as it says so itself. */
function factsOf(when: unknown): [string, string][] {
  const c = when as { all?: unknown[]; any?: unknown[]; fact?: string; value?: unknown };
  if (c.all) return c.all.flatMap(factsOf);
  if (c.any) return factsOf(c.any[0]);
  const value = Array.isArray(c.value) ? c.value[0] : c.value;
  return c.fact && k.facts.has(c.fact) && typeof value === 'string' ? [[c.fact, value]] : [];
}
