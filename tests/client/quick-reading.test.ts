import { describe, expect, test } from 'vitest';
import { areLastReadings, withNewest } from '../../client/quick/last-readings.ts';
import { pickedOf, readingIn } from '../../client/quick/picked-reading.ts';
import type { CatalogueCheck, QuickReading } from '../../server/conversation-port.ts';

const read = (fact: string, more: Partial<CatalogueCheck['reads'][number]> = {}): CatalogueCheck['reads'][number] => ({
  fact,
  label: fact,
  unit: 'Ω',
  points: {},
  ...more,
});
const checks: CatalogueCheck[] = [
  { id: 'coil', label: 'Coil', level: 2, reads: [read('coil_ohms')] },
  { id: 'string', label: 'String', level: 2, reads: [read('limit_ohms'), read('cut_off_ohms', { lowImpedance: false })] },
];
const form = (fields: Record<string, string>) => {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) data.set(name, value);
  return data;
};

describe('the check that is picked', () => {
  test.each([
    ['', '', 'coil_ohms'],
    ['string', '', 'limit_ohms'],
    ['string', 'cut_off_ohms', 'cut_off_ohms'],
    ['string', 'coil_ohms', 'limit_ohms'],
    ['gone', '', 'coil_ohms'],
  ])('of check %j and reading %j it is %s', (check, fact, picked) =>
    expect(pickedOf(checks, check, fact)?.read.fact).toBe(picked),
  );
  test('is none where there are no checks', () => expect(pickedOf([], '', '')).toBeUndefined());
});

describe('a reading from the form', () => {
  const picked = pickedOf(checks, 'coil', '')!;
  test('says nothing of what was left empty', () =>
    expect(readingIn(form({ volts: '', watts: ' ', machine: '', meter: '' }), picked, 10.2)).toEqual({
      input: { check: 'coil', fact: 'coil_ohms', value: 10.2, unit: 'Ω' },
    }));
  test('has plate, machine, meter and how it was read where they are told', () =>
    expect(readingIn(form({ volts: '240', watts: '5600,5', machine: 'dial', meter: 'm', lifted: 'on' }), picked, 'open')).toEqual(
      {
        input: {
          check: 'coil',
          fact: 'coil_ohms',
          value: 'open',
          unit: 'Ω',
          plate: { volts: 240, total_w: 5600.5 },
          machine: 'dial',
          meter: 'm',
          lifted: true,
        },
      },
    ));
  test.each([
    [{}, false],
    [{ lowImpedance: 'on' }, true],
  ])('says of the meter either way where that matters: %j', (fields, lowImpedance) =>
    expect(readingIn(form(fields), pickedOf(checks, 'string', 'cut_off_ohms')!, 0.2)).toMatchObject({
      input: { lowImpedance },
    }),
  );
  test.each([
    ['no reading', {}, undefined, 'reading is missing'],
    ['words for volts', { volts: 'a lot' }, 10, 'plain numbers'],
    ['OL for watts', { watts: 'OL' }, 10, 'plain numbers'],
  ] as const)('is refused with %s', (_, fields, value, words) =>
    expect(readingIn(form(fields), picked, value)).toEqual({ refused: expect.stringContaining(words) }),
  );
});

describe('the last readings', () => {
  const reading = (label: string): QuickReading => ({
    check: 'coil',
    fact: 'coil_ohms',
    label,
    verdict: 'good',
    verdictWords: 'good',
    shown: '10 Ω',
    because: '',
    how: [],
    sources: [],
  });
  test('have the newest first, and are ten at most', () => {
    const last = Array.from({ length: 12 }, (_, n) => reading(`${n}`)).reduce(
      (before, one) => withNewest(one, before),
      withNewest(reading('first'), []),
    );
    expect(last.map(({ label }) => label)).toEqual(['11', '10', '9', '8', '7', '6', '5', '4', '3', '2']);
    expect(areLastReadings(last)).toBe(true);
  });
  test.each([[null], [{}], [[{ label: 'a', shown: 'b', verdict: 'perfect' }]], [[{ label: 'a', verdict: 'good' }]]])(
    'are not %j',
    (value) => expect(areLastReadings(value)).toBe(false),
  );
});
