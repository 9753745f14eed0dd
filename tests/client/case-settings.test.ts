import { describe, expect, test } from 'vitest';
import { changesIn, meterTold, variantsOf } from '../../client/evidence/case-settings.ts';
import type { Catalogue } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';

const view = (machine: CaseView['machine'] = {}): CaseView => ({
  id: 'a',
  rev: 1,
  audience: 'technician',
  language: 'en',
  families: [],
  units: 'us',
  machine,
  answers: [],
});
const AS_IT_IS = { units: 'us', audience: 'technician', volts: '', watts: '' };
const form = (fields: Record<string, string | string[]>) => {
  const data = new FormData();
  for (const [name, values] of Object.entries({ ...AS_IT_IS, ...fields }))
    for (const value of [values].flat()) data.append(name, value);
  return data;
};
const named = (...ids: string[]) => ids.map((id) => ({ id, title: id }));

describe('what the form of the case says', () => {
  test.each([
    ['nothing where all is as it was', {}, {}, {}],
    ['units and who is talking', { units: 'metric', audience: 'agent' }, {}, { units: 'metric', audience: 'agent' }],
    ['another language', { language: 'es' }, {}, { language: 'es' }],
    ['the plate', { volts: '240', watts: '5600' }, {}, { machine: { plate: { volts: 240, total_w: 5600 } } }],
    [
      'the plate, with what else is known of it',
      { volts: '240', watts: '' },
      { plate: { volts: 208, total_w: 5600, heater_w: 5300 } },
      { machine: { plate: { heater_w: 5300, volts: 240 } } },
    ],
    ['nothing of a plate told again', { volts: '240' }, { plate: { volts: 240 } }, {}],
  ])('is %s', (_, fields, machine, changes) => expect(changesIn(form(fields), view(machine))).toEqual({ changes }));

  test.each([
    ['volts that are no number', { volts: 'many' }, 'plain-numbers'],
    ['watts over range', { watts: 'OL' }, 'plain-numbers'],
    ['leads that are no number', { leads: 'lots' }, 'leads-wrong'],
    ['leads that are broken', { leads: '5.1' }, 'leads-wrong'],
    ['leads below nothing', { leads: '-1' }, 'leads-wrong'],
  ])('is wrong with %s', (_, fields, wrong) => expect(changesIn(form(fields), view(), [])).toEqual({ wrong }));

  test('is about the meter and the drawing only where they are shown', () => {
    const fields = { meter: 'good', leads: '0.3', variant: ['moved'] };
    expect(changesIn(form(fields), view())).toEqual({ changes: {} });
    expect(changesIn(form(fields), view(), named('moved', 'second'))).toEqual({
      changes: { machine: { variants: ['moved'], meter: 'good', leads_ohm: 0.3 } },
    });
  });
  test('keeps the ways it is built that are not shown, and takes out one that is no longer ticked', () => {
    const built = view({ variants: ['other-machine', 'moved'] });
    expect(changesIn(form({}), built, named('moved'))).toEqual({ changes: { machine: { variants: ['other-machine'] } } });
    expect(changesIn(form({ variant: ['moved'] }), built, named('moved'))).toEqual({ changes: {} });
  });
  test('a meter is not taken back by picking none', () =>
    expect(changesIn(form({ meter: '' }), view({ meter: 'good' }), [])).toEqual({ changes: {} }));
});

test('the meter for the next case is what is told now beside what was told before', () => {
  expect(meterTold({ machine: { leads_ohm: 0.2 } }, { meter: 'good', leads_ohm: 0.4 })).toEqual({
    meter: 'good',
    leads_ohm: 0.2,
  });
  expect(meterTold({ machine: { plate: { volts: 240 } } }, { meter: 'good' })).toBeUndefined();
  expect(meterTold({ units: 'us' }, {})).toBeUndefined();
});

test('ways to be built are those of the machines it may be, each once', () => {
  const machines = [
    { id: 'dial', title: '', variants: named('moved', 'second') },
    { id: 'board', title: '', variants: named('moved') },
  ];
  const catalogue = { machines } as Catalogue;
  const ids = (circuits?: string[]) => variantsOf(catalogue, circuits).map(({ id }) => id);
  expect(ids()).toEqual(['moved', 'second']);
  expect(ids(['board'])).toEqual(['moved']);
  expect(ids(['none'])).toEqual([]);
});
