import { describe, expect, test } from 'vitest';
import type { Meaning } from '../../../server/types.ts';
import { understand } from '../../../server/understand/index.ts';
import { measuring } from '../../tools/understand-check.ts';

/** fact -> value; "?" where it was asked back; readings of no fact by their points and state. */
function read(check: string, text: string): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const m of understand(text, measuring(check), 'technician', {}).acts) put(out, m);
  return out;
}
function put(out: Record<string, unknown>, m: Meaning): void {
  if (m.is === 'ambiguous') out['?'] = true;
  if (m.is === 'reading') out[m.fact ?? [m.pointsSaid, m.state].filter(Boolean).join(', ')] = m.value;
}
const idle = (across?: number, motor?: number, other?: number) =>
  given({ between_legs_idle: across, motor_leg_to_neutral_idle: motor, other_leg_to_neutral_idle: other });
const heat = (across?: number, motor?: number, other?: number) =>
  given({ between_legs_heat: across, motor_leg_to_neutral_heat: motor, other_leg_to_neutral_heat: other });
const coils = (one?: unknown, two?: unknown, pair?: unknown) =>
  given({ coil_1_ohms: one, coil_2_ohms: two, coil_pair_ohms: pair });
const string = (limit?: unknown, cutOff?: unknown) => given({ limit_ohms: limit, cut_off_ohms: cutOff });
const given = (o: Record<string, unknown>) => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined));

