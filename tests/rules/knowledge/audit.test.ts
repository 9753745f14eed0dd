import { expect, test } from 'vitest';
import { knowledge } from '../../../rules/knowledge/index.ts';
import { loadKnowledge } from '../../../rules/knowledge/load.ts';
import type { Knowledge } from '../../../rules/types.ts';
import { alike } from '../../tools/audit-alike.ts';
import { mayBeAsked } from '../../tools/audit-asked.ts';
import { unconfirmedFaults, unsettledFacts, wrongExamples } from '../../tools/audit-holes.ts';
import { item, parts } from './parts.ts';

const known = knowledge();

test('some check settles every fact, and one confirms every fault on each machine it fits', () => {
  expect(unsettledFacts(known)).toEqual([]);
  expect(unconfirmedFaults(known)).toEqual([]);
});

test('every rule comes out of its own examples as written', async () => {
  expect(await wrongExamples(known)).toEqual([]);
});

test.each([...known.families.keys()])(
  'behind %s a technician can tell every fault from every other, on each machine',
  async (family) => {
    for (const m of known.machines.values()) expect(await alike(known, 'technician', m, family), m.id).toEqual([]);
  },
);

test.each([
  ['homeowner', 'run-5-min', true],
  ['homeowner', 'coil-ohms', false],
  ['homeowner', 'timer-contact-ohms', true],
  ['homeowner', 'coil-volts', false],
  ['homeowner', 'ask-opt-in', true],
  ['agent', 'run-5-min', true],
  ['agent', 'timer-contact-ohms', false],
  ['agent', 'ask-opt-in', false],
  ['agent', 'supply-at-receptacle', false],
  ['technician', 'coil-ohms', true],
  ['technician', 'coil-volts', true],
  ['technician', 'ask-opt-in', false],
] as const)('a %s may be asked %s: %s', async (audience, check, may) => {
  expect(await mayBeAsked(known, known.checks.get(check)!, audience)).toBe(may);
});

const broken = (breakIt: (p: Record<string, unknown>) => void): Knowledge => {
  const p = parts();
  breakIt(p);
  return loadKnowledge(p);
};

test('the audit names a fact nobody settles', () => {
  const k = broken((p) => {
    (p['facts.json'] as { facts: unknown[] }).facts.push({
      id: 'drum_colour',
      kind: 'choice',
      choices: ['white', 'grey'],
      whoCanTell: ['homeowner'],
      basis: 'common practice',
    });
  });
  expect(unsettledFacts(k)).toEqual(['fact "drum_colour": no check settles it']);
});

test('the audit names a fault nothing confirms, on the machine where that is so', () => {
  const k = broken((p) => {
    item(p, 'checks.json', 'coil-ohms').confirms = [];
  });
  expect(unconfirmedFaults(k)).toEqual([
    'fault "element-open" on "dial-single-coil": no check confirms it',
    'fault "element-open" on "electronic-relay-thermistor": no check confirms it',
  ]);
});

test('the audit names an example that does not come out as written', async () => {
  const k = broken((p) => {
    for (const e of item(p, 'rules/stops.json', 'stop-water').examples) if (e.truth === 'holds') e.facts.water_seen = 'no';
  });
  expect(await wrongExamples(k)).toEqual(['rule "stop-water" (stops), example 1: fails, written holds']);
});
