import { knowledge } from '../../rules/index.ts';
import { listedAs, listedPlaces } from '../place/listed.ts';
import type { Ask, Meaning } from '../types.ts';
import { apart, DEAD_STATE, inWords, LINE_VOLTS, type Place, partsNamed, placesOf, valuesAt, withoutPlaces } from './across.ts';
import { type Context, contextOf, denied, evidence, groupHits, type Span } from './context.ts';
import { type Lexicon, matchAll } from './lexicon.ts';
import { statesOf } from './states-said.ts';
import { readText } from './tokens.ts';
import type { Quantity } from './units.ts';

type Read = Ask['reads'][number];
type Reading = Extract<Meaning, { is: 'reading' }>;
type Across = Pick<Reading, 'across' | 'plugged'>;

/** "OL" and "nothing" further from the place than this are told of something else. */
const NEAR = 4;

/**
 * Readings told across a part ("240 V across the cut-off"). They are no answer to the open question, unless that asks for this very part:
 * then they are left to it.
 * @returns `told`: those readings; `left`: the other numbers; `rest`: the same sentence without these places, for the others
 */
export function toldAcross(
  c: Context,
  reads: readonly Read[],
  quantities: Quantity[],
  open: readonly Span[],
  extra: Partial<Reading>,
): { told: Reading[]; left: Quantity[]; rest: Context } {
  const places = placesOf(c);
  if (places.length === 0) return { told: [], left: quantities, rest: c };
  const all = quantities.filter((q) => !inWords(places, q));
  const at = valuesAt(
    c,
    places,
    all.filter((q) => q.what === undefined || q.what === 'volts' || q.what === 'ohms'),
  );
  const valueAt = new Map([...at].map(([q, p]) => [p, q]));
  const askedFor = new Map(places.map((p) => [p, namesOf(reads.filter(fits(valueAt.get(p), cordIn(c, p))), p, c.lexicon)]));
  const own = places.filter((p) => !askedFor.get(p));
  const rest = withoutPlaces(c, own);
  const named = [...at].filter(([, p]) => askedFor.get(p) === 'part');
  if (named.length > 0) marked.set(rest, new Map(named.map(([q, p]) => [q.from, acrossOf(c, p, q)])));
  const numbers = [...at].filter(([, p]) => own.includes(p));
  const told = [...numbers.map(([q, p]) => withUnit(rest, reads, p, q, all)), ...inNoNumber(rest, reads, own, numbers, open)].map(
    (r) => ({ ...r, ...extra }),
  );
  const left = all.filter((q) => !numbers.some(([n]) => n === q));
  return { told, left, rest: told.length > 0 ? withoutWords(rest, own) : rest };
}

const WORDED = ['r.open', 'r.noReading', 'r.beep', 'r.noBeep', 'r.short', 'r.judged', 'r.unstable'];
/** The same without words for a value in these places' sentences: they are no answer to the question either. */
function withoutWords(c: Context, places: readonly Place[]): Context {
  const groups = new Map(c.groups);
  const here = (h: Span) => places.some((p) => c.sentence[p.from] === c.sentence[h.from]);
  for (const name of WORDED)
    groups.set(
      name,
      groupHits(c, name).filter((h) => !here(h)),
    );
  const bare = { ...c, groups };
  const kept = marked.get(c);
  if (kept) marked.set(bare, kept);
  return bare;
}

/** "OL" and "nothing" right beside a place that has no number. */
function inNoNumber(
  c: Context,
  reads: readonly Read[],
  own: readonly Place[],
  told: readonly [Quantity, Place][],
  open: readonly Span[],
): Reading[] {
  const free = own.filter((p) => !told.some(([, t]) => t === p));
  const beside = (spans: readonly Span[]) => [...valuesAt(c, free, spans)].filter(([s, p]) => apart(c, s, p) <= NEAR);
  const none = groupHits(c, 'across.nothing').filter((h) => !open.some((o) => o.from < h.to && h.from < o.to));
  const volts = told.map(([q]) => q);
  return [
    ...beside(open).map(([s, p]) => reading(c, p, s, 'open', 'Ω', volts)),
    ...(asks(reads, 'Ω') ? [] : beside(none).map(([s, p]) => reading(c, p, s, 0, 'V', volts))),
  ];
}

const asks = (reads: readonly Read[], unit: string): boolean => reads.length > 0 && reads.every((r) => r.unit === unit);

/** Can this reading be the one asked for: in its unit, with the cord where it must be? */
const fits =
  (q: Quantity | undefined, live: boolean | undefined) =>
  (r: Read): boolean =>
    (!q?.what || (q.what === 'volts' ? 'V' : 'Ω') === r.unit) && (live === undefined || live === (r.unit === 'V'));

const marked = new WeakMap<Context, Map<number, Across>>();
/** The part told with a value that answers the open question, for the drawing to say whether it is the one asked for. */
export const acrossSaid = (c: Context, value: Span): Across | undefined => marked.get(c)?.get(value.from);

function acrossOf(c: Context, p: Place, value: Span): Across {
  const plugged = cordIn(c, value);
  return { across: p.parts, ...(plugged !== undefined && { plugged }) };
}

