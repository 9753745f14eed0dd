import type { Unit, Units, Value } from './types.ts';

/** A unit a person may type in, and how it becomes the unit the reading has. */
export interface TypedUnit {
  label: string;
  words: string;
  into: (value: number) => number;
}
const asIs = (label: string, words: string): TypedUnit => ({ label, words, into: (value) => value });
// Twelve digits keep what was typed and drop what binary fractions add.
const tidy = (value: number) => Number(value.toPrecision(12));

const CELSIUS = asIs('°C', 'degrees Celsius');
const FAHRENHEIT: TypedUnit = { label: '°F', words: 'degrees Fahrenheit', into: (value) => tidy(((value - 32) * 5) / 9) };
const CHOICES: Record<Unit, TypedUnit[]> = {
  V: [asIs('V', 'volts')],
  Ω: [asIs('Ω', 'ohms'), { label: 'kΩ', words: 'kilohms', into: (value) => tidy(value * 1000) }],
  A: [asIs('A', 'amps')],
  W: [asIs('W', 'watts'), { label: 'kW', words: 'kilowatts', into: (value) => tidy(value * 1000) }],
  '°C': [CELSIUS, FAHRENHEIT],
  min: [asIs('min', 'minutes')],
  Pa: [asIs('Pa', 'pascals'), { label: 'in. w.c.', words: 'inches of water', into: (value) => tidy(value * 249.08891) }],
  'm/s': [asIs('m/s', 'metres a second'), { label: 'ft/min', words: 'feet a minute', into: (value) => tidy(value * 0.00508) }],
  '1': [asIs('', 'no unit')],
};
const FIRST_IN_US = new Set(['°F', 'in. w.c.', 'ft/min']);

/** The likeliest first. */
export function typedUnits(unit: Unit, units: Units): TypedUnit[] {
  const us = (typed: TypedUnit) => (FIRST_IN_US.has(typed.label) ? 0 : 1);
  return units === 'us' ? CHOICES[unit].toSorted((a, b) => us(a) - us(b)) : CHOICES[unit];
}

/** A typed number: point or comma, and the words a meter shows for over range. @returns undefined when it is neither */
export function readNumber(typed: string): number | 'open' | undefined {
  const text = typed.trim().replace(/\s/g, '');
  if (/^(ol|o\.l\.?|0l|∞|open|inf(inite)?)$/i.test(text)) return 'open';
  if (!/^[-+−]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return undefined;
  return Number(text.replace(',', '.').replace('−', '-'));
}

/** A reading as it stands in its field. */
export interface Typed {
  text: string;
  /** Label of the unit that is picked. */
  unit: string;
  /** The meter shows over range: whatever else is typed does not count. */
  over: boolean;
}
/** @returns the value in the reading's own unit; undefined while it is none */
export function typedValue({ text, unit, over }: Typed, options: readonly TypedUnit[]): Value | undefined {
  const value = over ? 'open' : readNumber(text);
  const into = options.find(({ label }) => label === unit)?.into;
  return typeof value === 'number' && into ? into(value) : value;
}
