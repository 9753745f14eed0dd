import { orDidYouMean } from '../../rules/index.ts';
import type { Knowledge } from '../../rules/types.ts';
import { type Context, groupHits, type Span } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import { LANGUAGES } from './lexicon/languages.ts';
import partsFile from './lexicon/parts.json' with { type: 'json' };
import type { LexiconFiles } from './lexicon/shape.ts';
import { isHard } from './patterns.ts';
import type { Quantity } from './units.ts';

/** Where two leads lay, told by the name of the part between them: "240 V across the cut-off", "0 V between its terminals". */
export interface Place extends Span {
  /** The parts in line, each with all that its name can be, by the ids of parts.json. Empty = a part's end and a point elsewhere. */
  parts: string[][];
}
interface Named extends Span {
  ids: string[];
}

/** The branches of the drawings between the two ends of each part. */
export const CHAINS: Readonly<Record<string, readonly string[]>> = partsFile.chains;
/** Parts no meter on volts says anything of. */
export const NOT_LIVE: readonly string[] = partsFile.notLive;
/** States in which a part is read where none was told, the likeliest first. */
export const READ_IN: Readonly<Record<'V' | 'Ω', readonly string[]>> = partsFile.readIn;
/** Group of state words -> the state of a machine with its plug out. */
export const DEAD_STATE: Readonly<Record<string, string>> = partsFile.deadState;
/** A bare number in here, across a part, is volts. */
export const LINE_VOLTS = partsFile.lineVolts;

/** Parts that lie on no drawing, or have no words in a language, and words for none: one sentence each, naming the file and the id. */
export function partProblems(
  k: Knowledge,
  chains = CHAINS,
  languages: Readonly<Record<string, LexiconFiles>> = LANGUAGES,
): string[] {
  const known = new Set(
    [...k.machines.values()].flatMap((m) => [...m.branches, ...(m.variants ?? []).flatMap((v) => v.add ?? [])]).map((b) => b.id),
  );
  const file = 'server/understand/lexicon/parts.json';
  const out = Object.entries(chains).flatMap(([id, chain]) =>
    chain.filter((branch) => !known.has(branch)).map((branch) => `${file}: ${id}: no machine has a branch "${branch}"`),
  );
  for (const [tag, { points }] of Object.entries(languages)) {
    const words = `server/understand/lexicon/${tag}/points.json: parts`;
    const wordless = Object.keys(chains).filter((id) => !points.parts[id]?.length);
    const partless = Object.keys(points.parts).filter((id) => !Object.hasOwn(chains, id));
    out.push(...wordless.map((id) => `${words}: no words for "${id}"`));
    out.push(...partless.map((id) => `${words}: ${file} has no part "${id}"${orDidYouMean(id, Object.keys(chains))}`));
  }
  return out;
}
/** @throws Error with every part that has no words in a language, or lies on no drawing */
export function checkPartWords(k: Knowledge, chains = CHAINS): void {
  const problems = partProblems(k, chains);
  if (problems.length) throw new Error(problems.join('\n'));
}

/** Words between two spans; a comma or an "and" parts them as much as three words do. */
export function apart(c: Context, a: Span, b: Span): number {
  const [from, to] = a.to <= b.from ? [a.to, b.from] : [b.to, a.from];
  return Math.max(0, to - from) + 3 * c.tokens.slice(from, to).filter((t) => parting(c, t.text)).length;
}
export const parting = (c: Context, text: string): boolean => text === ',' || c.lexicon.data.numbers.and.includes(text);

const within = (a: Span, b: Span): boolean => a.from >= b.from && a.to <= b.to;
const size = (s: Span): number => s.to - s.from;

/** All parts named, the longest name at each place; one name may be several parts ("thermal fuse"). */
export function partsNamed(c: Context): Named[] {
  const all: Named[] = [];
  for (const id of Object.keys(CHAINS))
    for (const h of groupHits(c, `part.${id}`)) {
      const same = all.find((n) => n.from === h.from && n.to === h.to);
      if (!same) all.push({ from: h.from, to: h.to, ids: [id] });
      else if (!same.ids.includes(id)) same.ids.push(id);
    }
  return all.filter((n) => !all.some((o) => size(o) > size(n) && within(n, o))).sort((a, b) => a.from - b.from);
}

