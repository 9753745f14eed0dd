import type { Catalogue, CatalogueCheck, ReadingInput } from '../../server/conversation-port.ts';
import type { Unit } from '../types.ts';
import words from './line-words.json' with { type: 'json' };
import { inputOf, type LineRead, type Match, type Rest } from './match.ts';

const UNITS: [RegExp, Unit, number][] = [
  [/^(k|ki?lo)\s?-?(Ω|Ω|ohms?)?$/i, 'Ω', 1e3],
  [/^(M|meg|mega)\s?-?(Ω|Ω|ohms?)?$/, 'Ω', 1e6],
  [/^(Ω|Ω|ohms?|r)$/i, 'Ω', 1],
  [/^(v|volts?|vac)$/i, 'V', 1],
  [/^(a|amps?)$/i, 'A', 1],
];
const OVER = /(?<![\p{L}\d])(o\.?l\.?|open|infinite|over range|∞)(?![\p{L}\d])/iu;
const NUMBER =
  /(?<![\p{L}\d.])(\d*[.,]?\d+)\s*(kΩ|kohms?|k|MΩ|megohms?|Mohms?|M|Ω|Ω|ohms?|r|volts?|vac|v|amps?|a)?(?![\p{L}\d.])/gu;
const PLATE: [RegExp, (found: RegExpExecArray) => ReadingInput['plate']][] = [
  [/(\d{3,5})\s*w(?:atts?)?\s*(?:\/|at|@|,)?\s*(\d{3})\s*v(?:olts?)?/i, ([, w, v]) => ({ total_w: Number(w), volts: Number(v) })],
  [/(\d{3})\s*v(?:olts?)?\s*(?:\/|,)?\s*(\d{3,5})\s*w(?:atts?)?/i, ([, v, w]) => ({ total_w: Number(w), volts: Number(v) })],
  [/(\d{3,5})\s*w(?:atts?)?/i, ([, w]) => ({ total_w: Number(w) })],
];

/** Reads "coil 9.8 ohm 5400W/240V": the place by the words of the checks themselves, then number, unit, plate and how it was read. */
export function readLine(text: string, { checks }: Pick<Catalogue, 'checks'>): LineRead {
  const taker = takingFrom(text);
  const plate = plateIn(taker);
  const lowImpedance = taker.take(LOW_IMPEDANCE) !== undefined;
  const lifted = taker.take(LIFTED) !== undefined;
  const { value, unit, left } = valueIn(plainPhrases(taker.left));
  if (value === undefined) return { is: 'lost', missing: 'value' };
  const rest: Rest = { value, ...(plate && { plate }), ...(lifted && { lifted }), ...(lowImpedance && { lowImpedance }) };
  const found = bestMatches(left, unit, checks);
  if (found.length === 0) return { is: 'lost', missing: 'place' };
  if (found.length > 1) return { is: 'which', of: found, rest };
  return { is: 'reading', input: inputOf(found[0]!, rest) };
}

const LOW_IMPEDANCE = /\b(lo-?z|low[- ]?z|low impedance)\b/i;
const LIFTED = /\b(lead|wire)s?\s+(is |are )?(off|lifted|pulled)\b|\blifted\b/i;

/** A text that what was understood is taken out of. */
interface Taker {
  left: string;
  /** The first place that fits, which is then no longer in `left`. */
  take(pattern: RegExp): RegExpExecArray | undefined;
}
const takingFrom = (text: string): Taker => ({
  left: ` ${text.replace(/’/g, "'")} `,
  take(pattern) {
    const found = pattern.exec(this.left);
    if (found) this.left = this.left.replace(found[0], ' ');
    return found ?? undefined;
  },
});

function plateIn(taker: Taker): ReadingInput['plate'] {
  for (const [pattern, plateOf] of PLATE) {
    const found = taker.take(pattern);
    if (found) return plateOf(found);
  }
  return undefined;
}