function reading(
  c: Context,
  p: Place,
  at: Span,
  value: Reading['value'],
  unit: 'V' | 'Ω' | undefined,
  volts: Quantity[],
): Reading {
  const said = acrossOf(c, p, at);
  const state =
    unit === 'Ω' ? deadState(c, at) : statesOf<Span>(c, inTurn([...volts.filter((q) => q.from !== at.from), at])).get(at);
  return {
    is: 'reading',
    what: unit === 'Ω' ? 'ohms' : 'volts',
    value,
    ...(unit && { unit }),
    ...said,
    ...(state !== undefined && { state }),
    evidence: evidence(c, at),
  };
}

const inTurn = (list: Span[]): Span[] => list.sort((a, b) => a.from - b.from);

/** A number in the unit said, else in the only one that can be. */
function withUnit(c: Context, reads: readonly Read[], p: Place, q: Quantity, all: Quantity[]): Reading {
  const volts = all.filter((x) => x.what === undefined || x.what === 'volts');
  // "No 240 across the heater" tells what is not there.
  const denies = c.lexicon.data.grammar.denials.includes(c.tokens[q.from - 1]?.text ?? '');
  return reading(c, denies ? { ...p, parts: [] } : p, q, q.value, unitOf(c, reads, p, q, volts), volts);
}
function unitOf(c: Context, reads: readonly Read[], p: Place, q: Quantity, volts: Quantity[]): 'V' | 'Ω' | undefined {
  if (q.what) return q.what === 'ohms' ? 'Ω' : 'V';
  const said = (['V', 'Ω'] as const).filter((u) =>
    groupHits(c, u === 'V' ? 'across.volts' : 'across.ohms').some((h) => c.sentence[h.from] === c.sentence[q.from]),
  );
  if (said.length === 1) return said[0];
  const live = cordIn(c, p);
  const line = q.value >= LINE_VOLTS.lo && q.value <= LINE_VOLTS.hi;
  if (live || (live === undefined && asks(reads, 'V'))) return 'V';
  if (live === false || asks(reads, 'Ω')) return line ? undefined : 'Ω';
  return line || statesOf(c, volts).has(q) ? 'V' : undefined;
}

/** Was the cord said to be in or out? In the same sentence first; undefined = neither, or both. */
function cordIn(c: Context, at: Span): boolean | undefined {
  const hits = (['r.powered', 'r.plugOut'] as const).flatMap((g) =>
    groupHits(c, g)
      .filter((h) => !denied(c, h))
      .map((h) => ({ is: g === 'r.powered', here: c.sentence[h.from] === c.sentence[at.from] })),
  );
  const near = hits.some((h) => h.here) ? hits.filter((h) => h.here) : hits;
  const [first] = near;
  return near.every((h) => h.is === first?.is) ? first?.is : undefined;
}

/** Where the control was set, for a reading with the plug out: "dial on heat". */
function deadState(c: Context, at: Span): string | undefined {
  const hits = Object.entries(DEAD_STATE).flatMap(([g, state]) =>
    groupHits(c, g)
      .filter((h) => !denied(c, h) && c.sentence[h.from] === c.sentence[at.from])
      .map((h) => ({ state, far: apart(c, h, at) })),
  );
  return hits.sort((a, b) => a.far - b.far)[0]?.state;
}

const labels = new WeakMap<Lexicon, Map<string, { parts: string[][]; place: boolean }[]>>();
/** The parts a label names, and whether it says "across" of them. */
function inLabel(label: string, lexicon: Lexicon): { parts: string[][]; place: boolean }[] {
  const known = labels.get(lexicon) ?? new Map<string, { parts: string[][]; place: boolean }[]>();
  labels.set(lexicon, known);
  let found = known.get(label);
  if (!found) {
    const text = readText(label, lexicon.data.spelling);
    const c = contextOf(text, matchAll(text.tokens, lexicon), lexicon);
    const places = placesOf(c).map((p) => ({ parts: p.parts, place: true }));
    found = places.length > 0 ? places : partsNamed(c).map((n) => ({ parts: [n.ids], place: false }));
    if (known.size > MOST_LABELS) known.clear();
    known.set(label, found);
  }
  return found;
}
const MOST_LABELS = 2000;

/** Does the open question ask for this: "across" this part, or for something called by its name, or not at all? */
function namesOf(reads: readonly Read[], p: Place, lexicon: Lexicon): 'place' | 'part' | undefined {
  const [said = [LEAD], ...inLine] = p.parts;
  // A lead is told by its points, and those may be the ones asked for.
  if (said.every((id) => id === LEAD)) return reads.some((r) => !ofSupply(r.fact)) ? 'place' : undefined;
  if (inLine.length > 0) return undefined;
  const named = reads
    .flatMap((r) => inLabel(r.label, lexicon))
    .filter(({ parts: [ids = [], ...more] }) => more.length === 0 && ids.length > 0 && ids.every((id) => said.includes(id)));
  if (named.some((n) => n.place)) return 'place';
  return named.length > 0 ? 'part' : undefined;
}
const LEAD = 'lead';
const ofSupply = (fact: string): boolean => listedAs(listedPlaces(knowledge()), fact).role !== undefined;
