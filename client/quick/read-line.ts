import type { Catalogue, CatalogueCheck, ReadingInput } from '../../server/conversation-port.ts';
import type { Unit } from '../types.ts';
import words from './line-words.json' with { type: 'json' };

type Read = CatalogueCheck['reads'][number];
export interface Match {
  check: CatalogueCheck;
  read: Read;
}
/** What one line says: a reading that can be judged, several it could be, or what is missing. */
export type Line =
  | { is: 'reading'; input: ReadingInput }
  | { is: 'which'; of: Match[]; rest: Omit<ReadingInput, 'check' | 'fact'> }
  | { is: 'lost'; missing: 'value' | 'place' };

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
export function readLine(text: string, { checks }: Pick<Catalogue, 'checks'>): Line {
  let left = ` ${text.replace(/’/g, "'")} `;
  const take = (pattern: RegExp): RegExpExecArray | undefined => {
    const found = pattern.exec(left);
    if (found) left = left.replace(found[0], ' ');
    return found ?? undefined;
  };
  let plate: ReadingInput['plate'];
  for (const [pattern, of] of PLATE) {
    const found = take(pattern);
    if (!found) continue;
    plate = of(found);
    break;
  }
  const lowImpedance = take(/\b(lo-?z|low[- ]?z|low impedance)\b/i) !== undefined;
  const lifted = take(/\b(lead|wire)s?\s+(is |are )?(off|lifted|pulled)\b|\blifted\b/i) !== undefined;
  for (const [phrase, same] of Object.entries(words.phrases))
    left = left.replace(new RegExp(`(?<![\\w-])${phrase}(?![\\w-])`, 'gi'), same);
  const number = valueIn(left);
  if (number.value === undefined) return { is: 'lost', missing: 'value' };
  const rest = {
    value: number.value,
    ...(plate && { plate }),
    ...(lifted && { lifted }),
    ...(lowImpedance && { lowImpedance }),
  };
  const found = best(number.left, number.unit, checks);
  if (found.length === 0) return { is: 'lost', missing: 'place' };
  if (found.length > 1) return { is: 'which', of: found, rest };
  return { is: 'reading', input: inputOf(found[0]!, rest) };
}

export const inputOf = ({ check, read }: Match, rest: Omit<ReadingInput, 'check' | 'fact'>): ReadingInput => ({
  check: check.id,
  fact: read.fact,
  unit: read.unit,
  ...rest,
});

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

const MOST_NAMED = 6;
/** Rare words weigh more, and those of the reading's own name most; what a name says and the line does not counts a little against it. */
function best(text: string, unit: Unit | undefined, checks: readonly CatalogueCheck[]): Match[] {
  const said = [...new Set(tokens(text))].map((word) => [word, ...(same[word] ? [same[word]] : [])]);
  const all = checks
    .flatMap((check) =>
      check.reads.map((read) => ({
        check,
        read,
        label: new Set(tokens(read.label)),
        check_label: new Set(tokens(check.label)),
        points: new Set(tokens(Object.values(read.points).join(' '))),
      })),
    )
    .filter(({ read }) => unit === undefined || read.unit === unit);
  const weight = (word: string) =>
    Math.log(1 + all.length / (1 + all.filter(({ label, check_label }) => label.has(word) || check_label.has(word)).length));
  const scored = all
    .map((one) => {
      const worth = (word: string) =>
        weight(word) * (one.label.has(word) ? 1 : one.check_label.has(word) ? 0.6 : one.points.has(word) ? 0.3 : 0);
      const hits = said.map((ways) => Math.max(...ways.map(worth))).reduce((sum, n) => sum + n, 0);
      const ways = new Set(said.flat());
      const unsaid = [...one.label].filter((word) => !ways.has(word)).reduce((sum, word) => sum + weight(word), 0);
      return { ...one, hits, score: hits - unsaid / 10 };
    })
    .filter(({ hits }) => hits > 0)
    .toSorted((a, b) => b.score - a.score);
  const top = scored[0]?.score ?? 0;
  return scored
    .filter(({ score }) => score > top - CLOSE)
    .slice(0, MOST_NAMED)
    .map(({ check, read }) => ({ check, read }));
}
/** Nearer than that nobody can tell which was meant; it is asked. */
const CLOSE = 0.12;
