import { expect, test } from 'vitest';
import { isTold } from '../../../rules/index.ts';
import { conversationOf } from '../../../server/conversation/create.ts';
import { understand } from '../../../server/understand/index.ts';
import { Case, k, text, throughGates, words } from '../conversation/parts.ts';

const talk = conversationOf({ k, words, understand });
const open = async (circuit = 'dial-single-coil') => {
  const c = await Case.open(talk, 'technician', { circuits: [circuit] });
  await c.tell('complaint', 'no-heat');
  await throughGates(c);
  return c;
};
const told = (c: Case) => {
  const a = c.record.answers.filter((x) => isTold(x)).findLast((x) => ['ohms_between', 'volts_between'].includes(x.fact));
  return a && [a.fact, a.value, [...(a.taken?.points ?? [])].sort().join('-'), a.taken?.state];
};

test('ohms between two points named are judged with the band of this machine', async () => {
  const c = await open();
  const reply = await c.say('0.3 ohm from the timer heat tab to the cycling thermostat timer side');
  expect(told(c)).toEqual(['ohms_between', 0.3, 'C1-T2', 'unplugged-off']);
  const row = reply.evidence.find((r) => r.fact === 'ohms_between');
  expect(row?.expectedShown).toMatch(/\d/);
  expect(row?.verdict).toBe('good');
});

test('a second reading elsewhere is another reading, no repeat', async () => {
  const c = await open();
  await c.say('0.3 ohm from the timer heat tab to the cycling thermostat timer side');
  await c.say('OL ohms from the timer heat tab to the high limit line side');
  expect(told(c)).toEqual(['ohms_between', 'open', 'HL1-T2', 'unplugged-off']);
  expect(c.record.answers.at(-1)?.act).toBe('tell');
  expect(c.last.reply.consultation.verdicts.at(-1)?.is).not.toBe('good');
});

test('a phrase that fits several points is asked back, and the one picked counts', async () => {
  const c = await open();
  const reply = await c.say('ohms between the coil end and the motor contact 0.3');
  expect(reply.ask?.check).toBe('which');
  const labels = reply.ask?.choices.map((x) => x.label) ?? [];
  expect(labels.some((l) => /coil, end at the motor contact.*motor switch, heater tab/.test(l))).toBe(true);
  expect(told(c)).toBeUndefined();
  const at = labels.findIndex((l) => /coil, end at the motor contact.*motor switch, heater tab/.test(l));
  await c.say(String(at + 1));
  expect(told(c)?.slice(0, 3)).toEqual(['ohms_between', 0.3, 'E2-MH']);
});

test('volts with the machine running are taken in that state', async () => {
  const c = await open();
  const reply = await c.say('120 V from L1 at the block to the high limit line side with it running');
  expect(told(c)).toEqual(['volts_between', 120, 'HL1-L1', 'run-high']);
  expect(text(reply, 'say')).toMatch(/120/);
  expect(reply.evidence.find((r) => r.fact === 'volts_between')?.expectedShown).toMatch(/\d/);
});

test('without a state, volts ask at rest or with heat', async () => {
  const c = await open();
  const reply = await c.say('volts from L1 at the block to the cut-off 120');
  expect(reply.ask?.check).toBe('which');
  expect(told(c)).toBeUndefined();
});

test('the legs, and words that name no point, are left as they were', async () => {
  const c = await open();
  await c.say('240 V from the customer to the shop');
  expect(told(c)).toBeUndefined();
  await c.say('L1 to neutral 120 V at rest');
  expect(told(c)).toBeUndefined();
});

test('"0.3 ohm from timer contact to the heater": every tab and end it can be is a choice', async () => {
  const c = await open();
  const reply = await c.say('0.3 ohm from timer contact to the heater');
  const labels = reply.ask?.choices.map((x) => x.label) ?? [];
  expect(labels.some((l) => /timer, heat tab.*coil, end at the cut-off/.test(l))).toBe(true);
  expect(labels.some((l) => /timer, line tab.*coil, end at the cut-off/.test(l))).toBe(true);
});

test('the words come from the drawing in hand: a board has its own points', async () => {
  const c = await Case.open(talk, 'technician', { circuits: ['electronic-relay-thermistor'] });
  await c.tell('complaint', 'no-heat');
  await throughGates(c, { control_kind: 'buttons' });
  await c.say('0.2 ohm from the board heater tab to the high limit line side');
  expect(told(c)).toEqual(['ohms_between', 0.2, 'HL1-KH', 'unplugged-off']);
});

test('ohms of a machine that runs are refused', async () => {
  const c = await open();
  const reply = await c.say('0.3 ohm from the timer heat tab to the cycling thermostat timer side with it running');
  expect(told(c)).toBeUndefined();
  expect(reply.parts.length).toBeGreaterThan(0);
});
