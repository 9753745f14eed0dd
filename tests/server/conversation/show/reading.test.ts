import { describe, expect, test } from 'vitest';
import type { QuickReading, ReadingInput } from '../../../../server/conversation-port.ts';
import { k, talkOf } from '../parts.ts';

const talk = talkOf();
const judged = async (input: ReadingInput): Promise<QuickReading> => {
  const out = await talk.reading(input);
  if ('problem' in out) throw new Error(out.problem.message);
  return out;
};
const plate = { volts: 240, total_w: 5600 };

describe('one reading without a case', () => {
  test.each<[ReadingInput, string]>([
    [{ check: 'coil-ohms', value: 9.8, plate }, 'good'],
    [{ check: 'coil-ohms', value: 'open', plate }, 'open'],
    [{ check: 'coil-ohms', value: 2, plate }, 'low'],
    [{ check: 'coil-ohms', value: 60, plate }, 'high'],
    [{ check: 'motor-contact-at-rest-ohms', value: 'open' }, 'good'],
    [{ check: 'motor-contact-at-rest-ohms', value: 0.2 }, 'closed'],
    [{ check: 'supply-at-block-idle', value: 240 }, 'good'],
    [{ check: 'supply-at-block-idle', fact: 'motor_leg_to_neutral_idle', value: 240 }, 'high'],
  ])('%o is %s', async (input, verdict) => {
    const out = await judged(input);
    expect(out.verdict).toBe(verdict);
    expect(out.because).not.toBe('');
    expect(out.how.length).toBeGreaterThan(1);
    expect(out.sources.length).toBeGreaterThan(0);
  });
  test('the band moves with the plate, and says where it comes from', async () => {
    const [small, big] = [
      await judged({ check: 'coil-ohms', value: 10, plate: { volts: 240, total_w: 4000 } }),
      await judged({ check: 'coil-ohms', value: 10, plate }),
    ];
    expect(small.expected!.lo).toBeGreaterThan(big.expected!.lo);
    expect(big.how.join(' ')).toMatch(/From the rating plate/);
    expect((await judged({ check: 'coil-ohms', value: 10 })).how.join(' ')).toMatch(/usual rating/);
  });
  test('an all-OL band goes through JSON and back', async () => {
    const { expected, expectedShown } = await judged({ check: 'motor-contact-at-rest-ohms', value: 'open' });
    expect(JSON.parse(JSON.stringify(expected))).toEqual(expected);
    expect([expected!.lo > expected!.hi, expected!.open, expectedShown]).toEqual([true, true, 'OL (no path)']);
  });
  test.each<[ReadingInput, string]>([
    [{ check: 'ask-kind', value: 1 }, 'no-such-check'],
    [{ check: 'nothing', value: 1 }, 'no-such-check'],
    [{ check: 'coil-ohms', fact: 'heater_amps', value: 1 }, 'wrong-check'],
    [{ check: 'coil-ohms', value: -5 }, 'not-possible'],
    [{ check: 'coil-ohms', value: 5, unit: 'V' }, 'wrong-unit'],
    [{ check: 'coil-ohms', value: 5, plate: { volts: 12 } }, 'plate-volts'],
    [{ check: 'coil-ohms', value: 5, machine: 'steam' }, 'no-such-machine'],
    [{ check: 'coil-ohms', value: 5, meter: 'rod' }, 'no-such-meter'],
  ])('%o is refused: %s', async (input, code) => {
    const out = await talk.reading(input);
    expect('problem' in out && [out.problem.code, /[a-z]/.test(out.problem.message)]).toEqual([code, true]);
  });
  test('the catalogue has every measured check, and each can be judged', async () => {
    const { checks, machines, version } = talk.catalogue();
    expect(checks.map((c) => c.id)).toEqual([...k.checks.values()].filter((c) => c.measure && !c.anywhere).map((c) => c.id));
    expect([version, machines.length]).toEqual([k.version, k.machines.size]);
    for (const c of checks)
      for (const r of c.reads) {
        expect(Object.values(r.points).every((p) => p.includes('one lead on'))).toBe(true);
        await judged({ check: c.id, fact: r.fact, value: 1 });
      }
  });
});