/** The places told by a part's name. "Across" alone, or with the legs, the block or the outlet, is none. */
export function placesOf(c: Context): Place[] {
  const names = partsNamed(c);
  if (!names.length) return [];
  const out: Place[] = [];
  const add = (at: Span, named: Named) => {
    if (!out.some((p) => p.from < at.to && at.from < p.to)) out.push(lined(c, at, named, names));
  };
  const next = (m: Span) => names.find((n) => n.from >= m.to && clear(c, m.to, n.from));
  for (const name of ['before', 'over', 'between'])
    for (const m of longest(groupHits(c, `across.${name}`))) {
      const named = next(m);
      if (!named) continue;
      const ends = name === 'between' ? groupHits(c, 'across.ends').find((h) => h.from === named.to) : undefined;
      if (name === 'between' && !ends) continue;
      add({ from: name === 'over' ? m.to - 1 : m.from, to: ends?.to ?? named.to }, named);
    }
  for (const name of ['it', 'after'])
    for (const m of longest(groupHits(c, `across.${name}`))) {
      const named = names.findLast((n) => n.to <= m.from && (name === 'it' || c.sentence[n.from] === c.sentence[m.from]));
      if (named) add(m, { ...named, from: m.from, to: m.to });
    }
  for (const m of longest(groupHits(c, 'across.bare'))) {
    const named = names.find((n) => n.to === m.from);
    const { points, skip } = c.lexicon.data.acrossWords;
    let i = m.to;
    while (skip.includes(c.tokens[i]?.text ?? '')) i++;
    if (named && !points.includes(c.tokens[i]?.text ?? ''))
      add({ from: m.to - 1, to: m.to }, { ...named, from: m.to - 1, to: m.to });
  }
  return out.sort((a, b) => a.from - b.from);
}

const longest = <H extends Span>(hits: readonly H[]): H[] =>
  hits.filter((h) => !hits.some((o) => o !== h && within(h, o) && size(o) > size(h)));

const MOST_BETWEEN = 4;
/** May these words stand between "across" and the part ("the old", "both ends of the")? Not where they name another place or begin anew. */
function clear(c: Context, from: number, to: number): boolean {
  const { stops } = c.lexicon.data.acrossWords;
  const between = c.tokens.slice(from, to);
  return (
    between.filter((t) => t.kind === 'word').length <= MOST_BETWEEN &&
    !between.some((t) => isHard(t) || t.kind === 'number' || stops.includes(t.text) || c.lexicon.gapStops.has(t.text))
  );
}

/** "Across the limit and the cut-off" is both in line; "across the heater to neutral" is no part's own two ends. */
function lined(c: Context, at: Span, named: Named, names: Named[]): Place {
  const { joins, points, skip } = c.lexicon.data.acrossWords;
  const past = (i: number) => {
    while (skip.includes(c.tokens[i]?.text ?? '')) i++;
    return i;
  };
  const join = past(at.to);
  const one = { ...at, parts: [named.ids] };
  const word = c.tokens[join]?.text ?? '';
  if (!joins.includes(word)) return one;
  const second = past(join + 1);
  const other = names.find((n) => n.from === second || n.from === join + 1);
  if (!other) return points.includes(c.tokens[second]?.text ?? '') ? { ...at, to: second + 1, parts: [] } : one;
  if (!parting(c, word)) return { ...at, to: other.to, parts: [] };
  // "and the motor runs", "and the cut-off 0.1": told of the other part alone
  const after = c.tokens[past(other.to)];
  const goesOn = after?.kind === 'number' || (after?.kind === 'word' && !startsState(c, past(other.to)));
  return goesOn ? one : { ...at, to: other.to, parts: [named.ids, other.ids] };
}

