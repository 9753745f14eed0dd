import { describe, expect, test } from 'vitest';
import type { Answer, Audience, Reading } from '../../../../rules/types.ts';
import { conversationOf } from '../../../../server/conversation/create.ts';
import { stopReply } from '../../../../server/conversation/show/stop-answers.ts';
import type { Saying } from '../../../../server/conversation/stand/said.ts';
import { ourWords } from '../../../../server/conversation/words/index.ts';
import { speaker } from '../../../../server/conversation/words/speaker.ts';
import { LANGUAGES, type Language } from '../../../../server/languages.ts';
import type { Part } from '../../../../server/types.ts';
import { understand } from '../../../../server/understand/index.ts';
import { Case, k, text } from '../parts.ts';

const all = ourWords(k);
const spoken = (Object.entries(LANGUAGES) as [Language, readonly Audience[]][]).flatMap(([language, who]) =>
  who.map((audience) => [language, audience] as const),
);
const GAS_HOLDS_BACK = k.rules.stops.flatMap((r) => r.then.silence ?? []).filter((touch, i, list) => list.indexOf(touch) === i);

interface Now {
  signs: readonly string[];
  gasUnknown?: boolean;
  done?: readonly string[];
}
/** A case in which these signs stand, and nothing else is known. */
function saying(language: Language, audience: Audience, { signs, gasUnknown, done = [] }: Now): Saying {
  const stops = signs.map((sign) => k.stops.get(sign)!).toSorted((a, b) => a.precedence - b.precedence);
  const answers = done.map(
    (fact, i): Answer => ({ act: 'note', note: 'done', did: fact, said: '', seq: i + 1, turn: 1, by: audience }),
  );
  const at = {
    c: {
      stops: stops.map((s) => ({ sign: s.id, rule: '', suppresses: s.suppresses, standsUntil: s.standsUntil })),
      silenced: gasUnknown ? GAS_HOLDS_BACK : [],
    },
    facts: { readings: [] as Reading[], audience },
    answers,
  } as unknown as Saying['at'];
  return { k, at, s: speaker(all.find((w) => w.language === language)!, k, audience) };
}
const ask = (x: Saying, asks: readonly string[], region?: string): Part[] =>
  stopReply(x, { region }, { heard: { asks: [...asks], done: [] }, talk: [], topics: [] }, true, false);
const words = (parts: readonly Part[]) => parts.map((p) => p.text).join('\n\n');
const sentencesOf = (said: string) => said.split(/(?<=[.?:])\s+|\n+/).filter(Boolean);

const signs = [...k.stops.keys()];
const pairs = signs.flatMap((a, i) => signs.slice(i + 1).map((b) => [a, b]));
const questions = [...k.stopQuestions.keys()];
/** Tells to put a hand on the breaker or the plug; a "no", a "leave" or an "only if" makes it another sentence. */
const WORKS_BREAKER = /\b(turn|flip|push|cut)\b[^.]*\b(breaker|power|off)\b|\b(apague|corte|baje|empuje)\b/i;
const PULLS_PLUG = /\b(you may|puede) (pull|sacar)|\bpull the plug|\bsaque el enchufe/i;
const NOT: Record<Language, RegExp> = { en: /\b(not|never|neither|leave)\b/i, es: /\b(no|nunca|deje|ninguno)\b/i };
const tellsTo = (what: RegExp, language: Language) => (s: string) =>
  what.test(s) && !NOT[language].test(s.replace(/si no huele a gas|ni huele a gas/i, ''));

