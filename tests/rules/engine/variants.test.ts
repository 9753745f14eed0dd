import { describe, expect, test } from 'vitest';
import { drawn } from '../../../rules/engine/variants.ts';
import { consult, foldCase, knowledge, prepare } from '../../../rules/index.ts';
import type { MachineInHand } from '../../../rules/types.ts';
import { answerOf, type Flat } from '../../answers.ts';

const k = knowledge();
const hand = (more: Partial<MachineInHand> = {}): MachineInHand => ({
  circuits: ['dial-single-coil'],
  plate: {},
  hookup: 'four-wire',
  meter: [...k.meters.keys()][0]!,
  system: k.supply.systems[0]!.id,
  ...more,
});
const told = (h: MachineInHand, answers: Flat[], families = ['no-heat']) =>
  consult(
    prepare(k, h),
    foldCase(
      k,
      { audience: 'technician', families, units: 'us', machine: h },
      answers.map((a, i) => answerOf({ seq: i + 1, said: '', by: 'technician', ...a })),
    ),
  );

describe('a machine unlike its drawing', () => {
  test('the drawing itself stays as it was', () => {
    const before = JSON.stringify([...k.machines.values()]);
    drawn(k, hand({ variants: ['limit-on-motor-side', 'second-limit'] }));
    expect(JSON.stringify([...k.machines.values()])).toBe(before);
  });
  test.each([...k.machines.values()].flatMap((m) => (m.variants ?? []).map((v) => [m.id, v.id] as const)))(
    '%s, %s: whole as it stands, every part of the heater string reads as good as on the drawing',
    (machine, variant) => {
      const plain = prepare(k, hand({ circuits: [machine] }));
      const other = prepare(k, hand({ circuits: [machine], variants: [variant] }));
      const moved = drawn(k, { circuits: [machine], variants: [variant] })[0]!;
      expect(moved.redrawn).toEqual([variant]);
      for (const check of ['coil-ohms', 'coil-ohms-two', 'limit-and-cutoff-ohms'])
        for (const [i, list] of other.expected(check, []).entries()) {
          const was = plain.expected(check, [])[i]!;
          if (list === 'will-not-run' || was === 'will-not-run') throw new Error('a reading with the plug out needs no motor');
          for (const e of list) expect([e.fact, e.centre]).toEqual([e.fact, was.find((x) => x.fact === e.fact)!.centre]);
        }
    },
  );
  test('a part on the other side: what is read to neutral behind the coil moves with it', () => {
    const at = (variants: string[]) =>
      prepare(k, hand({ variants })).between('volts', ['E1', 'N'], 'run-high', ['thermal-cutoff-open'], {
        machine: ['dial-single-coil', ...variants].join('+'),
      })[0];
    const [plain, other] = [at([]), at(['limit-on-motor-side'])];
    // Drawn, the open cut-off cuts the coil from the timer's leg: it hangs on the other leg, 120 V. Moved, the coil hangs on the timer's leg, 120 V as well;
    // across the coil end and the motor contact the two differ.
    expect([plain, other].every((x) => typeof x === 'object')).toBe(true);
    const across = (variants: string[]) =>
      prepare(k, hand({ variants })).between('volts', ['E1', 'L1'], 'run-high', ['thermal-cutoff-open'], {
        machine: ['dial-single-coil', ...variants].join('+'),
      })[0]!;
    const v = (x: ReturnType<typeof across>) => (typeof x === 'object' ? Number(x.centre) : Number.NaN);
    expect(v(across([]))).toBeGreaterThan(200);
    expect(v(across(['limit-on-motor-side']))).toBeLessThan(5);
  });
  test('one that may have it or not keeps both drawings: what only one of them can explain stays possible', async () => {
    const reading = { fact: 'volts_between', value: 0.3, points: ['E1', 'L1'] as [string, string], state: 'run-high' };
    const suspects = async (more: Partial<MachineInHand>) =>
      (await told(hand(more), [reading])).suspects.find((s) => s.faults[0] === 'thermal-cutoff-open')!.misreads;
    expect(await suspects({})).toBe(1);
    expect(await suspects({ variants: ['limit-on-motor-side'] })).toBe(0);
    expect(await suspects({ maybe: ['limit-on-motor-side'] })).toBe(0);
    expect(drawn(k, hand({ maybe: ['limit-on-motor-side', 'second-limit'] }))).toHaveLength(4);
  });
});

test('a complaint that comes and goes: a good reading now clears nothing, a bad one still tells', async () => {
  const good = { fact: 'coil_ohms', check: 'coil-ohms', value: 10.6 };
  const open = { ...good, value: 'open' };
  const at = { fact: 'comes_and_goes', value: 'comes-and-goes' };
  const share = async (answers: Flat[]) => {
    const c = await told(hand(), answers);
    return c.suspects.find((s) => s.faults[0] === 'element-open')!;
  };
  expect((await share([good])).misreads).toBe(1);
  expect((await share([at, good])).misreads).toBe(0);
  expect((await share([at])).share).toBeCloseTo((await share([at, good])).share, 6);
  expect((await share([at, open])).share).toBeGreaterThan((await share([at])).share * 3);
});

test('what was renewed before is less likely, never ruled out', async () => {
  const plain = await told(hand(), []);
  const renewed = await told({ ...hand(), repaired: ['renew-element'] }, []);
  const share = (c: typeof plain) => c.suspects.find((s) => s.faults[0] === 'element-open')!;
  expect(share(renewed).share).toBeLessThan(share(plain).share / 2);
  expect(share(renewed).share).toBeGreaterThan(0);
  expect(share(renewed).live).toBe(true);
});
