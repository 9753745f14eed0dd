import type { Units } from './types.ts';

/** What this browser keeps. Storage may be switched off; then the page forgets, and works all the same. */
const PREFIX = 'cold-drum.';

export function keep(name: string, value: unknown): void {
  try {
    localStorage.setItem(PREFIX + name, JSON.stringify(value));
  } catch {
    // Switched off or full.
  }
}

/** @returns undefined when nothing fitting is kept */
export function kept<T>(name: string, fits: (value: unknown) => value is T): T | undefined {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(PREFIX + name) ?? 'null');
    return fits(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

export interface LastCase {
  id: string;
  rev: number;
}
const isLastCase = (value: unknown): value is LastCase =>
  typeof value === 'object' &&
  value !== null &&
  typeof (value as LastCase).id === 'string' &&
  typeof (value as LastCase).rev === 'number';
export const lastCase = () => kept('case', isLastCase);
export const isText = (value: unknown): value is string => typeof value === 'string';
/** The units picked on this device. */
export const keptUnits = (): Units => (kept('units', isText) === 'metric' ? 'metric' : 'us');
