import type { Found, NumberWords } from './numbers.ts';
import type { Token } from './tokens.ts';

export type What = 'volts' | 'ohms' | 'amps' | 'watts' | 'temperature' | 'minutes' | 'speed' | 'pressure' | 'length' | 'count';
export interface UnitWord {
  says: string[];
  what: What;
  /** Name of the unit, language-free: V, Ω, A, W, °C, °F, min, fpm, m/s, inH2O, Pa, mmH2O, mbar, ft, m, in. */
  unit: string;
  /** Times this gives the unit: k = 1000, hours to minutes = 60. */
  times: number;
  /** Only glued to the number or in capitals ("22A"): the word means something else on its own. */
  tight?: boolean;
  /** Only where the question or the dial asks for this. */
  only?: What;
  /** Only as typed: M is mega, m is not. */
  capital?: boolean;
}
export interface Quantity {
  value: number;
  what?: What;
  unit?: string;
  found: Found;
  /** Tokens from..to (exclusive), unit included. */
  from: number;
  to: number;
}

/** Joins each number with the unit said after it. `expects`: what the open question asks for. */
export function findQuantities(
  tokens: Token[],
  found: Found[],
  units: UnitWord[],
  expects: What | undefined,
  half: Pick<NumberWords, 'and' | 'articles' | 'parts'>,
): Quantity[] {
  const out: Quantity[] = [];
  const first = unitsFirst(tokens, found, units, expects);
  for (const f of found) {
    if (f.prefix) {
      const times = f.prefix.toLowerCase() === 'k' ? 1000 : f.prefix === 'M' ? 1e6 : 1;
      const after = unitAt(tokens, f.to, units, 'ohms');
      out.push({
        value: tidy(f.value * times),
        what: 'ohms',
        unit: 'Ω',
        found: f,
        from: f.from,
        to: after && after.word.what === 'ohms' ? after.to : f.to,
      });
      continue;
    }
    if (f.clock) {
      out.push({ value: f.value, what: 'minutes', unit: 'min', found: f, from: f.from, to: f.to });
      continue;
    }
    const u = first ? unitBefore(tokens, f.from, units, expects) : unitAt(tokens, f.to, units, expects);
    if (!u) out.push({ value: f.value, found: f, from: f.from, to: f.to });
    else {
      // "an hour and a half"
      const at = half.and.includes(tokens[u.to]?.text ?? '')
        ? u.to + (half.articles.includes(tokens[u.to + 1]?.text ?? '') ? 2 : 1)
        : -1;
      const more = at > 0 ? half.parts[tokens[at]?.text ?? ''] : undefined;
      out.push({
        value: tidy((f.value + (more ?? 0)) * u.word.times),
        what: u.word.what,
        unit: u.word.unit,
        found: f,
        from: f.from,
        to: more ? at + 1 : Math.max(f.to, u.to),
      });
    }
  }
  return joinHours(bareHour(out, tokens, units, half.and), tokens, half.and);
}

/** The unit that ends right before a token: "volts 240". */
function unitBefore(tokens: Token[], at: number, units: UnitWord[], expects: What | undefined): ReturnType<typeof unitAt> {
  let i = at - 1;
  while (i >= 0 && tokens[i]?.kind === 'mark') i--;
  for (const from of [i - 1, i]) {
    const u = from >= 0 ? unitAt(tokens, from, units, expects) : undefined;
    if (u && u.to === i + 1) return u;
  }
  return undefined;
}

/** "Volts 240, watts 5600, amps 24": a list of several that names each unit before its number, and none after the last. */
function unitsFirst(tokens: Token[], found: Found[], units: UnitWord[], expects: What | undefined): boolean {
  const last = found.at(-1);
  return (
    found.length > 1 &&
    last !== undefined &&
    !unitAt(tokens, last.to, units, expects) &&
    found.every((f) => unitBefore(tokens, f.from, units, expects) !== undefined)
  );
}

const tidy = (n: number): number => Number(n.toPrecision(12));

