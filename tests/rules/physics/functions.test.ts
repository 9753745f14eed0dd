import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import thermistors from '../../../rules/knowledge/thermistors.json' with { type: 'json' };
import * as physics from '../../../rules/physics/index.ts';
import { limit, METERS } from './knowledge.ts';

const meter = METERS.get('meter-4000-count')!;

describe('meter', () => {
  test.each([
    [10, { lo: 9.519, hi: 10.882 }],
    [0.02, { lo: 0, hi: 0.823 }],
    [10_000, { lo: 9880, hi: 10_120 }],
  ])('%d Ω shows %o, leads included', (ohm, band) => {
    const shown = physics.shownOhms(ohm, meter);
    expect(shown.open).toBe(false);
    expect(shown.lo).toBeCloseTo(band.lo, ohm < 100 ? 2 : -1);
    expect(shown.hi).toBeCloseTo(band.hi, ohm < 100 ? 2 : -1);
  });
  test('nulled leads add nothing', () => expect(physics.shownOhms(10, meter, { lo: 0, hi: 0 }).hi).toBeCloseTo(10.58, 6));
  test('over range is OL and nothing else; near its edge both may be shown', () => {
    expect(physics.shownOhms('open', meter)).toEqual({ lo: Number.POSITIVE_INFINITY, hi: Number.NEGATIVE_INFINITY, open: true });
    expect(physics.shownOhms(5e7, meter).open).toBe(true);
    expect(physics.shownOhms(3.99e7, meter)).toMatchObject({ open: true, hi: 4e7 });
  });
  test('volts never fall below 0, and a true value always lies in its own band', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 400, noNaN: true }), (v) => {
        const { lo, hi } = physics.shownFor(v, meter.volts);
        expect(lo).toBeGreaterThanOrEqual(0);
        expect(lo).toBeLessThanOrEqual(v);
        expect(hi).toBeGreaterThanOrEqual(v);
      }),
      { seed: 1 },
    );
  });
  test('a floating point may show up to 180 V on 10 MΩ, short of the nine tenths of a true full reading, and nothing on low impedance', () => {
    const coupling = limit('stray-coupling').lo;
    expect(physics.floatingBand_v(240, coupling, meter.input_ohm)).toEqual({ lo: 0, hi: expect.closeTo(179.8, 1) });
    expect(physics.floatingBand_v(240, coupling, meter.lowImpedance_ohm).hi).toBeLessThan(0.1);
  });
  test('a beep says less than the threshold, no more: a sound coil beeps too, an open one does not', () => {
    expect(physics.buzzes(10.2, meter)).toBe(true);
    expect(physics.buzzes('open', meter)).toBe(false);
  });
});

describe('supply', () => {
  const kind = (between: number, first: number, second: number) =>
    physics.kindOfSupply(physics.legRatio(between, first, second), limit('ratio-split'), limit('ratio-wye'));
  test.each([
    [240, 120, 120, 'split'],
    [208, 120, 120, 'wye'],
    [208, 104, 104, 'split'],
    [120, 120, 0, 'split'],
    [0, 120, 120, 'neither'],
    [237, 55, 182, 'split'],
  ] as const)('%d between legs of %d and %d: %s', (between, first, second, is) => expect(kind(between, first, second)).toBe(is));
  test.each([
    [[121, 121], [117, 98], 'second'],
    [[121, 121], [98, 117], 'first'],
    [[121, 121], [118, 118], 'neither'],
  ] as const)('idle %o, loaded %o: %s leg sags', (idle, loaded, leg) => expect(physics.saggingLeg(idle, loaded, 3)).toBe(leg));
});

describe('heating wire', () => {
  test('the plate of 5.4 kW reads 9.3 to 11.9 Ω cold', () => {
    const band = physics.coldBand_ohm(240, 5400, limit('rating-tolerance'), limit('alloy-factor'));
    expect(band.lo).toBeCloseTo(9.28, 2);
    expect(band.hi).toBeCloseTo(11.85, 2);
  });
  test('a plate total widens the band by what the motor may take', () => {
    const watts = physics.heaterShare_w(5700, limit('motor-share-of-plate'));
    expect(watts).toEqual({ lo: 5300, hi: 5500 });
    const { lo, hi } = physics.hotBand_ohm(240, watts, { lo: 1, hi: 1 });
    expect(lo).toBeCloseTo(10.47, 2);
    expect(hi).toBeCloseTo(10.87, 2);
  });
});

describe.each(thermistors.curves)('thermistor $id', (curve) => {
  const table = curve.rows as [number, number][];
  test('falls with every row', () => {
    for (let i = 1; i < table.length; i++) {
      expect(table[i]![0]).toBeGreaterThan(table[i - 1]![0]);
      expect(table[i]![1]).toBeLessThan(table[i - 1]![1]);
    }
  });
  test('table there and back is the same temperature, and nothing is known outside', () => {
    fc.assert(
      fc.property(fc.double({ min: table[0]![0] + 0.001, max: table.at(-1)![0] - 0.001, noNaN: true }), (t) => {
        expect(physics.byTable_c(table, physics.byTable_ohm(table, t)!)).toBeCloseTo(t, 6);
      }),
      { seed: 2 },
    );
    expect(physics.byTable_ohm(table, -60)).toBeUndefined();
    expect(physics.byTable_ohm(table, 300)).toBeUndefined();
    expect(physics.byTable_c(table, 1e9)).toBeUndefined();
    expect(physics.byTable_c(table, 1)).toBeUndefined();
  });
  test('bends evenly: Beta from row to row drifts and never jumps, so no row is misprinted', () => {
    const beta = table.slice(1).map(([t, ohm], i) => physics.beta_k(table[i]![0], table[i]![1], t, ohm));
    // A silicon or oxide sensor's Beta drifts by a few per cent over tens of degrees; two digits changed places make it leap.
    for (let i = 1; i < beta.length; i++)
      expect(Math.abs(beta[i]! / beta[i - 1]! - 1), `at ${table[i]![0]} °C`).toBeLessThan(0.1);
  });
  test('its Beta between the stated temperatures is the stated one', () => {
    const [from, to] = curve.betaPair_c as [number, number];
    const at = (t: number) => table.find(([row]) => row === t)![1];
    expect(Math.abs(physics.beta_k(from, at(from), to, at(to)) - curve.beta_k)).toBeLessThan(
      curve.basis === 'from memory' ? 60 : 3,
    );
  });
});

test('Steinhart and Hart there and back', () => {
  const constants: [number, number, number] = [1.129148e-3, 2.34125e-4, 8.76741e-8];
  fc.assert(
    fc.property(fc.double({ min: -30, max: 150, noNaN: true }), (t) => {
      expect(physics.bySteinhartHart_c(constants, physics.bySteinhartHart_ohm(constants, t))).toBeCloseTo(t, 6);
    }),
    { seed: 8 },
  );
});

test('a path beside the part: alone is the inverse of side by side', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 1e5, noNaN: true }), fc.double({ min: 0.1, max: 1e5, noNaN: true }), (a, b) => {
      const alone = physics.alone_ohm(physics.sideBySide_ohm(a, b) as number, b);
      // Where the other path carries nearly all, the part can no longer be told from its own reading.
      if (a > 1e4 * b) return;
      expect(Math.abs((alone as number) - a) / a).toBeLessThan(1e-6);
    }),
    { seed: 9 },
  );
  expect(physics.alone_ohm(25, 25)).toBe('open');
  expect(physics.sideBySide_ohm('open', 25)).toBe(25);
});