/** What people call a thing in several words, in the words of the checks. */
const plainPhrases = (text: string): string =>
  Object.entries(words.phrases).reduce(
    (left, [phrase, plain]) => left.replace(new RegExp(`(?<![\\w-])${phrase}(?![\\w-])`, 'gi'), plain),
    text,
  );

/** The number with a unit wins over one without ("coil 1 9.8 ohm"); of several alike the last one. */
function valueIn(text: string): { value?: number | 'open'; unit?: Unit; left: string } {
  const all = [...text.matchAll(NUMBER)];
  const named = all.filter(([, , unit]) => unit !== undefined);
  const over = OVER.exec(text);
  const number = named.at(-1) ?? (over ? undefined : all.at(-1));
  if (!number) return over ? { value: 'open', unit: 'Ω', left: text.replace(over[0], ' ') } : { left: text };
  const unit = UNITS.find(([pattern]) => pattern.test(number[2] ?? ''));
  const left = `${text.slice(0, number.index)} ${text.slice(number.index + number[0].length)}`;
  const value = Number(number[1]!.replace(',', '.')) * (unit?.[2] ?? 1);
  return { value: Number(value.toPrecision(12)), ...(unit && { unit: unit[1] }), left };
}

const same = words.same as Record<string, string>;
const LITTLE = /^(the|a|of|at|on|is|and|reads?|to|in|from|by|with)$/;
const tokens = (text: string): string[] =>
  [...text.toLowerCase().matchAll(/[\p{L}\d][\p{L}\d'-]*/gu)].map(([word]) => word).filter((word) => !LITTLE.test(word));

/** A reading that could be meant, by the words of its own name, its check's name and its points. */
interface Candidate extends Match {
  own: Set<string>;
  check_words: Set<string>;
  points: Set<string>;
}
const candidatesIn = (checks: readonly CatalogueCheck[]): Candidate[] =>
  checks.flatMap((check) =>
    check.reads.map((read) => ({
      check,
      read,
      own: new Set(tokens(read.label)),
      check_words: new Set(tokens(check.label)),
      points: new Set(tokens(Object.values(read.points).join(' '))),
    })),
  );

const sum = (numbers: number[]): number => numbers.reduce((all, number) => all + number, 0);
/** A word of a reading's own name counts whole. */
const OF_CHECK = 0.6;
const OF_POINTS = 0.3;
/** What a name says and the line does not counts so many times less. */
const UNSAID = 10;
const worthIn = ({ own, check_words, points }: Candidate, word: string): number =>
  own.has(word) ? 1 : check_words.has(word) ? OF_CHECK : points.has(word) ? OF_POINTS : 0;

const MOST_NAMED = 6;
/** Nearer than that nobody can tell which was meant; it is asked. */
const CLOSE = 0.12;

/** Rare words weigh more, and those of the reading's own name most; what a name says and the line does not counts a little against it. */
function bestMatches(text: string, unit: Unit | undefined, checks: readonly CatalogueCheck[]): Match[] {
  const said = [...new Set(tokens(text))].map((word) => [word, ...(same[word] ? [same[word]] : [])]);
  const saidWords = new Set(said.flat());
  const all = candidatesIn(checks).filter(({ read }) => unit === undefined || read.unit === unit);
  const weight = (word: string) =>
    Math.log(1 + all.length / (1 + all.filter(({ own, check_words }) => own.has(word) || check_words.has(word)).length));
  const scored = all
    .map((candidate) => {
      const hits = sum(said.map((ways) => Math.max(...ways.map((word) => weight(word) * worthIn(candidate, word)))));
      const unsaid = sum([...candidate.own].filter((word) => !saidWords.has(word)).map(weight));
      return { ...candidate, hits, score: hits - unsaid / UNSAID };
    })
    .filter(({ hits }) => hits > 0)
    .toSorted((a, b) => b.score - a.score);
  const top = scored[0]?.score ?? 0;
  return scored
    .filter(({ score }) => score > top - CLOSE)
    .slice(0, MOST_NAMED)
    .map(({ check, read }) => ({ check, read }));
}