function unitAt(
  tokens: Token[],
  at: number,
  units: UnitWord[],
  expects: What | undefined,
): { word: UnitWord; to: number } | undefined {
  let best: { word: UnitWord; to: number } | undefined;
  let i = at;
  const mark = tokens[at];
  if (mark?.kind === 'mark' && ['°', 'º', '"', '-', '(', '.'].includes(mark.text)) {
    const next = tokens[at + 1];
    if (mark.text !== '.' || (next?.glued && mark.glued)) i = at + 1;
  }
  const index = byFirstWord(units);
  for (const begin of i === at ? [at] : [at, i]) {
    const first = tokens[begin];
    for (const { word, parts } of index.get(first?.text ?? '') ?? []) {
      if (word.only && word.only !== expects) continue;
      if (!parts.every((p, n) => tokens[begin + n]?.text === p)) continue;
      if (word.capital && first?.raw !== first?.raw.toUpperCase()) continue;
      if (word.tight && !tightly(tokens, begin, parts.length, word.what === expects)) continue;
      const to = begin + parts.length;
      if (!best || to > best.to || (to === best.to && (word.only || word.capital) && !best.word.only)) best = { word, to };
    }
  }
  return best;
}

type Indexed = Map<string, { word: UnitWord; parts: string[] }[]>;
const indexes = new WeakMap<UnitWord[], Indexed>();
function byFirstWord(units: UnitWord[]): Indexed {
  const known = indexes.get(units);
  if (known) return known;
  const index: Indexed = new Map();
  for (const word of units)
    for (const says of word.says) {
      const parts = says.split(' ');
      const first = parts[0] ?? '';
      index.set(first, [...(index.get(first) ?? []), { word, parts }]);
    }
  indexes.set(units, index);
  return index;
}

/** "22A", "22 A", "22 a" at the end: amps. "22 a minute ago": not. */
function tightly(tokens: Token[], at: number, length: number, asked: boolean): boolean {
  const t = tokens[at];
  const next = tokens[at + length];
  // "153 A-B 241": the letter names a point
  if (next?.glued && (next.text === '-' || next.text === '/')) return false;
  if (t?.glued || (t?.raw.length === 1 && t.raw === t.raw.toUpperCase() && t.raw !== t.raw.toLowerCase())) return true;
  return asked && (next === undefined || next.kind === 'mark' || next.kind === 'number');
}

/** "Hour 20", "hour and 20 min": one hour nobody counted. */
function bareHour(list: Quantity[], tokens: Token[], units: UnitWord[], and: string[]): Quantity[] {
  return list.map((q, n) => {
    const at = and.includes(tokens[q.from - 1]?.text ?? '') ? q.from - 2 : q.from - 1;
    const u = at >= 0 && (q.what === 'minutes' || !q.what) && q.value < 60 ? unitAt(tokens, at, units, 'minutes') : undefined;
    const free = !list.some((o, k) => k !== n && o.from <= at && o.to > at);
    const hour = u && u.word.what === 'minutes' && u.word.times === 60 && u.to === at + 1;
    return hour && free ? { ...q, value: q.value + 60, what: 'minutes', unit: 'min', from: at } : q;
  });
}

/** "1 hr 45", "1 hour and 20 minutes" are one time. */
function joinHours(list: Quantity[], tokens: Token[], and: string[]): Quantity[] {
  const out: Quantity[] = [];
  const joins = (text: string) => text === ',' || and.includes(text);
  for (const q of list) {
    const last = out.at(-1);
    const between = last ? tokens.slice(last.to, q.from).map((t) => t.text) : [];
    const hours = last?.what === 'minutes' && last.value >= 60 && last.value === last.found.value * 60;
    const seconds = last?.what === 'minutes' && last.value === last.found.value && q.what === 'minutes' && q.value < 1;
    if (last && seconds && between.every(joins)) out[out.length - 1] = { ...last, value: last.value + q.value, to: q.to };
    else if (last && hours && (q.what === 'minutes' || !q.what) && q.value < 60 && between.every(joins))
      out[out.length - 1] = { ...last, value: last.value + q.value, to: q.to };
    else out.push(q);
  }
  return out;
}