describe('volts at the block, at rest', () => {
  test.each([
    [
      "leg to leg at the block, at rest 240.9 V, motor's leg to neutral, at rest 120.7 V, other leg to neutral, at rest 120.2 V",
      idle(240.9, 120.7, 120.2),
    ],
    [
      "Motor's leg to neutral, at rest: 120.7, other leg to neutral, at rest: 120.2, leg to leg at the block, at rest: 240.9",
      idle(240.9, 120.7, 120.2),
    ],
    ["240.9 leg to leg at the block, 120.7 motor's leg to neutral, 0.2 other leg to neutral", idle(240.9, 120.7, 0.2)],
    ["other leg to neutral 0.3, leg to leg 121, motor's leg to neutral 121.2", idle(121, 121.2, 0.3)],
    ['240, 120, 120', idle(240, 120, 120)],
    ['240.4\n120.1\n120.3', idle(240.4, 120.1, 120.3)],
    ['240 120 120', idle(240, 120, 120)],
    ['120.3, 120.1, 240.4', idle(240.4, 120.3, 120.1)],
    ['208, 120, 120', idle(208, 120, 120)],
    ['0.4, 120.5, 120.6', idle(0.4, 120.5, 120.6)],
    ['121, 121, 0', idle(121, 121, 0)],
    ['240 at the block, 120 each leg', idle(240, 120, 120)],
    ['120 each leg, 240 leg to leg', idle(240, 120, 120)],
    ['both legs 120 to neutral and 240 across', idle(240, 120, 120)],
    ['L1-N 121.3, L2-N 88, L1-L2 209', idle(209, 121.3, 88)],
    ['L1 to L2 240, L1 to N 120, L2 to N 119.5', idle(240, 120, 119.5)],
    ['motor leg 120.7, other leg 119.9', idle(undefined, 120.7, 119.9)],
    ['other leg 119.9, motor leg 120.7', idle(undefined, 120.7, 119.9)],
    ['leg to leg 241', idle(241)],
    ['it reads 241 leg to leg and the other leg to neutral is 120', idle(241, undefined, 120)],
    ['239.8 idle and 231 under load', { ...idle(239.8), 'leg to leg, run-high': 231 }],
    ['L1 to L2 240 at rest', idle(240)],
    ['leg to leg 231 with the heat on', { 'leg to leg, run-high': 231 }],
  ])('"%s"', (text, expected) => expect(read('supply-at-block-idle', text)).toEqual(expected));
  test.each([
    '120 and 0.2',
    '120',
    'left 120, right 0.2, across 120',
    '240 on one side and 120 on the other',
    '120.1, 119.8, 120.2, 0.4',
  ])('"%s" is asked back, no leg is guessed', (text) => {
    const got = read('supply-at-block-idle', text);
    expect(got['?']).toBe(true);
    expect(got).not.toHaveProperty('motor_leg_to_neutral_idle');
    expect(got).not.toHaveProperty('other_leg_to_neutral_idle');
  });
});
describe('volts at the block, with heat', () => {
  test.each([
    [
      "leg to leg at the block, with heat 231 V, motor's leg to neutral, with heat 119.8 V, other leg to neutral, with heat 111.2",
      heat(231, 119.8, 111.2),
    ],
    ['under load 231, 119.8, 111.2', heat(231, 119.8, 111.2)],
    ['231 / 119.8 / 111.2 with heat on', heat(231, 119.8, 111.2)],
    ['leg to leg 240 at rest', { 'leg to leg, idle-off': 240 }],
  ])('"%s"', (text, expected) => expect(read('supply-at-block-heat', text)).toEqual(expected));
});
describe('two coils', () => {
  test.each([
    ['coil 1 to common 20.9 ohm, coil 2 to common OL, coil 1 to coil 2 OL', coils(20.9, 'open', 'open')],
    ['20.9 ohm coil 1 to common, OL coil 2 to common, OL coil 1 to coil 2', coils(20.9, 'open', 'open')],
    ['20.9, OL, OL', coils(20.9, 'open', 'open')],
    ['OL, 21.2, OL', coils('open', 21.2, 'open')],
    ['coil 1 to coil 2 42.1, coil 1 to common 20.9, coil 2 to common 21.2', coils(20.9, 21.2, 42.1)],
    ['Coil 2 to common: OL; coil 1 to common: 20.9; coil 1 to coil 2: OL', coils(20.9, 'open', 'open')],
    ['coil 1 20.9, coil 2 open', coils(20.9, 'open')],
    ['coil 2 to common reads OL', coils(undefined, 'open')],
    ['all three OL', coils('open', 'open', 'open')],
  ])('"%s"', (text, expected) => expect(read('coil-ohms-two', text)).toEqual(expected));
  test.each(['OL', '20.9', '20.9 and OL'])('"%s" is asked back', (text) =>
    expect(read('coil-ohms-two', text)).toEqual({ '?': true }),
  );
});
describe('limit and cut-off', () => {
  test.each([
    ['0.2 ohm, OL', string(0.2, 'open')],
    ['0.2, 0.1', string(0.2, 0.1)],
    ['one-shot cut-off OL', string(undefined, 'open')],
    ['limit 0.2, cut-off OL', string(0.2, 'open')],
    ['cutoff OL, limit 0.2', string(0.2, 'open')],
    ['OL on the cut-off, 0.2 on the high limit', string(0.2, 'open')],
    ['TCO is open, hi limit .3', string(0.3, 'open')],
    ['high limit, cold 0.2 ohm, one-shot cut-off 0.3 ohm', string(0.2, 0.3)],
    ['both 0.2', string(0.2, 0.2)],
    ['both OL', string('open', 'open')],
  ])('"%s"', (text, expected) => expect(read('limit-and-cutoff-ohms', text)).toEqual(expected));
  test.each(['OL', '0.2'])('"%s" is asked back', (text) => expect(read('limit-and-cutoff-ohms', text)).toEqual({ '?': true }));
});
describe('cord, wire by wire', () => {
  test.each([
    [
      "cord, motor's leg 0.1, cord, other leg OL, cord, neutral 0.1",
      { cord_motor_leg_ohms: 0.1, cord_other_leg_ohms: 'open', cord_neutral_ohms: 0.1 },
    ],
    ['neutral 0.3, the rest 0.1', { cord_neutral_ohms: 0.3, '?': true }],
    ['0.1 all three', { cord_motor_leg_ohms: 0.1, cord_other_leg_ohms: 0.1, cord_neutral_ohms: 0.1 }],
    [
      'other leg open, neutral .1, motor leg .2',
      { cord_motor_leg_ohms: 0.2, cord_other_leg_ohms: 'open', cord_neutral_ohms: 0.1 },
    ],
  ])('"%s"', (text, expected) => expect(read('cord-ohms', text)).toEqual(expected));
});
describe('told while another question is open', () => {
  test.each([
    ['coil-ohms', 'L1 to L2 at the block reads 238 V running on high', { 'leg to leg, run-high': 238 }],
    ['coil-ohms', 'it reads 10.4, and leg to leg is 240 V at rest', { coil_ohms: 10.4, 'leg to leg, idle-off': 240 }],
    [
      'coil-to-case-ohms',
      'coil end 1 to case OL, coil end 2 to case 4.2',
      { coil_end_1_to_case_ohms: 'open', coil_end_2_to_case_ohms: 4.2 },
    ],
  ])('%s: "%s"', (check, text, expected) => expect(read(check, text)).toEqual(expected));
});
