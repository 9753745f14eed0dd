import { describe, expect, test } from 'vitest';
import factsFile from '../../../rules/knowledge/facts.json' with { type: 'json' };
import type { Meaning } from '../../../server/types.ts';
import { heardInStop, understand } from '../../../server/understand/index.ts';
import { LANGUAGES } from '../../../server/understand/lexicon/languages.ts';
import type { LexiconFiles } from '../../../server/understand/lexicon/shape.ts';
import { type Entry, type Lexicon, lexiconOf } from '../../../server/understand/lexicon.ts';

const known = new Map(
  (Array.isArray(factsFile) ? factsFile : (factsFile as { facts: { id: string; choices?: string[] }[] }).facts).map(
    (f: { id: string; choices?: string[] }) => [f.id, f],
  ),
);

/** Does what was understood hold all that the entry means? */
function means(acts: Meaning[], entry: Entry): boolean {
  const fact = (f: string, v: string) =>
    acts.some((m) => m.is !== 'denied' && 'fact' in m && m.fact === f && 'value' in m && m.value === v);
  const of = { ...entry.facts, ...entry.hazard };
  return (
    (!entry.family || entry.hazard !== undefined || acts.some((m) => m.is === 'complaint' && m.family === entry.family)) &&
    Object.entries(of).every(([f, v]) => fact(f, v)) &&
    (!entry.talk || acts.some((m) => m.is === 'talk' && m.what === entry.talk && (!entry.of || m.of === entry.of)))
  );
}

/** What is heard only while a stop stands, in the shape of the rest. */
function inStop(text: string, lexicon: Lexicon): Meaning[] {
  const { asks, done } = heardInStop(text, lexicon);
  const as = (talk: string) => (of: string) => ({ is: 'talk', what: talk, of, evidence: text }) as unknown as Meaning;
  return [...asks.map(as('in-stop')), ...asks.map(as('in-stop-hint')), ...done.map(as('done-in-stop'))];
}

describe.each(Object.keys(LANGUAGES))('the lexicon of %s', (language) => {
  const lexicon = lexiconOf(language);
  const { data, noted } = lexicon;
  const all = Object.entries(data.entries).flatMap(([kind, entries]) => entries.map((entry) => ({ kind, entry })));
  const read = (text: string): Meaning[] => [
    ...understand(text, undefined, 'homeowner', {}, lexicon).acts,
    ...inStop(text, lexicon),
  ];

  describe('every entry understands its own examples', () => {
    const yes = all.flatMap(({ kind, entry }) => entry.yes.map((text) => [kind, entry.id, text, entry] as const));
    test.each(yes)('%s %s: "%s"', (_, __, text, entry) =>
      expect(means(read(text), entry), JSON.stringify(read(text))).toBe(true),
    );
  });
  describe('no entry takes what it must not', () => {
    const no = all.flatMap(({ kind, entry }) => entry.no.map((text) => [kind, entry.id, text, entry] as const));
    test.each(no)('%s %s: not "%s"', (_, __, text, entry) =>
      expect(means(read(text), entry), JSON.stringify(read(text))).toBe(false),
    );
  });
  test('every entry has at least one sentence that must be understood', () => {
    expect(all.filter(({ entry }) => entry.yes.length === 0).map(({ entry }) => entry.id)).toEqual([]);
  });
  test('every fact an entry gives is a fact of the knowledge with that choice, or noted on the way', () => {
    const bad = all.flatMap(({ entry }) =>
      Object.entries({ ...entry.facts, ...entry.hazard, ...entry.also })
        .filter(([f, v]) => !noted.has(f) && !known.get(f)?.choices?.includes(v))
        .map(([f, v]) => `${entry.id}: ${f}=${v}`),
    );
    expect(bad).toEqual([]);
  });
  test('it has every danger, complaint, turn, group and list that English has', () => {
    // another value of a danger may need words of its own ("ya no sale humo"); the knowledge holds it, says the test before
    const more = namesIn(LANGUAGES[language]).filter((n) => !namesIn(LANGUAGES.en).includes(n));
    expect(more.filter((n) => !n.startsWith('hazard '))).toEqual([]);
    expect(namesIn(LANGUAGES.en).filter((n) => !namesIn(LANGUAGES[language]).includes(n))).toEqual([]);
  });
});
test('a language nobody wrote is refused, not guessed', () => expect(() => lexiconOf('xx')).toThrow(RangeError));

/** What the code and the knowledge may ask of a language, by name. */
function namesIn(files: LexiconFiles | undefined): string[] {
  if (!files) return [];
  const keys = (o: object, of: string) => Object.keys(o).map((k) => `${of}: ${k}`);
  const means = (entries: Entry[]) =>
    entries.flatMap((e) => [
      ...(e.family ? [`family ${e.family}`] : []),
      ...Object.entries({ ...e.hazard, ...e.also }).map(([f, v]) => `hazard ${f}=${v}`),
      ...(e.talk ? [`talk ${e.talk} ${e.of ?? ''}`] : []),
    ]);
  return [
    ...new Set([
      ...(['answers', 'aside', 'askBack', 'readings', 'words', 'numbers', 'grammar'] as const).flatMap((f) => keys(files[f], f)),
      ...means([...files.families.entries, ...files.hazards.entries, ...files.talk.entries]),
    ]),
  ].sort();
}
