import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import thermistors from '../../../rules/knowledge/thermistors.json' with { type: 'json' };
import * as physics from '../../../rules/physics/index.ts';
import { limit, METERS } from './knowledge.ts';

const meter = METERS.get('meter-4000-count')!;

describe('meter', () => {
  test('ohms are read in the range that holds them, and over the last one in none', () => {
    expect(meter.ohms.map((range) => physics.ohmsLine(meter, range.upTo))).toEqual(meter.ohms);
    expect(physics.ohmsLine(meter, 5e7)).toBeUndefined();
  });
  test('how far off it may show grows with the value and never falls below its counts', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 400, noNaN: true }), fc.double({ min: 0, max: 400, noNaN: true }), (a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)].map((v) => physics.slack(v, meter.volts)) as [number, number];
        expect(less).toBeLessThanOrEqual(more);
        expect(less).toBeGreaterThanOrEqual(meter.volts.counts * meter.volts.resolution);
      }),
      { seed: 1 },
    );
  });
  test('a floating point may show up to 180 V on 10 MΩ, short of the nine tenths of a true full reading, and nothing on low impedance', () => {
    const coupling = limit('stray-coupling').lo;
    expect(physics.floatingBand_v(240, coupling, meter.input_ohm)).toEqual({ lo: 0, hi: expect.closeTo(179.8, 1) });
    expect(physics.floatingBand_v(240, coupling, meter.lowImpedance_ohm).hi).toBeLessThan(0.1);
  });
});

test('the plate of 5.4 kW reads 9.3 to 11.9 Ω cold', () => {
  const band = physics.coldBand_ohm(240, 5400, limit('rating-tolerance'), limit('alloy-factor'));
  expect(band.lo).toBeCloseTo(9.28, 2);
  expect(band.hi).toBeCloseTo(11.85, 2);
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
  // Beta of two rows: ln of their ohms over the difference of their 1/T.
  test('bends evenly: Beta from row to row drifts and never jumps, so no row is misprinted', () => {
    const perKelvin = (t: number) => 1 / (t + 273.15);
    const beta_k = table.slice(1).map(([t, ohm], i) => {
      const [before, more] = table[i]!;
      return Math.log(more / ohm) / (perKelvin(before) - perKelvin(t));
    });
    // The Beta of an oxide sensor drifts by a few per cent over tens of degrees; two digits that change places make it leap.
    for (let i = 1; i < beta_k.length; i++)
      expect(Math.abs(beta_k[i]! / beta_k[i - 1]! - 1), `at ${table[i]![0]} °C`).toBeLessThan(0.1);
  });
  test('its Beta between the stated temperatures is the stated one', () => {
    const [from, to] = curve.betaPair_c as [number, number];
    const at = (t: number) => table.find(([row]) => row === t)![1];
    const perKelvin = (t: number) => 1 / (t + 273.15);
    const beta_k = Math.log(at(from) / at(to)) / (perKelvin(from) - perKelvin(to));
    expect(Math.abs(beta_k - curve.beta_k)).toBeLessThan(curve.basis === 'from memory' ? 60 : 3);
  });
});
