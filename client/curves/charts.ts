import type { Reply } from '../../server/types.ts';
import type { Units } from '../types.ts';

export type CurveData = NonNullable<Reply['curves']>;
export interface Axis {
  label: string;
  from: number;
  to: number;
  ticks: { at: number; text: string }[];
}
/** A small chart as data, its axes straight: what runs in powers is handed over as its logarithm. */
export interface ChartData {
  id: string;
  title: string;
  x: Axis;
  y: Axis;
  lines: { points: [x: number, y: number][]; dashed?: boolean }[];
  /** Along the whole height, from one x to another. */
  bands: { from: number; to: number }[];
  /** ring: what should be. dot: what was read. tick: a limit. */
  marks: { x: number; y: number; shape: 'ring' | 'dot' | 'tick' }[];
  notes: { x: number; y: number; text: string }[];
  /** The same in words. */
  says: string[];
  sources: string[];
}

const short = (value: number, digits = 4): string => String(Number(value.toPrecision(digits)));
const ohms = (ohm: number): string => (ohm >= 1000 ? `${short(ohm / 1000, 3)} kΩ` : `${short(ohm, 3)} Ω`);
const fahrenheit = (c: number): number => (c * 9) / 5 + 32;
const between = (value: number, lo: number, hi: number): number => Math.min(hi, Math.max(lo, value));

/** All that is there to draw, in a fixed order. */
export function chartsOf(curves: CurveData, units: Units): ChartData[] {
  return [
    ...(curves.supply ? [supplyChart(curves.supply)] : []),
    ...(curves.heat ? [heatChart(curves.heat)] : []),
    ...(curves.thermistor ? [thermistorChart(curves.thermistor, units)] : []),
  ];
}

/** Ω fall as it gets warmer: by powers, so the upright axis counts in tens. */
export function thermistorChart({ label, curves, reading }: NonNullable<CurveData['thermistor']>, units: Units): ChartData {
  const warm = (c: number) => (units === 'us' ? fahrenheit(c) : c);
  const unit = units === 'us' ? '°F' : '°C';
  const all = curves.flatMap(({ rows }) => rows);
  const [from_c, to_c] = [Math.min(...all.map(([c]) => c)), Math.max(...all.map(([c]) => c))];
  const decades = all.map(([, ohm]) => Math.log10(ohm)).concat(reading ? [Math.log10(Math.max(reading.ohm, 1))] : []);
  const [low, high] = [Math.floor(Math.min(...decades)), Math.ceil(Math.max(...decades))];
  const xs = units === 'us' ? [0, 50, 100, 150, 200, 250] : [-20, 0, 25, 50, 75, 100, 125];
  const hits = reading?.at_c.flatMap((c) => (c === null ? [] : [c])) ?? [];
  return {
    id: 'thermistor',
    title: `${label}: resistance by temperature`,
    x: {
      label: `temperature, ${unit}`,
      from: warm(from_c),
      to: warm(to_c),
      ticks: xs.filter((x) => x >= warm(from_c) && x <= warm(to_c)).map((at) => ({ at, text: String(at) })),
    },
    y: {
      label: 'Ω',
      from: low,
      to: high,
      ticks: Array.from({ length: high - low + 1 }, (_, i) => ({ at: low + i, text: ohms(10 ** (low + i)) })),
    },
    lines: [
      ...curves.map(({ rows }, i) => ({
        points: rows.map(([c, ohm]): [number, number] => [warm(c), Math.log10(ohm)]),
        dashed: i > 0,
      })),
      ...(reading && hits.length > 0
        ? [
            {
              points: [
                [warm(from_c), Math.log10(reading.ohm)],
                [warm(Math.max(...hits)), Math.log10(reading.ohm)],
              ] as [number, number][],
            },
          ]
        : []),
    ],
    bands: [],
    marks: reading ? hits.map((c) => ({ x: warm(c), y: Math.log10(reading.ohm), shape: 'dot' as const })) : [],
    notes: [],
    says: [
      ...curves.map(
        (curve, i) =>
          `${i === 0 ? 'Full line' : 'Broken line'}: ${ohms(curve.r25_ohm)} at ${Math.round(warm(25))} ${unit}, Beta ${curve.beta_k} K.`,
      ),
      ...(reading
        ? hits.length > 0
          ? [
              `Read: ${ohms(reading.ohm)}. That is ${listOf(hits.map((c) => Math.round(warm(c))))} ${unit} on these curves. Is the part that warm?`,
            ]
          : [`Read: ${ohms(reading.ohm)}. That lies beyond both curves at any heat they cover.`]
        : ['Nothing read yet.']),
      'The curves are examples of the kind. The sheet of the part in hand comes first.',
    ],
    sources: curves.map(({ source, basis }) => `${source} (${basis})`),
  };
}
const listOf = (numbers: number[]): string => [...new Set(numbers)].join(' or ');

