import { orDidYouMean } from '../../../rules/index.ts';
import type { Words } from './shapes.ts';

/** The file an entry stands in, by what a message calls it. */
const FILE: Record<string, string> = {
  check: 'checks',
  fact: 'facts',
  fault: 'faults',
  stop: 'stops',
  danger: 'dangers',
  'stop answers': 'stop-answers',
  'stop act': 'stop-answers',
  name: 'names',
};
const fileOf = (what: string): string => FILE[what.split(' ').slice(0, 2).join(' ')] ?? FILE[what.split(' ')[0]!] ?? 'general';
/** "es/checks.json, " for what stands there, so that a message leads to it. */
export const placeOf = (words: Words, what: string): string => `${words.language}/${fileOf(what)}.json, `;

/** One entry for each id that is needed, and none more. */
export type SameIds = (what: string, have: object, need: Iterable<string>) => void;
export const sameIds =
  (words: Words, problems: string[]): SameIds =>
  (what, have, need) => {
    const at = placeOf(words, what);
    const wanted = new Set(need);
    for (const id of wanted) if (!Object.hasOwn(have, id)) problems.push(`${at}${what} "${id}": has no words`);
    for (const id of Object.keys(have))
      if (!wanted.has(id)) problems.push(`${at}${what} "${id}": nothing is called so${orDidYouMean(id, wanted)}`);
  };

/** A source is cited in the language it is written in, so a text of another one may leave it out. */
const SOURCE = '{source}';
/** The {places} of a text in any wording, in order of the alphabet. */
export const placesIn = (text: unknown): string =>
  [...new Set(JSON.stringify(text ?? '').match(/\{\w+\}/g))]
    .filter((place) => place !== SOURCE)
    .sort()
    .join(' ');
