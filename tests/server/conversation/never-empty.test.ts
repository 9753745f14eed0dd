import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Audience } from '../../../rules/types.ts';
import { conversationOf } from '../../../server/conversation/create.ts';
import { ourWords } from '../../../server/conversation/words/index.ts';
import { LANGUAGES, type Language } from '../../../server/languages.ts';
import type { CaseRecord, ExplainedReply as Reply } from '../../../server/types.ts';
import { understand } from '../../../server/understand/index.ts';
import { Case, inWorld, isRefused, k } from './parts.ts';

const talk = conversationOf({ k, words: ourWords(k), understand });

/** Every sentence that stands in a file of test data, whatever it was written for. */
function sentencesOf(file: string): string[] {
  const out: string[] = [];
  const walk = (x: unknown): void => {
    if (typeof x === 'string') out.push(x);
    else if (x && typeof x === 'object')
      for (const [key, v] of Object.entries(x)) if (!/^(id|role|expects|tag|fact|note)$/.test(key)) walk(v);
  };
  walk(JSON.parse(readFileSync(`tests/data/${file}.json`, 'utf8')));
  return [...new Set(out)];
}
const ORDINARY: Record<Language, string[]> = {
  en: [
    'utterances-own',
    'utterances-more',
    'utterances-fresh',
    'utterances-held-back',
    'utterances-more-held-back',
    'dangers-said',
    'asked-in-a-stop',
    'tongues',
  ].flatMap(sentencesOf),
  es: ['utterances-es', 'dangers-said-es', 'asked-in-a-stop', 'tongues'].flatMap(sentencesOf),
};
const SHORT = [
  '',
  ' ',
  '.',
  '?',
  '...',
  'k',
  'no',
  'yes',
  'sí',
  'ok',
  'hm',
  '😀',
  '12',
  '-',
  'undo',
  'why',
  'por qué',
  'stop',
  '\n\n',
];

/** Sentences as people write them, two of them in one, words of them in any order, and anything a keyboard can make. */
const said = (language: Language): fc.Arbitrary<string> => {
  const one = fc.constantFrom(...ORDINARY[language]);
  const word = one.chain((text) => fc.constantFrom(...text.split(/\s+/)));
  return fc.oneof(
    { weight: 6, arbitrary: one },
    { weight: 2, arbitrary: fc.tuple(one, one, fc.constantFrom(' ', ', ', '. ', '?\n')).map(([a, b, by]) => a + by + b) },
    { weight: 2, arbitrary: fc.array(word, { minLength: 1, maxLength: 9 }).map((words) => words.join(' ')) },
    { weight: 1, arbitrary: fc.constantFrom(...SHORT) },
    { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 60 }) },
  );
};

const PLACES = ['opening', 'list', 'talk', 'readings', 'stop', 'read-back', 'which', 'end', 'referred'] as const;
type Place = (typeof PLACES)[number];
const DANGER: Record<Language, string> = { en: 'I smell gas', es: 'huele a gas' };
const DENIAL: Record<Language, string> = { en: 'there is no gas smell, I was wrong', es: 'no huele a gas, me equivoqué' };

/** A case led to this place; undefined where this person never comes there. */
async function at(place: Place, who: Audience, language: Language): Promise<CaseRecord | undefined> {
  const c = await Case.open(talk, who);
  c.record = { ...c.record, settings: { ...c.record.settings, language } };
  if (place === 'opening') return c.record;
  await c.tell('complaint', 'no-heat');
  if (place === 'referred') {
    await c.tell('fuel', 'gas');
    for (let i = 0; i < 30 && c.last.reply.ask; i++) {
      const { choices, kind } = c.last.reply.ask;
      await c.tell(choices[0]!.fact!, kind === 'many' ? 'none' : choices[0]!.id);
    }
    return c.last.reply.consultation.referral ? c.record : undefined;
  }
  if (place === 'list') return c.record;
  if (place === 'stop' || place === 'read-back') {
    await c.say(DANGER[language]);
    if (place === 'read-back') await c.say(DENIAL[language]);
    expect(c.last.reply.consultation.stops.length).toBe(1);
    expect(c.last.reply.ask?.check).toBe(place === 'stop' ? undefined : 'read-back');
    return c.record;
  }
  if (place === 'end') {
    await inWorld(c, 'vent-duct-restricted');
    return c.last.reply.consultation.conclusion ? c.record : undefined;
  }
  for (let i = 0; i < 30 && c.last.reply.ask; i++) {
    const { ask } = c.last.reply;
    if (place === 'talk' && i === 5) return c.record;
    if (ask.reads.length) break;
    const { fact = '', id } = ask.choices[0]!;
    const usual: Record<string, string> = { qualified: 'yes', slots: 'four', control_kind: 'dial', opt_in: 'no' };
    await c.tell(fact, ask.kind === 'many' ? 'none' : (usual[fact] ?? id));
  }
  if (!c.last.reply.ask?.reads.length) return undefined;
  if (place === 'which') await c.say('240 V');
  if (place === 'which' && c.last.reply.ask?.check !== 'which') return undefined;
  return c.record;
}

const spoken = (Object.entries(LANGUAGES) as [Language, readonly Audience[]][]).flatMap(([language, who]) =>
  who.map((audience) => [language, audience] as const),
);

const says = (reply: Reply): boolean => reply.ask !== undefined || reply.parts.some((p) => p.text.trim() !== '');
const RUNS = 40;

describe.each(spoken)('in %s, to a %s', { timeout: 240_000 }, (language, who) => {
  const places = new Map<Place, CaseRecord>();
  beforeAll(async () => {
    for (const place of PLACES) {
      const record = await at(place, who, language);
      if (record) places.set(place, record);
    }
  });
  test('every place is reached that this person comes to', () => {
    const measured: Place[] = who === 'technician' ? [] : ['readings', 'which'];
    expect([...places.keys()]).toEqual(PLACES.filter((place) => !measured.includes(place)));
  });
  test.each(PLACES)('at "%s" no reply is empty, whatever is said', async (place) => {
    const record = places.get(place);
    if (!record) return;
    await fc.assert(
      fc.asyncProperty(said(language), async (text) => {
        const turn = await talk.say(record, text);
        if (isRefused(turn)) throw new Error(`refused: ${turn.problem.code}`);
        expect(says(turn.reply)).toBe(true);
        // A part that is there says something.
        expect(turn.reply.parts.filter((p) => p.text.trim() === '')).toEqual([]);
        // And what comes after it is answered as well.
        const next = {
          ...record,
          answers: [...record.answers, ...turn.added],
          ...(turn.settings && { settings: turn.settings }),
        };
        const again = await talk.say(next, text);
        if (isRefused(again)) throw new Error(`then refused: ${again.problem.code}`);
        expect(says(again.reply)).toBe(true);
      }),
      { seed: 20_25, numRuns: RUNS },
    );
  });
});
