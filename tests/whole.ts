/**
 * `npm run whole` does all of what the suite does a fixed part of: the suite is to stay within the processor time that test-all.ts names.
 * The part is always the same one, so a run can be repeated.
 */
export const WHOLE = process.env.COLD_DRUM_WHOLE === 'yes';

/** Every `n`th of a list from the `from`th on; all of it in a whole run. */
export const partOf = <T>(all: readonly T[], n: number, from: number): T[] =>
  WHOLE ? [...all] : all.filter((_, i) => i % n === from % n);