describe.each(spoken)('in %s, to a %s', (language, audience) => {
  test('every question has an answer at every stop, alone and two at a time: first the answer, then a few sentences', () => {
    for (const at of [...signs.map((s) => [s]), ...pairs]) {
      const x = saying(language, audience, { signs: at });
      const whole = words(stopReply(x, {}, undefined, true, false));
      for (const id of questions) {
        const parts = ask(x, [id]);
        const where = `${at.join(', ')}: ${id}`;
        expect(
          parts.map((p) => p.kind),
          where,
        ).toEqual(['stop', 'stop']);
        expect(parts[0]!.text.trim().length, where).toBeGreaterThan(10);
        expect(words(parts), where).not.toMatch(/[{}]|undefined/);
        const lines = parts[1]!.text.split('\n\n').slice(1);
        expect(lines.length, where).toBeGreaterThan(0);
        expect(lines.length, where).toBeLessThanOrEqual(2);
        for (const line of lines) expect(whole, where).toContain(line);
      }
    }
  });

  test('nobody is sent to breaker, panel or plug where a danger that stands forbids it', () => {
    for (const at of [...signs.map((s) => [s]), ...pairs]) {
      const bars = new Set(at.flatMap((sign) => k.stops.get(sign)!.suppresses));
      const x = saying(language, audience, { signs: at });
      for (const id of questions) {
        const said = sentencesOf(ask(x, [id])[0]!.text);
        const tells = (what: RegExp) => said.filter(tellsTo(what, language));
        if (bars.has('breaker-off')) expect(tells(WORKS_BREAKER), `${at}: ${id}`).toEqual([]);
        if (bars.has('plug-out') || bars.has('touch-machine')) expect(tells(PULLS_PLUG), `${at}: ${id}`).toEqual([]);
        if (bars.has('phone-here') && said.some((s) => /^(Call|Llame)\b/.test(s)))
          expect(said.join(' '), `${at}: ${id}`).toMatch(/outside|afuera/i);
      }
    }
  });

  test('while gas is not ruled out, whatever an answer lets somebody touch has its "if"', () => {
    for (const at of signs.map((s) => [s])) {
      const x = saying(language, audience, { signs: at, gasUnknown: true });
      for (const id of questions) {
        const answer = ask(x, [id])[0]!.text;
        const touches = sentencesOf(answer).some((s) => [WORKS_BREAKER, PULLS_PLUG].some((what) => tellsTo(what, language)(s)));
        if (touches) expect(answer, `${at}: ${id}`).toMatch(/smell(s)? (no )?gas|huele a gas/i);
      }
    }
  });

  test('everyone out, nobody is sent back in to breaker, plug or door', () => {
    const away = signs.filter((sign) => k.stops.get(sign)!.suppresses.includes('stay-near'));
    expect(away.length).toBeGreaterThan(3);
    for (const sign of away)
      for (const other of signs) {
        const x = saying(language, audience, { signs: [sign, ...(other === sign ? [] : [other])], done: ['out'] });
        const said = sentencesOf(
          [...questions.map((id) => words(ask(x, [id]))), words(stopReply(x, {}, undefined, true, false))].join('\n\n'),
        );
        const sends = said.filter((s) => [WORKS_BREAKER, PULLS_PLUG].some((what) => tellsTo(what, language)(s)));
        expect(sends, `${sign}, ${other}`).toEqual([]);
      }
  });

  test('what is done is not asked for again, and the rest stays', () => {
    for (const sign of signs) {
      const lines = k.stops.get(sign)!.sayNow.default!;
      for (const act of new Set(lines.flatMap((l) => l.does ?? []))) {
        const before = words(stopReply(saying(language, audience, { signs: [sign] }), {}, undefined, true, false));
        const after = words(stopReply(saying(language, audience, { signs: [sign], done: [act] }), {}, undefined, true, false));
        const gone = before.split('\n\n').filter((line) => !after.split('\n\n').includes(line));
        const one = lines.filter((l) => l.does?.every((d) => d === act));
        expect(gone.length, `${sign}, ${act}`).toBeGreaterThanOrEqual(one.length);
        expect(after.split('\n\n').length, `${sign}, ${act}`).toBeGreaterThanOrEqual(2);
      }
    }
  });
});

