import type { Meaning } from '../../types.ts';

/** One of the meanings a sentence may have. */
export interface Option {
  /** As shown; while it is worked out a fact's or a check's id, or empty: then made from where the reading lies. */
  label: string;
  meaning: Meaning;
  /** What was said with it, taken with it. */
  also?: Meaning[];
}
/** Everything that is taken with one option. */
export const picked = (o: Option): Meaning[] => [o.meaning, ...(o.also ?? [])];

/** Which of several readings of a sentence was meant: by its number, by its label, or nothing. */
export function chosen(options: readonly Option[], text: string): Option | undefined {
  const words = text.trim().toLowerCase();
  const number = /^#?(\d{1,2})[.)]?$/.exec(words)?.[1];
  if (number !== undefined) return options[Number(number) - 1];
  const close = options.filter(
    (o) => o.label.toLowerCase() === words || (words.length > 3 && o.label.toLowerCase().includes(words)),
  );
  return close.length === 1 ? close[0] : undefined;
}
