import { describe, expect, test } from 'vitest';
import type { Ask, Meaning } from '../../../server/types.ts';
import { understand } from '../../../server/understand/index.ts';
import { LANGUAGES } from '../../../server/understand/lexicon/languages.ts';
import { lexiconOf } from '../../../server/understand/lexicon.ts';
import { tongueOf } from '../../../server/understand/tongue.ts';
import tongues from '../../data/tongues.json' with { type: 'json' };
import held from '../../data/utterances-held-back.json' with { type: 'json' };
import more from '../../data/utterances-more.json' with { type: 'json' };
import moreHeld from '../../data/utterances-more-held-back.json' with { type: 'json' };
import own from '../../data/utterances-own.json' with { type: 'json' };

const acts = (text: string, language = 'en', ask?: Ask): Meaning[] => understand(text, ask, 'homeowner', {}, language).acts;
const told = (list: Meaning[], fact: string) => list.find((a) => a.is === 'hazard' && a.fact === fact);
const language = (list: Meaning[]) => list.flatMap((a) => (a.is === 'talk' && a.what === 'language' ? [a.of] : []));
const spans = (text: string, start: string): boolean => text.toLowerCase().startsWith(start);

describe('which language an utterance is in', () => {
  const items = tongues.items as { text: string; tag: string; held?: boolean }[];
  test.each(items.filter((x) => !x.held))('$tag: "$text"', ({ text, tag }) => {
    expect(tongueOf(text, lexiconOf(tag === 'en' ? 'es' : 'en'))?.tag).toBe(tag);
    if (tag === 'en' || tag === 'es')
      expect(tongueOf(text, lexiconOf(tag))?.tag ?? tag).toBe(spans(text, 'do you speak') ? 'es' : tag);
  });
  test('of those held back nearly all are told, and none is taken for another', () => {
    const back = items.filter((x) => x.held);
    const said = back.map((x) => ({ ...x, as: tongueOf(x.text, lexiconOf())?.tag }));
    expect(said.filter((x) => x.as !== undefined && x.as !== x.tag)).toEqual([]);
    expect(said.filter((x) => x.as === x.tag).length / back.length).toBeGreaterThanOrEqual(0.75);
  });
  test('English is not taken for another language', () => {
    const texts = [...own, ...held, ...more, ...moreHeld].map((x) => x.text).filter((t) => !/secadora|trockner|espanol/i.test(t));
    expect(texts.length).toBeGreaterThan(800);
    expect(texts.filter((t) => tongueOf(t, lexiconOf()))).toEqual([]);
  });
  test.each(Object.keys(LANGUAGES))('the examples of %s are not taken for another language', (tag) => {
    const lexicon = lexiconOf(tag);
    const texts = Object.values(lexicon.data.entries).flatMap((list) => list.flatMap((e) => [...e.yes, ...e.no]));
    expect(texts.filter((t) => tongueOf(t, lexicon))).toEqual([]);
  });
});

describe('another language in a case', () => {
  test('Spanish in an English case is read, and said to be Spanish', () => {
    const got = acts('mi secadora no calienta');
    expect(got).toContainEqual(expect.objectContaining({ is: 'complaint', family: 'no-heat' }));
    expect(language(got)).toEqual(['es']);
  });
  test('"no sé" is no "no"', () => {
    const got = acts('no sé');
    expect(got.some((a) => a.is === 'talk' && a.what === 'unsure')).toBe(true);
    expect(got.some((a) => (a.is === 'talk' && a.what === 'no') || a.is === 'answer')).toBe(false);
  });
  test.each(['le tambour ne tourne pas', 'non, non scalda', '烘干机不热了', 'der Trockner heizt nicht'])(
    'of a language we do not have nothing is read: "%s"',
    (text) => {
      const got = acts(text);
      expect(got).toHaveLength(1);
      expect(language(got)).toHaveLength(1);
    },
  );
});

describe('dangers in either language', () => {
  test.each([
    ['huele a gas', 'gas_smell'],
    ['hay humo', 'flame_or_smoke'],
    ['there is humo coming out of it', 'flame_or_smoke'],
    ['fuego!', 'flame_or_smoke'],
    ['my dryer saca chispas', 'sparks_or_bang'],
    ['me da toques', 'shock_kind'],
  ])('in an English case: "%s"', (text, fact) => expect(told(acts(text), fact)).toBeDefined());
  test.each([
    ['there is smoke', 'flame_or_smoke'],
    ['fire!', 'flame_or_smoke'],
    ['i smell gas', 'gas_smell'],
    ['la dryer esta sparking', 'sparks_or_bang'],
    ['hay un burning smell', 'smell_kind'],
  ])('in a Spanish case: "%s"', (text, fact) => expect(told(acts(text, 'es'), fact)).toBeDefined());
  test.each(['no hay humo', 'no huele a gas', 'sin olor a quemado'])('denied, it is none: "%s"', (text) => {
    for (const tag of ['en', 'es']) expect(acts(text, tag).some((a) => a.is === 'hazard')).toBe(false);
  });
});
