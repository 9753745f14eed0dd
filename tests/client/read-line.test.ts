import { expect, test } from 'vitest';
import { readLine } from '../../client/quick/read-line.ts';
import { createConversation } from '../../server/conversation/index.ts';

const catalogue = createConversation().then((conversation) => conversation.catalogue());
const read = async (line: string) => {
  const is = readLine(line, await catalogue);
  if (is.is === 'lost') return is.missing;
  return is.is === 'which' ? is.of.map((m) => m.read.fact) : is.input;
};

test.each([
  [
    'coil 9.8 ohm 5400W/240V',
    { check: 'coil-ohms', fact: 'coil_ohms', unit: 'Ω', value: 9.8, plate: { total_w: 5400, volts: 240 } },
  ],
  [
    'element 9,8 240V 5400 watts',
    { check: 'coil-ohms', fact: 'coil_ohms', unit: 'Ω', value: 9.8, plate: { total_w: 5400, volts: 240 } },
  ],
  ['cut-off OL lead off', { check: 'limit-and-cutoff-ohms', fact: 'cut_off_ohms', unit: 'Ω', value: 'open', lifted: true }],
  [
    'across the cut-off 90 V low-z',
    { check: 'limit-and-cutoff-volts', fact: 'cut_off_volts', unit: 'V', value: 90, lowImpedance: true },
  ],
  ['thermistor 12.4k', { check: 'thermistor-ohms', fact: 'thermistor_ohms', unit: 'Ω', value: 12400 }],
  ['thermostat loop .4', { check: 'thermostat-loop-ohms', fact: 'thermostat_loop_ohms', unit: 'Ω', value: 0.4 }],
  ['outlet L1 N 119.8', { check: 'supply-at-receptacle', fact: 'motor_leg_to_neutral_receptacle', unit: 'V', value: 119.8 }],
  ['leg to leg outlet 240.5', { check: 'supply-at-receptacle', fact: 'between_legs_receptacle', unit: 'V', value: 240.5 }],
])('%s is read in one way', async (line, input) => expect(await read(line)).toEqual(input));

test('where it could be two readings, both are named and neither is judged', async () => {
  expect(await read('leg to leg at the block 118 V')).toEqual(expect.arrayContaining(['between_legs_heat', 'between_legs_idle']));
  expect(await read('coil 1 to case 1.2M')).toHaveLength(2);
});

test.each([
  ['9.8', 'place'],
  ['drum 3', 'place'],
  ['coil', 'value'],
  ['', 'value'],
])('%j lacks its %s', async (line, missing) => expect(await read(line)).toBe(missing));
