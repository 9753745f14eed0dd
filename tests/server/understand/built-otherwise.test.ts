import { describe, expect, test } from 'vitest';
import { conversationOf } from '../../../server/conversation/create.ts';
import { preparedMemo } from '../../../server/conversation/stand/prepared.ts';
import { stand } from '../../../server/conversation/stand/standing.ts';
import { BUILT_WORDS, builtOtherwise, checkBuiltWords } from '../../../server/understand/built-otherwise.ts';
import { understand } from '../../../server/understand/index.ts';
import { Case, k, text, throughGates, words } from '../conversation/parts.ts';

const talk = conversationOf({ k, words, understand });
const machine = (circuit: string, more = {}) => ({ circuits: [circuit], ...more });
const open = async (circuit = 'dial-single-coil', who: 'homeowner' | 'technician' = 'technician') => {
  const c = await Case.open(talk, who, machine(circuit));
  await c.tell('complaint', 'no-heat');
  await throughGates(c);
  return c;
};
const prepared = preparedMemo(k);
const at = (c: Case) => stand({ k, prepared }, c.record);
const hand = async (c: Case) => (await at(c)).hand;
const told = (said: string) =>
  builtOtherwise(understand(said, undefined, 'technician', {}), said).acts.flatMap((a) =>
    a.is === 'built' ? [`${a.variant} ${a.has}`] : [],
  );

describe('what is said of how the machine is built', () => {
  test.each([
    ['mine has the limit on the other side', 'limit-on-motor-side has'],
    ['the high limit and cut-off sit on the motor side', 'limit-on-motor-side has'],
    ['the limit sits between the coil and the motor switch here', 'limit-on-motor-side has'],
    ['the limit is not on the other side', 'limit-on-motor-side not'],
    ['the high limit is on the timer side', 'limit-on-motor-side not'],
    ['not sure if the limit is on the other side', 'limit-on-motor-side maybe'],
    ['there is a second high limit', 'second-limit has'],
    ["there's another limit on the heater box", 'second-limit has'],
    ['this one has two limits', 'second-limit has'],
    ['there is no second limit', 'second-limit not'],
    ['it does not have a second high limit', 'second-limit not'],
    ['only one high limit', 'second-limit not'],
    ['I do not know if it has a second limit', 'second-limit maybe'],
    ['it might have a second high limit', 'second-limit maybe'],
    ['no heat selector on this one', 'no-selector has'],
    ["it doesn't have a heat selector", 'no-selector has'],
    ['only one heat setting', 'no-selector has'],
    ['it has a heat selector', 'no-selector not'],
  ])('"%s": %s', (said, is) => {
    expect(told(said)).toEqual([is]);
  });
  test.each([
    'does it have a second limit?',
    'the high limit is open',
    'no heat',
    'second time the high limit went',
    'the limit reads 0.1 ohm',
    'selector on low',
    'it has the selector on high',
    'that was the other side',
  ])('"%s" tells nothing of it', (said) => {
    expect(told(said)).toEqual([]);
  });
  test('"no heat selector" is no complaint, and a danger beside it stays', () => {
    const said = 'no heat selector on this one and I smell smoke';
    const { acts } = builtOtherwise(understand(said, undefined, 'technician', {}), said);
    expect(acts.map((a) => a.is)).toEqual(['hazard', 'built']);
  });
});

describe('the words of a variant', () => {
  test('of one that no drawing has are an error that names the file and the id', () => {
    const wrong = { ...BUILT_WORDS, variants: { ...BUILT_WORDS.variants, 'third-limit': { has: ['x'], not: [] } } };
    expect(() => checkBuiltWords(k, wrong, 'some/file.json')).toThrow(/some\/file\.json.*"third-limit"/);
  });
  test('are there for each that a drawing has', () => {
    expect(() => checkBuiltWords(k)).not.toThrow();
    const { 'no-selector': _, ...rest } = BUILT_WORDS.variants;
    expect(() => checkBuiltWords(k, { ...BUILT_WORDS, variants: rest })).toThrow(/"no-selector"/);
  });
});

describe('in the talk', () => {
  test('the drawing goes by it, and that is said back', async () => {
    const c = await open();
    const reply = await c.say('mine has the limit on the other side');
    expect((await hand(c)).variants).toEqual(['limit-on-motor-side']);
    expect(text(reply, 'say')).toMatch(/the high limit and the cut-off sit between the coil and the motor contact/);
    expect((await at(c)).p.circuits[0]?.redrawn).toEqual(['limit-on-motor-side']);
  });
  test('two are told one after the other, and one is taken back', async () => {
    const c = await open();
    await c.say('mine has the limit on the other side');
    await c.say('there is a second high limit');
    expect((await hand(c)).variants).toEqual(['limit-on-motor-side', 'second-limit']);
    await c.say('there is no second limit');
    expect((await hand(c)).variants).toEqual(['limit-on-motor-side']);
  });
  test('two are told in one sentence', async () => {
    const c = await open();
    await c.say('there is a second high limit and the limit sits on the motor side');
    expect((await hand(c)).variants).toEqual(['limit-on-motor-side', 'second-limit']);
  });
  test('a doubt keeps both drawings', async () => {
    const c = await open();
    await c.say('I do not know if it has a second limit');
    const { hand: h, p } = await at(c);
    expect([h.variants, h.maybe]).toEqual([undefined, ['second-limit']]);
    expect(p.circuits.map((m) => m.redrawn ?? [])).toEqual([[], ['second-limit']]);
  });
  test('one that this machine cannot be built as is kept in words alone', async () => {
    const c = await open('electronic-relay-thermistor');
    const reply = await c.say('there is a second high limit');
    expect((await hand(c)).variants).toBeUndefined();
    expect(text(reply, 'say')).toMatch(/no drawing of such a machine/);
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'note', note: 'noted' });
  });
  test('a homeowner tells nothing of the drawing', async () => {
    const c = await open('dial-single-coil', 'homeowner');
    await c.say('there is a second high limit');
    expect((await hand(c)).variants).toBeUndefined();
  });
});
