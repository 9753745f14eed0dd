import { describe, expect, test } from 'vitest';
import type { ReadingInput } from '../../../server/conversation-port.ts';
import { closest, run } from '../../tools/reading.ts';
import { littleConversation } from './little-conversation.ts';

async function reading(line: string) {
  let asked: ReadingInput | undefined;
  const little = littleConversation();
  const conversation = {
    ...little,
    reading: (input: ReadingInput) => {
      asked = input;
      return little.reading(input);
    },
  };
  const said: string[] = [];
  const complained: string[] = [];
  const code = await run(
    line.split(' ').filter(Boolean),
    conversation,
    (t) => said.push(t),
    (t) => complained.push(t),
  );
  return { code, said: said.join('\n'), complained: complained.join('\n'), asked };
}

describe('npm run reading', () => {
  test('prints verdict, band, reason and source', async () => {
    const { code, said } = await reading('--check coil-ohm --value 9.8 --plate 5400W/240V');
    expect([code, said]).toEqual([
      0,
      `coil-ohm: 9.8 Ω
Verdict: good (as said)
Expected: 8 to 12 Ω
Why: It lies where it lies.
  - typed in here
Source: this test`,
    ]);
  });

  test('--json prints the very answer of POST /api/reading', async () => {
    const { said } = await reading('--check coil-ohm --value 9.8 --json');
    expect(JSON.parse(said)).toEqual(await littleConversation().reading({ check: 'coil-ohm', value: 9.8 }));
  });

  test.each([
    ['--check coil-ohm --value 9.8ohm', { value: 9.8, unit: 'Ω' }],
    ['--check coil-ohm --value=1.2k', { value: 1200, unit: 'Ω' }],
    ['--check coil-ohm --value OL', { value: 'open' }],
    ['--check outlet-v --value 240 --unit volts', { value: 240, unit: 'V' }],
    [
      '--check coil-ohm --value 9 --plate 240V/5.4kW --heater 5000W',
      { value: 9, plate: { volts: 240, total_w: 5400, heater_w: 5000 } },
    ],
    ['--check coil-ohm --value 9 --plate 24A/240V', { value: 9, plate: { amps: 24, volts: 240 } }],
    [
      '--check coil-ohm --value 9 --machine dial-two-coil --meter cheap --hookup four-wire --leads 0.3 --lifted --low-impedance',
      {
        value: 9,
        machine: 'dial-two-coil',
        meter: 'cheap',
        hookup: 'four-wire',
        leads_ohm: 0.3,
        lifted: true,
        lowImpedance: true,
      },
    ],
  ])('%s', async (line, expected) => {
    const { code, asked } = await reading(line);
    expect([code, asked]).toEqual([0, { check: line.split(' ')[1], ...expected }]);
  });

  test.each([
    ['', /Which check\?/],
    ['--check coil-ohm', /What did it read\?/],
    ['--check coil-ohm --value -5', /-5 Ω is not possible/],
    ['--check outlet-v --value 4000V', /4000 V is not possible/],
    ['--check coil-ohm --value 1e999', /too large to be a reading/],
    ['--check coil-ohm --value 9 --unit furlong', /"furlong" is not a unit/],
    ['--check coil-ohm --value 9furlong', /"furlong" is not a unit/],
    ['--check coil-ohm --value 9 --plate many', /not a rating plate/],
    ['--check coil-ohm --value 9 --plate 0W', /not a rating plate/],
    ['--check coil-ohm --value 9 --leads 3V', /must be a number in Ω/],
    ['--check coil-ohm --value 9 --leads -1', /leads_ohm/],
    ['--check coil-ohm --value 9 --hookup five-wire', /hookup/],
    ['--check coil-ohm --value 9 --loud', /Unknown option '--loud'.*--help/],
    ['--check coli-ohm --value 9', /no check "coli-ohm"\. The closest are:\n {2}coil-ohm/],
  ])('"%s" is a sentence and exit code 2', async (line, says) => {
    const { code, said, complained } = await reading(line);
    expect([code, said]).toEqual([2, '']);
    expect(complained).toMatch(says);
  });

  test('--list and --help', async () => {
    expect((await reading('--list')).said).toContain('coil-ohm');
    expect((await reading('--help')).said).toContain('--plate');
  });

  test('a word in common counts more than letters in common', () => {
    const checks = ['motor-run-ohms', 'coil-ohms', 'cord-legs', 'outlet-volts'].map((id) => ({ id, label: id }));
    expect(closest('element coil', checks)[0]?.id).toBe('coil-ohms');
    expect(closest('outlet-vots', checks)[0]?.id).toBe('outlet-volts');
  });
});