const talk = conversationOf({ k, words: all, understand, region: 'US' });
const stopped = async (danger: string, who: Audience = 'homeowner') => {
  const c = await Case.open(talk, who);
  await c.tell('complaint', 'no-heat');
  const said = await c.say(danger);
  expect(said.consultation.stops.length).toBeGreaterThan(0);
  return c;
};
const first = async (c: Case, said: string) => (await c.say(said)).parts[0]!.text;

describe('a homeowner who asks', () => {
  test.each([
    ['I smell gas', 'who do I call', /gas company.*911.*outside/s],
    ['I smell gas', 'can I call from in here?', /outside/],
    ['I smell gas', 'is it safe to unplug it', /^Leave the plug and get away/],
    ['I smell gas', 'unplug it or flip the breaker?', /^Neither/],
    ['I smell gas', 'can I go back in for my cat', /^Stay out/],
    ['I smell gas', 'how long do I stay out', /until.*safe/i],
    ['I smell gas', 'why', /spark/],
    ['the plug is melted', 'is it safe to unplug it', /^Leave the plug in/],
    ['the plug is melted', 'unplug it or flip the breaker?', /^The breaker, not the plug/],
    ['the plug is melted', 'can I get my clothes out', /clothes can wait/],
    ['the plug is melted', 'do I wait for you', /^I am a program, and I send nobody/],
    ['I got a shock from the dryer', 'do I need a doctor', /real shock must see a doctor/],
    ['I got a shock from the dryer', 'she says she feels fine', /even if they feel fine/],
    ['there are flames in the dryer right now', 'can I open the door', /^Keep it shut/],
    ['there are flames in the dryer right now', 'can I put water on it', /^Do not fight it/],
    ['the breaker trips again every time I reset it', 'can I reset it once more', /^Leave it off/],
    ['the breaker trips again every time I reset it', 'should I turn the breaker off', /^Leave the panel alone/],
    ['a child is stuck in the drum', 'can I open the door', /^Open the dryer door/],
    ['it smells like burning', 'is it ok to use it now', /^Do not use the dryer/],
    ['it smells like burning', 'what do I tell them', /burning smell.*clothes dryer/s],
  ])('"%s": "%s"', async (danger, question, answer) => {
    const c = await stopped(danger);
    const whole = text(c.last.reply);
    const reply = await c.say(question);
    expect(reply.parts[0]!.text).toMatch(answer);
    expect(reply.parts[1]!.text).toMatch(/^\*\*The stop still stands: /);
    expect(text(reply).length).toBeLessThan(whole.length + 120);
    expect(reply.consultation.stops.length).toBeGreaterThan(0);
    expect(c.last.added).toEqual([]);
  });

  test('what is no question of ours is said so, and where to ask', async () => {
    const c = await stopped('I smell gas');
    expect(await first(c, 'will my insurance pay for this?')).toMatch(/^I cannot tell that from here.*the people you call/s);
    const d = await stopped('the plug is melted');
    expect(await first(d, 'is Tuesday a good day?')).toMatch(/^I cannot tell that from here.*licensed electrician/s);
  });

  test('a question in the same breath as the danger is answered before the whole stop', async () => {
    const c = await Case.open(talk, 'homeowner');
    await c.tell('complaint', 'no-heat');
    const reply = await c.say('the plug is melted, should I unplug it');
    expect(reply.parts.map((p) => p.kind)).toEqual(['stop', 'stop', 'stop']);
    expect(reply.parts[0]!.text).toMatch(/^Leave the plug in/);
    expect(reply.parts[1]!.text).toMatch(/^\*\*Stop: .*Do not pull a hot or melted plug/s);
  });

  test('things that get an answer wherever they come up get it here, too', async () => {
    const c = await stopped('the plug is melted');
    expect(await first(c, 'what if I wear gloves')).toMatch(/gloves do not protect you/);
  });
});

