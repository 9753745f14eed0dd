import { describe, expect, test } from 'vitest';
import { consult, foldCase, knowledge, machineInHand, thermistorCurves } from '../../../rules/index.ts';
import { byTable_ohm } from '../../../rules/physics/index.ts';
import type { Answer, Value } from '../../../rules/types.ts';
import { preparedFor } from '../../bench/worlds.ts';
import sound from '../../dryer/sound.json' with { type: 'json' };

/** A sensor is judged at the temperature it was read at; where nobody told that, it condemns nothing. */
const k = knowledge();
const none = ['gate-now', 'gate-signs'].map((id) => k.checks.get(id)!.choices!.none);
const plain: Record<string, unknown> = {
  ...sound,
  ...none[0],
  ...none[1],
  ...{ fuel: 'electric', dryer_kind: 'vented', slots: 'four', control_kind: 'buttons', heater_coils: 'one', qualified: 'yes' },
};
const start = Object.entries(plain).filter(([fact]) => k.facts.get(fact)?.kind === 'choice');

async function told(family: string, ...more: [fact: string, value: Value][]) {
  const all = [...start, ...more];
  const answers = all.map(
    ([fact, value], i): Answer => ({
      seq: i + 1,
      turn: i + 1,
      act: 'tell',
      fact,
      value: value as Value,
      said: '',
      by: 'technician',
    }),
  );
  const f = foldCase(k, { audience: 'technician', families: [family], units: 'us' }, answers);
  const c = await consult(preparedFor(k, machineInHand(k, f)), f);
  const at = f.readings.findLastIndex((r) => r.fact === 'thermistor_ohms');
  const drifted = c.suspects.filter((s) => s.faults.some((id) => id.startsWith('thermistor-drift')));
  return { c, f, verdict: c.verdicts[at]!, drifted };
}
const curves = thermistorCurves('thermistor_ohms');
const ohms = (value: number): [string, Value] => ['thermistor_ohms', Math.round(value)];

describe('read with no temperature told', () => {
  test.each(['no-heat', 'overheats', 'low-heat-long-dry'])(
    'a sensor sound in any room is sound, and the warmth is asked: %s',
    async (family) => {
      for (const curve of curves)
        for (const at_c of [10, 15, 20, 25, 30, 35, 40])
          for (const off of [0.95, 1, 1.05]) {
            const { c, verdict } = await told(family, ohms(byTable_ohm(curve.rows, at_c)! * off));
            const name = `${curve.id} at ${at_c} °C`;
            expect(verdict.is, name).toBe('good');
            expect(c.next, name).toMatchObject({ check: 'sensor-temperature' });
            const others = c.suspects.filter((s) => s.faults.length && !s.faults.some((id) => id.startsWith('thermistor')));
            for (const s of others) expect(s.against, name).not.toContain(verdict.seq);
          }
    },
  );
  test('what no room explains needs a temperature; read twice it condemns no more than read once', async () => {
    for (const value of [1500, 3000, 4500, 26_000, 90_000])
      for (const family of ['no-heat', 'overheats', 'low-heat-long-dry']) {
        const once = await told(family, ohms(value));
        expect(once.verdict, String(value)).toMatchObject({ is: 'needs a temperature', rule: 'needs-a-temperature' });
        expect(once.c.next).toMatchObject({ check: 'sensor-temperature' });
        const twice = await told(family, ohms(value), ohms(value * 1.01));
        expect(twice.verdict.is).toBe('needs a temperature');
        for (const s of [...once.drifted, ...twice.drifted]) expect([s.for, s.confirmedBy]).toEqual([[], []]);
        expect(twice.c.conclusion?.is).not.toBe('confirmed');
        for (const s of twice.c.suspects) expect(s.against).not.toContain(twice.verdict.seq);
      }
  });
  test('open and shorted are so at any temperature', async () => {
    expect((await told('no-heat', ['thermistor_ohms', 'open'])).verdict).toMatchObject({ is: 'open', class: 'open' });
    const short = await told('no-heat', ['thermistor_ohms', 20]);
    expect(short.verdict).toMatchObject({ is: 'low', class: 'short' });
    expect(short.c.suspects.find((s) => s.faults[0] === 'thermistor-shorted')!.confirmedBy).not.toEqual([]);
  });
});

describe('read with the temperature told', () => {
  test('sound at 5 to 40 °C on either curve, and never drifted', async () => {
    for (const curve of curves)
      for (const at_c of [5, 10, 15, 22, 30, 35, 40]) {
        const { c, verdict, drifted } = await told(
          'overheats',
          ['sensor_temperature', at_c],
          ohms(byTable_ohm(curve.rows, at_c) ?? curve.r25_ohm),
        );
        if (byTable_ohm(curve.rows, at_c) === undefined) continue;
        expect(verdict, `${curve.id} at ${at_c} °C`).toMatchObject({ is: 'good', class: 'good' });
        expect(c.next?.check).not.toBe('sensor-temperature');
        for (const s of drifted) expect(s.confirmedBy).toEqual([]);
      }
  });
  test.each([
    ['overheats', 15, 15_700, 'good'],
    ['overheats', 35, 6_500, 'good'],
    ['overheats', 35, 15_700, 'high'],
    ['overheats', 15, 27_000, 'high'],
    ['low-heat-long-dry', 15, 6_500, 'low'],
    ['no-heat', 30, 4_000, 'low'],
  ] as const)('%s, %d °C, %d Ω: %s', async (family, at_c, value, is) => {
    for (const order of [0, 1]) {
      const all: [string, Value][] = [
        ['sensor_temperature', at_c],
        ['thermistor_ohms', value],
      ];
      const { verdict, drifted } = await told(family, ...(order ? all.reverse() : all));
      expect(verdict.is).toBe(is);
      const blamed = drifted.filter((s) => s.confirmedBy.length).flatMap((s) => s.faults);
      const of = is === 'good' ? [] : [`thermistor-drift-${is}`];
      expect(blamed).toEqual(of);
    }
  });
});
