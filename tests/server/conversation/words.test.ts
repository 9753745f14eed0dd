import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { loadWords, WordsError } from '../../../server/conversation/words/load.ts';
import { PROBLEMS, SAY, TALK } from '../../../server/conversation/words/names.ts';
import { fill, listed as joined, spokenTo } from '../../../server/conversation/words/speaker.ts';
import { k, wordsFromIds } from './parts.ts';

const listed = (items: string[], most?: number, more?: (left: number) => string) =>
  joined({ and: '{a} and {b}' }, items, most, more);
const sources = import.meta.glob<string>('../../../server/conversation/**/*.ts', {
  query: '?raw',
  import: 'default',
  eager: true,
});
type Files = {
  'general.json': { general: Record<string, Record<string, unknown>> };
  'ids.json': Record<string, Record<string, Record<string, unknown>>>;
};
const copy = (): Files => structuredClone(wordsFromIds()) as Files;
const problemsOf = (files: Record<string, unknown>): readonly string[] => {
  try {
    loadWords(files, k);
  } catch (e) {
    if (e instanceof WordsError) return e.problems;
    throw e;
  }
  return [];
};

describe('loading words', () => {
  test.each<[string, (f: Files) => void, string]>([
    ['a check without words', (f) => delete f['ids.json'].checks!['ask-kind'], 'en/checks.json, check "ask-kind": has no words'],
    [
      'words of no fault',
      (f) => (f['ids.json'].faults!.rust = { label: 'rust' }),
      'en/faults.json, fault "rust": nothing is called so',
    ],
    [
      'a choice without words',
      (f) => delete (f['ids.json'].facts!.fuel!.choices as Record<string, string>).gas,
      'en/facts.json, fact "fuel", choice "gas": has no words',
    ],
    [
      'an entry of a list without words',
      (f) => delete (f['ids.json'].checks!['gate-now']!.choices as Record<string, string>).none,
      'en/checks.json, check "gate-now", choice "none": has no words',
    ],
    [
      'a caution without words',
      (f) => delete f['general.json'].general.cautions!.attended,
      'en/general.json, caution "attended": has no words',
    ],
    [
      'a state without words',
      (f) => delete f['general.json'].general.states!['run-high'],
      'en/general.json, state "run-high": has no words',
    ],
    [
      'a kind of referral without words',
      (f) => delete f['general.json'].general.referrals!['supply-fault'],
      'en/general.json, referral "supply-fault": has no words',
    ],
    [
      'a sentence without words',
      (f) => delete f['general.json'].general.say!['stop-close'],
      'en/general.json, say "stop-close": has no words',
    ],
    [
      'an audience nobody is',
      (f) => (f['ids.json'].faults!['element-open'] = { label: { owner: 'x' } }),
      'ids.json, faults.element-open.label: Invalid input',
    ],
    [
      'points on no machine',
      (f) => (f['ids.json'].facts!.coil_ohms!.points = { toaster: 'x' }),
      'en/facts.json, fact "coil_ohms", points "toaster": no machine is called so',
    ],
  ])('%s is told', (_, spoil, problem) => {
    const files = copy();
    spoil(files);
    expect(problemsOf(files)).toEqual([problem]);
  });
  test('all problems are told at once, and a text that stands twice is one', () => {
    const files: Record<string, unknown> = { ...copy(), 'again.json': { faults: { 'element-open': { label: 'x' } } } };
    expect(problemsOf(files)).toEqual(['ids.json, faults "element-open": stands twice; one of the two goes']);
    const bare = copy();
    delete bare['ids.json'].checks!['ask-kind'];
    delete bare['ids.json'].checks!['gate-now'];
    expect(problemsOf(bare)).toHaveLength(2);
    expect(problemsOf({})).toEqual(['general: no file has it; every language needs its general.json']);
  });
  test('every sentence the code can say is said somewhere', () => {
    const code = Object.entries(sources)
      .filter(([path]) => !path.endsWith('names.ts'))
      .map(([, source]) => source)
      .join('\n');
    const unsaid = [...SAY, ...TALK, ...PROBLEMS].filter((name) => !code.includes(`'${name}'`));
    // Names made from another word: talk that is answered by its own name, columns and tellers of the sheet.
    const made = [
      /^sheet-column-/,
      /^by-/,
      /^(safe|cost|correct|person|restart|done|greeting|not-a-dryer|help|wait|in-progress|stop|thanks|abuse|off-topic|language|declined|later|no-meter|unsure|yes-no-lost)$/,
    ];
    expect(unsaid.filter((name) => !made.some((m) => m.test(name)))).toEqual([]);
  });
});

