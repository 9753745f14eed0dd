import { describe, expect, test } from 'vitest';
import en from '../../client/words/en.json' with { type: 'json' };
import { JOB_BLOCKS } from '../../server/conversation/show/job-fields.ts';
import { grade, sentences } from '../server/words/grade.ts';

/** Shown to technicians alone. */
const MEASURES =
  /^(leads-|meter|built-otherwise|low-impedance|lead-is-off|over-range|who-technician|plate-|plain-numbers|wiring-)/;
const MOST = { homeowner: 6, others: 8 };

/** Texts of the page itself, by what they are called; a place is filled with a reading. */
const page = Object.entries(en).map(([id, text]): [string, string] => [id, text.replace(/\{\w+\}/g, '9 V')]);
const sheet = JOB_BLOCKS.flatMap(({ id, title, phase, fields }) => [
  [`job ${id}`, title, phase] as const,
  ...fields.flatMap((field) => [field.label, ...(field.choices ?? [])].map((text) => [`job ${field.id}`, text, phase] as const)),
]);
const hard = (texts: readonly (readonly [string, string])[], most: number) =>
  texts.flatMap(([where, text]) =>
    sentences(text).flatMap((s) => {
      const g = grade(s);
      return g !== undefined && g > most ? [`${g.toFixed(1)} ${where}: ${s}`] : [];
    }),
  );

describe('the page’s own words', () => {
  test('are no harder than grade 6 where a homeowner reads them', () => {
    const mine = page.filter(([id]) => !MEASURES.test(id));
    expect(mine.length).toBeGreaterThan(150);
    expect(hard(mine, MOST.homeowner)).toEqual([]);
  });
  test('are no harder than grade 8 where only a technician does', () => {
    const mine = page.filter(([id]) => MEASURES.test(id));
    expect(mine.length).toBeGreaterThan(5);
    expect(hard(mine, MOST.others)).toEqual([]);
  });
});

describe('the fields of the job sheet', () => {
  test.each([
    ['before', MOST.homeowner],
    ['after', MOST.others],
  ] as const)('written %s the visit are no harder than grade %d', (phase, most) => {
    const mine = sheet.filter(([, , of]) => of === phase).map(([where, text]) => [where, text] as const);
    expect(mine.length).toBeGreaterThan(10);
    expect(hard(mine, most)).toEqual([]);
  });
});