/** Each pair of points against its own reading at rest, so that 120 V and 240 V stand on one scale. */
export function supplyChart(rows: NonNullable<CurveData['supply']>): ChartData {
  const share = (row: (typeof rows)[number], v: number) => (100 * v) / (row.idle_v ?? row.least_v ?? v);
  const lowest = Math.min(80, ...rows.flatMap((r) => (r.load_v === undefined ? [] : [share(r, r.load_v)])));
  const from = Math.max(0, Math.floor(lowest / 10) * 10);
  const to = Math.max(110, ...rows.map((r) => (r.load_v === undefined ? 0 : Math.ceil(share(r, r.load_v) / 10) * 10)));
  const step = to - from > 60 ? 20 : 10;
  const at = (i: number) => rows.length - 1 - i;
  return {
    id: 'supply',
    title: 'Supply at rest and with the heat on',
    x: {
      label: '% of the volts at rest',
      from,
      to,
      ticks: Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => ({
        at: from + i * step,
        text: String(from + i * step),
      })),
    },
    y: { label: '', from: -0.5, to: rows.length - 0.2, ticks: [] },
    lines: rows.flatMap((r, i) =>
      r.idle_v !== undefined && r.load_v !== undefined
        ? [
            {
              points: [
                [100, at(i)],
                [share(r, r.load_v), at(i)],
              ] as [number, number][],
            },
          ]
        : [],
    ),
    bands: [],
    marks: rows.flatMap((r, i) => [
      ...(r.idle_v === undefined ? [] : [{ x: 100, y: at(i), shape: 'ring' as const }]),
      ...(r.load_v === undefined || r.idle_v === undefined ? [] : [{ x: share(r, r.load_v), y: at(i), shape: 'dot' as const }]),
      ...(r.least_v === undefined || r.idle_v === undefined
        ? []
        : [{ x: between(share(r, r.least_v), from, to), y: at(i), shape: 'tick' as const }]),
    ]),
    notes: rows.map((r, i) => ({ x: from, y: at(i) + 0.36, text: r.label })),
    says: ['Ring: at rest. Dot: with the heat on. Stroke: a sound supply stays above it.', ...rows.map(supplySays)],
    sources: [],
  };
}

function supplySays({ label, idle_v, load_v, least_v }: NonNullable<CurveData['supply']>[number]): string {
  const least = least_v === undefined ? '' : ` A sound supply stays above ${short(least_v)} V.`;
  if (idle_v === undefined) return `${label}: ${short(load_v!)} V. Nothing read at rest to hold it against.${least}`;
  if (load_v === undefined) return `${label}: ${short(idle_v)} V at rest. Not read with the heat on yet.${least}`;
  const fall = idle_v - load_v;
  const how = fall >= 0 ? `falls ${short(fall, 3)} V` : `rises ${short(-fall, 3)} V`;
  const percent = short(Math.abs(100 * fall) / idle_v, 2);
  const below = least_v !== undefined && load_v < least_v ? ' This is below it.' : '';
  return `${label}: ${short(idle_v)} V at rest, ${short(load_v)} V with heat. It ${how}, ${percent} %.${least}${below}`;
}

/** Heat over voltage, the coil's ohms taken as they are when hot. */
export function heatChart({ plate, reading, expected }: NonNullable<CurveData['heat']>): ChartData {
  const to = 260;
  const from = reading && reading.volts_v < 160 ? 0 : 160;
  const heat = (v: number) => 100 * (v / plate.volts_v) ** 2;
  const top = Math.max(120, Math.ceil(heat(to) / 20) * 20);
  const steps = Array.from({ length: 41 }, (_, i) => from + ((to - from) * i) / 40);
  const xs = from === 0 ? [0, 60, 120, 180, 240] : [160, 180, 208, 240, 260];
  return {
    id: 'heat',
    title: 'Heat by the volts between the legs',
    x: { label: 'volts between the legs', from, to, ticks: xs.map((at) => ({ at, text: String(at) })) },
    y: {
      label: '% of full heat',
      from: 0,
      to: top,
      ticks: [0, 25, 50, 75, 100].map((at) => ({ at, text: `${at} %` })),
    },
    lines: [{ points: steps.map((v): [number, number] => [v, heat(v)]) }],
    bands: expected ? [{ from: between(expected.lo, from, to), to: between(expected.hi, from, to) }] : [],
    marks: [
      { x: plate.volts_v, y: 100, shape: 'ring' },
      ...(reading
        ? [{ x: between(reading.volts_v, from, to), y: heat(between(reading.volts_v, from, to)), shape: 'dot' as const }]
        : []),
    ],
    notes: [],
    says: [
      `Ring: full heat, ${plate.watts_w} W at ${plate.volts_v} V${plate.known ? '' : ', the usual plate (this one is not told yet)'}.`,
      ...(reading
        ? [
            `Dot: ${reading.label}, ${short(reading.volts_v)} V. A sound coil then gives ${reading.watts_w} W, ${Math.round(heat(reading.volts_v))} % of full heat.`,
          ]
        : [`At 208 V it gives ${Math.round(heat(208))} % of full heat.`]),
      ...(expected ? [`Shaded: the volts to expect here, ${short(expected.lo, 3)} to ${short(expected.hi, 3)} V.`] : []),
    ],
    sources: [],
  };
}