const startsState = (c: Context, i: number): boolean => [...STATE_GROUPS].some((g) => groupHits(c, g).some((h) => h.from === i));
const STATE_GROUPS = new Set([...Object.keys(kinds.saidState), ...Object.keys(DEAD_STATE), 'r.powered', 'r.plugOut']);

/** Words that name a place of the supply, or another leg. */
const SUPPLY = ['r.across', 'r.legA', 'r.legB', 'r.neutral', 'r.supplyPoints', 'r.atBlock', 'r.atOutlet'];

/**
 * Which value was read at which of these places: the nearest, with no other value and no nearer word of the supply between.
 * A value has one place and a place one value.
 */
export function valuesAt<V extends Span>(c: Context, places: readonly Place[], values: readonly V[]): Map<V, Place> {
  const supply = SUPPLY.flatMap((g) => groupHits(c, g)).filter((h) => !places.some((p) => within(h, p)));
  const pairs = values
    .filter((v) => !places.some((p) => within(v, p)))
    .flatMap((v) => places.filter((p) => c.sentence[p.from] === c.sentence[v.from]).map((p) => ({ v, p, far: apart(c, v, p) })))
    .filter(
      ({ v, p, far }) =>
        !values.some((o) => o !== v && lies(o, v, p)) &&
        !supply.some((h) => c.sentence[h.from] === c.sentence[v.from] && apart(c, v, h) < far),
    )
    .sort((a, b) => a.far - b.far);
  const out = new Map<V, Place>();
  for (const { v, p } of pairs) if (!out.has(v) && ![...out.values()].includes(p)) out.set(v, p);
  return out;
}
const lies = (o: Span, a: Span, b: Span): boolean => o.from >= Math.min(a.to, b.to) && o.to <= Math.max(a.from, b.from);

/**
 * The same sentence without what was said of these places: its "across" is none of the legs, and "the heater on ..." tells no state.
 */
export function withoutPlaces(c: Context, places: readonly Place[]): Context {
  if (!places.length) return c;
  const groups = new Map(c.groups);
  for (const name of ['r.across', ...STATE_GROUPS])
    groups.set(
      name,
      groupHits(c, name).filter((h) => !places.some((p) => h.from < p.to && p.from < h.to)),
    );
  return { ...c, groups };
}

/** A number that belongs to a place's own words: "the two terminals", "coil 1". */
export const inWords = (places: readonly Place[], q: Quantity): boolean => !q.what && places.some((p) => within(q, p));

/** Places with a value beside them. */
function measuredPlaces(c: Context): Place[] {
  const here = (at: number, p: Place) => c.sentence[at] === c.sentence[p.from];
  const value = (p: Place) =>
    c.tokens.some((t, i) => t.kind === 'number' && here(i, p)) || groupHits(c, 'across.nothing').some((h) => here(h.from, p));
  return placesOf(c).filter(value);
}

/** The same sentence where the words of a measured place tell no complaint and no fact besides: "no volts across the heater". */
export function placesAlone(c: Context): Context {
  const places = measuredPlaces(c);
  if (!places.length) return c;
  const besides = (h: Span) => places.some((p) => h.from < p.to && p.from < h.to);
  return { ...c, hits: c.hits.filter((h) => !((h.of.kind === 'family' || h.of.kind === 'fact') && besides(h))) };
}

/** Was this taken from the words of a reading across a part, its place or its state? Those answer no choice: "with heat called". */
export function ofAPlace(c: Context): (said: string) => boolean {
  const places = measuredPlaces(c);
  const states = [...STATE_GROUPS]
    .flatMap((g) => groupHits(c, g))
    .filter((h) => places.some((p) => c.sentence[p.from] === c.sentence[h.from]));
  const spans = [...places, ...states].map((h) => [c.tokens[h.from]?.start ?? 0, c.tokens[h.to - 1]?.end ?? 0] as const);
  return (said) => {
    const at = c.text.typed.indexOf(said);
    return said !== '' && at >= 0 && spans.some(([from, to]) => from < at + said.length && at < to);
  };
}