describe('saying', () => {
  test('an audience without its own words is given the technician’s', () => {
    const text = { technician: 't', homeowner: 'h' };
    expect([spokenTo(text, 'homeowner'), spokenTo(text, 'agent'), spokenTo('all', 'agent')]).toEqual(['h', 't', 'all']);
  });
  test('a {name} nobody gave is a mistake of ours', () => {
    expect(fill('{a} of {b}', { a: 1, b: 'c' })).toBe('1 of c');
    expect(() => fill('{a} of {b}', { a: 1 })).toThrow('{b}');
  });
  test.each([
    [[], ''],
    [['a'], 'a'],
    [['a', 'b'], 'a and b'],
    [['a', 'b', 'c'], 'a, b and c'],
  ])('%o -> "%s"', (items, said) => expect(listed(items)).toBe(said));
  test('more than can be named ends in how many', () => {
    expect(listed(['a', 'b', 'c'], 2, (n) => `and ${n} more`)).toBe('a, b and 1 more');
  });
});

describe('the words that come with the program', () => {
  const files = import.meta.glob<Record<string, unknown>>('../../../server/conversation/words/en/*.json', {
    import: 'default',
    eager: true,
  });
  test('have no problem', () => expect(() => loadWords(files, knowledge())).not.toThrow());

  test('ask nobody to bridge a safety part, and trust no disposable glove', () => {
    for (const text of texts(files)) {
      if (/\b(jumper|bypass|bridge)\b/i.test(text) && words(text) > 3) expect(text).toMatch(/never|not\b|no\b|was|bypassed/i);
      if (/gloves?\b/i.test(text) && words(text) > 2)
        expect(text).toMatch(/not protect|no help|cut gloves|not electrical|rated/i);
    }
  });
  test('of ours in general are short and plain: homeowner grade 6 or below, others 8', () => {
    const general = Object.entries(files).find(([path]) => path.endsWith('general.json'))![1];
    const hard = spokenIn(general).filter(({ text, who }) => words(text) >= 12 && grade(text) > (who === 'homeowner' ? 6 : 8));
    expect(hard.map(({ text, who }) => `${who}: ${grade(text).toFixed(1)} ${text}`)).toEqual([]);
  });
});

function texts(x: unknown): string[] {
  return typeof x === 'string' ? [x] : x !== null && typeof x === 'object' ? Object.values(x).flatMap(texts) : [];
}
function spokenIn(x: unknown): { text: string; who: string }[] {
  if (typeof x === 'string') return [{ text: x, who: 'homeowner' }];
  if (x === null || typeof x !== 'object') return [];
  const by = x as Record<string, unknown>;
  if (typeof by.technician === 'string')
    return Object.entries(by)
      .filter((e): e is [string, string] => typeof e[1] === 'string')
      .map(([who, text]) => ({ text, who }));
  return Object.values(x).flatMap(spokenIn);
}
const words = (text: string) => text.split(/\s+/).filter(Boolean).length;
/** Flesch-Kincaid grade, with the usual rough count of syllables. */
function grade(text: string): number {
  const all = text
    .replaceAll(/\{\w+\}/g, 'thing')
    .split(/[^A-Za-z']+/)
    .filter(Boolean);
  const sentences = Math.max(1, text.split(/[.!?:;]+(?:\s|$)/).filter((s) => s.trim()).length);
  return 0.39 * (all.length / sentences) + 11.8 * (all.reduce((sum, w) => sum + syllables(w), 0) / all.length) - 15.59;
}
const syllables = (word: string): number => {
  const w = word.toLowerCase().replace(/(?:[^laeiouy]es|ed|[^laeiouy]e)$/, '');
  return Math.max(1, w.match(/[aeiouy]{1,2}/g)?.length ?? 1);
};