describe('what is done already', () => {
  test('is acknowledged and ticked, and the rest follows for as long as the stop stands', async () => {
    const c = await stopped('the plug is melted');
    expect(text(c.last.reply)).toMatch(/turn the dryer breaker off/);
    const reply = await c.say('breaker is already off');
    expect(reply.parts[0]!.text).toBe('Good: the breaker is off. Leave it off.');
    expect(text(reply)).not.toMatch(/turn the dryer breaker off/);
    expect(text(reply)).toMatch(/Do not pull a hot or melted plug/);
    expect(text(await c.say('hm'))).not.toMatch(/turn the dryer breaker off/);
    expect(await first(c, 'unplug it or flip the breaker?')).toMatch(/^The breaker, and that is done/);
    expect(text(await c.say('I turned the breaker back on'))).toMatch(/the breaker is on.*turn the dryer breaker off/s);
  });
  test('with "what next" it is the rest', async () => {
    const c = await stopped('it smells like burning');
    const reply = await c.say("it's off now, what next");
    expect(reply.parts[0]!.text).toBe('Good: the dryer is off. Leave it off.');
    expect(text(reply)).not.toMatch(/Stop the dryer\./);
    expect(text(reply)).toMatch(/turn the dryer breaker off.*Do not start it again/s);
  });
  test('a call that is not named counts where only one is asked for', async () => {
    const c = await stopped('the carbon monoxide alarm is going off');
    expect(text(c.last.reply)).toMatch(/Call 911/);
    expect(text(await c.say('I called them'))).not.toMatch(/Call 911/);
    const gas = await stopped('I smell gas');
    expect(text(await gas.say('I called them'))).toMatch(/Call the gas line.*Call 911 too/s);
    expect(text(await gas.say('the gas company is on the way'))).not.toMatch(/Call the gas line/);
  });
  test('counts for this danger and not for one told later', async () => {
    const c = await stopped('the plug is melted');
    await c.say('the breaker is off');
    await c.tell('plug_marks', 'clean');
    await c.tell('read-back', 'yes');
    expect(c.last.reply.consultation.stops).toEqual([]);
    expect(text(await c.tell('sparks_or_bang', 'yes'))).toMatch(/turn the dryer breaker off/);
  });
  test('a hope or a question ticks nothing', async () => {
    const c = await stopped('the plug is melted');
    for (const said of ['I think the breaker is off', 'is the breaker off?', 'the breaker is not off'])
      expect(text(await c.say(said)), said).toMatch(/turn the dryer breaker off/);
  });
});

test('"go back in" takes nothing back; "undo" still does', async () => {
  const c = await stopped('I smell gas');
  const before = c.record.answers.length;
  await c.say('can I go back in for my cat');
  expect(c.record.answers.length).toBe(before);
  expect((await c.say('undo')).ask?.check).toBe('read-back');
});

test('a correction is read back with the whole stop, whatever was asked beside it', async () => {
  const c = await stopped('I smell gas');
  const reply = await c.say('no, there is no gas smell, can I go back in?');
  expect(reply.ask?.check).toBe('read-back');
  expect(text(reply, 'stop')).toMatch(/Leave the house now.*Wait until they say it is safe/s);
});

test('what a technician measured is kept while a stop stands', async () => {
  const c = await stopped('the plug is melted', 'technician');
  const reply = await c.say('leg to leg 240.5 V at rest');
  expect(c.fact('between_legs_idle')).toBe(240.5);
  expect(text(reply, 'stop')).toMatch(/The stop still stands/);
});

test('in Spanish the same, and a question alone that moves the case to Spanish is answered', async () => {
  const c = await stopped('the plug is melted');
  expect(await first(c, '¿la desenchufo o bajo el breaker?')).not.toMatch(/The breaker/);
  expect(text(c.last.reply)).toMatch(/El breaker, no el enchufe/);
});

test('who asks whether a person answers is told the truth, with a stop and without', async () => {
  const c = await Case.open(talk, 'homeowner');
  await c.tell('complaint', 'no-heat');
  expect(text(await c.say('are you a robot'))).toMatch(/I am a program with fixed rules\. No person answers here\./);
  const d = await stopped('I smell gas');
  expect(await first(d, 'are you a real person?')).toMatch(/^I am a program with fixed rules/);
});
