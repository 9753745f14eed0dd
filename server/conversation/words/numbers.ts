import { onlyOpen } from '../../../rules/index.ts';
import type { Band, Check, Knowledge, Unit, Value } from '../../../rules/types.ts';
import type { Speaker } from './speaker.ts';

type Units = 'us' | 'metric';

/** Metric value and unit as this person reads them. Only what differs between the systems changes. */
function inUnits(value: number, unit: Unit, units: Units): { value: number; unit: string } {
  if (unit === '1') return { value, unit: '' };
  if (units === 'us') {
    if (unit === '°C') return { value: (value * 9) / 5 + 32, unit: '°F' };
    if (unit === 'Pa') return { value: value / 249.089, unit: 'in. w.c.' };
    if (unit === 'm/s') return { value: value * 196.85, unit: 'ft/min' };
  }
  if (unit === 'Ω' && Math.abs(value) >= 1e9) return { value: value / 1e9, unit: 'GΩ' };
  if (unit === 'Ω' && Math.abs(value) >= 1e6) return { value: value / 1e6, unit: 'MΩ' };
  if (unit === 'Ω' && Math.abs(value) >= 1e3) return { value: value / 1e3, unit: 'kΩ' };
  return { value, unit };
}
/** Never with an exponent: nobody reads that off a meter. */
const digits = (x: number, n: number): string => {
  const rounded = Number(x.toPrecision(n));
  if (Math.abs(rounded) >= MOST_SHOWN) return `${rounded < 0 ? '< -' : '> '}${MOST_SHOWN}`;
  return Math.abs(rounded) < LEAST_SHOWN ? '0' : String(rounded);
};
const MOST_SHOWN = 1_000_000;
const LEAST_SHOWN = 1e-6;

/** A reading as shown, with its unit: "118.6 V", "OL", "12 kΩ", or the words of a choice. */
export function shownValue(s: Speaker, k: Knowledge, fact: string, value: Value, units: Units): string {
  if (value === 'open') return s.say('open-shown');
  if (typeof value !== 'number') return s.choice(fact, value);
  return shownNumber(value, k.facts.get(fact)?.unit ?? '1', units);
}
export function shownNumber(value: number, unit: Unit, units: Units, n = 4): string {
  const at = inUnits(value, unit, units);
  return `${digits(at.value, n)} ${at.unit}`.trim();
}

/** A band in words: "8.4 to 12.1 Ω", "up to 0.9 Ω", "OL, no path". Rounded so that it never claims more than the meter can show. */
export function shownBand(s: Speaker, band: Band, units: Units): string {
  if (onlyOpen(band)) return s.say('band-open');
  const lo = bandEnd(band.lo, band.unit, units);
  const hi = bandEnd(band.hi, band.unit, units);
  if (band.open && (band.hi >= OVER || !Number.isFinite(band.hi))) return s.say('band-at-least', { lo });
  const between = /^0(\s|$)/.test(lo)
    ? s.say('band-up-to', { hi })
    : s.say('band-between', { lo: sameUnit(lo, hi) ? lo.split(' ')[0]! : lo, hi });
  return band.open ? s.say('band-or-open', { band: between }) : between;
}
/** To a tenth below a hundred, else whole (three digits above a thousand): finer than that no hand meter is true. */
function bandEnd(value: number, unit: Unit, units: Units): string {
  const rounded = Math.abs(value) < 100 ? Math.round(value * 10) / 10 : Number(value.toPrecision(3));
  return shownNumber(rounded, unit, units, 3);
}
/** Ω above which a hand meter shows OL or might as well. */
const OVER = 1e6;
const sameUnit = (a: string, b: string): boolean => a.slice(a.indexOf(' ')) === b.slice(b.indexOf(' '));

/** Does the plate move what is read here? A closed contact and a voltage read the same on every plate. */
export const byPlate = (check: Check | undefined, fact: string): boolean =>
  check?.measure?.what === 'amps' ||
  (check?.measure?.what === 'ohms' &&
    Object.values(check.measure.reads.find((r) => r.fact === fact)?.classes ?? {}).includes('healthy'));

/** Where a band comes from, one phrase each, in order. A limit's own source stands for it. */
export function bandSources(s: Speaker, k: Knowledge, band: Band, plateKnown: boolean, byPlate = true): string[] {
  return band.from.flatMap((from) => {
    if (from === 'plate' && !byPlate) return [];
    if (from === 'plate') return s.say(plateKnown ? 'from-plate' : 'from-plate-assumed');
    if (from === 'meter') return s.say('from-meter');
    if (from === 'supply') return s.say('from-supply');
    if (from === 'supply-measured') return s.say('from-supply-measured');
    const source = k.limits.get(from)?.source;
    return source === undefined ? s.say('from-reading', { seq: from }) : s.say('from-limit', { source });
  });
}
