import { describe, expect, test } from 'vitest';
import { type ChartData, chartsOf, heatChart, supplyChart, thermistorChart } from '../../client/curves/charts.ts';

const THERMISTOR = {
  fact: 'thermistor_ohms',
  label: 'Thermistor',
  curves: [
    {
      id: 'a',
      r25_ohm: 10_000,
      beta_k: 3977,
      rows: [
        [0, 32_651],
        [25, 10_000],
        [100, 678],
      ] as [number, number][],
      source: 'a table',
      basis: 'handbook',
    },
  ],
};
const says = (chart: ChartData) => chart.says.join('\n');

/** Whatever is marked lies on the drawing. */
function within({ x, y, marks, lines, bands }: ChartData) {
  for (const m of [...marks, ...lines.flatMap((l) => l.points.map(([a, b]) => ({ x: a, y: b })))]) {
    expect(m.x).toBeGreaterThanOrEqual(x.from);
    expect(m.x).toBeLessThanOrEqual(x.to);
    expect(m.y).toBeGreaterThanOrEqual(y.from);
    expect(m.y).toBeLessThanOrEqual(y.to);
  }
  for (const b of bands) expect([b.from >= x.from, b.to <= x.to]).toEqual([true, true]);
}

describe('the thermistor curve', () => {
  test('has the reading on it, in the person’s own degrees', () => {
    const read = { ...THERMISTOR, reading: { ohm: 10_000, at_c: [25] } };
    const us = thermistorChart(read, 'us');
    expect(us.marks).toEqual([{ x: 77, y: 4, shape: 'dot' }]);
    expect(says(us)).toContain('That is 77 °F');
    expect(says(thermistorChart(read, 'metric'))).toContain('That is 25 °C');
    within(us);
  });
  test('says so where a reading is beyond it, and where nothing was read', () => {
    const far = thermistorChart({ ...THERMISTOR, reading: { ohm: 2, at_c: [null] } }, 'metric');
    expect(far.marks).toEqual([]);
    expect(says(far)).toContain('beyond');
    within(far);
    expect(says(thermistorChart(THERMISTOR, 'metric'))).toContain('Nothing read yet');
  });
});

describe('the supply at rest and under load', () => {
  test('draws the sag against the reading at rest and says it in volts and percent', () => {
    const chart = supplyChart([{ label: 'Other leg', idle_v: 120, load_v: 102, least_v: 114 }]);
    expect(chart.marks).toEqual([
      { x: 100, y: 0, shape: 'ring' },
      { x: 85, y: 0, shape: 'dot' },
      { x: 95, y: 0, shape: 'tick' },
    ]);
    expect(says(chart)).toContain('It falls 18 V, 15 %. A sound supply stays above 114 V. This is below it.');
    within(chart);
  });
  test('keeps a lost leg, a rise and a missing half on the drawing', () => {
    const chart = supplyChart([
      { label: 'A', idle_v: 120, load_v: 2, least_v: 114 },
      { label: 'B', idle_v: 120, load_v: 139, least_v: 114 },
      { label: 'C', idle_v: 120 },
      { label: 'D', load_v: 118 },
    ]);
    within(chart);
    expect(says(chart)).toContain('It rises 19 V, 16 %');
    expect(says(chart)).toContain('C: 120 V at rest. Not read with the heat on yet.');
    expect(says(chart)).toContain('D: 118 V. Nothing read at rest to hold it against.');
  });
});

describe('heat by volts', () => {
  const plate = { volts_v: 240, watts_w: 5400, known: false };
  test('goes with the square, and 208 V is three quarters', () => {
    expect(says(heatChart({ plate }))).toContain('At 208 V it gives 75 % of full heat');
    const chart = heatChart({ plate, reading: { label: 'Leg to leg', volts_v: 208, watts_w: 4056 } });
    expect(chart.marks[1]!.y).toBeCloseTo(75.1, 1);
    expect(says(chart)).toContain('4056 W, 75 %');
    expect(says(chart)).toContain('not told yet');
    within(chart);
  });
  test('holds a dead pair, a high one, and a band partly outside', () => {
    for (const volts_v of [0, 3, 119, 275])
      within(
        heatChart({
          plate,
          reading: { label: 'Leg to leg', volts_v, watts_w: 1 },
          expected: { lo: 100, hi: 400, unit: 'V', from: [] },
        }),
      );
  });
});

test('only what is there is drawn', () => {
  expect(chartsOf({}, 'us')).toEqual([]);
  expect(chartsOf({ thermistor: THERMISTOR, supply: [{ label: 'A', idle_v: 120 }] }, 'us').map((c) => c.id)).toEqual([
    'supply',
    'thermistor',
  ]);
});
