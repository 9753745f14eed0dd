import type { Audience } from '../../../rules/types.ts';
import { LANGUAGES } from '../../languages.ts';
import { placeOf } from './same-ids.ts';
import type { Spoken, Words } from './shapes.ts';

/** Names by which one fault, or one answer to a question, would be taken for another; each audience hears its own. */
export function namesAlike(words: Words): string[] {
  const out: string[] = [];
  const apart = (named: (id: string) => string, texts: Record<string, Spoken>): void => {
    for (const to of LANGUAGES[words.language]) {
      const first = new Map<string, string>();
      for (const [id, spoken] of Object.entries(texts)) {
        const text = heard(spoken, to);
        if (text === undefined) continue;
        const other = first.get(text.toLowerCase());
        if (other === undefined) first.set(text.toLowerCase(), id);
        else out.push(`${named(id)}: a ${to} hears "${text}", as of "${other}"; each needs a name of its own`);
      }
    }
  };
  const labels = Object.fromEntries(Object.entries(words.faults).map(([id, { label }]) => [id, label]));
  apart((id) => `${placeOf(words, 'fault')}fault "${id}", label`, labels);
  for (const [fact, { choices = {} }] of Object.entries(words.facts))
    apart((id) => `${placeOf(words, 'fact')}fact "${fact}", choice "${id}"`, choices);
  for (const [check, { choices = {} }] of Object.entries(words.checks))
    apart((id) => `${placeOf(words, 'check')}check "${check}", choice "${id}"`, choices);
  return out;
}
const heard = (text: Spoken, to: Audience): string | undefined =>
  typeof text === 'string' ? text : (text[to] ?? text.technician);

/** Two words of three letters and more, {places} left out: less may well be the same in both ("No", "120/240 V"). */
const SENTENCE = /\p{L}{3,}.*\P{L}\p{L}{3,}/u;
/** What is known by and not said. */
const UNSAID = ['id', 'match'];

/** Texts of another language that stand there as in the first. */
export function leftInFirst(words: Words, first: Words): string[] {
  const theirs = new Set([...textsOf(first)].map(([, text]) => text));
  const out: string[] = [];
  for (const [path, text] of textsOf(words)) {
    const [key, ...rest] = path;
    const asInFirst = key === 'names' ? rest.join('.') === text : theirs.has(text);
    if (asInFirst && SENTENCE.test(text.replace(/\{\w+\}/g, '')))
      out.push(`${words.language}/${FILE[key!] ?? key}.json, ${path.join('.')}: "${text}" is left in English`);
  }
  return out;
}
const FILE: Record<string, string> = { stopAnswers: 'stop-answers', stopDone: 'stop-answers', checkNames: 'checks' };

function* textsOf(value: unknown, path: readonly string[] = []): Generator<[path: readonly string[], text: string]> {
  if (typeof value === 'string') yield [path, value];
  else if (typeof value === 'object' && value !== null)
    for (const [key, held] of Object.entries(value)) if (!UNSAID.includes(key)) yield* textsOf(held, [...path, key]);
}
