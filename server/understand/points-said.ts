import type { Circuit, Knowledge, Prepared, Unit } from '../../rules/types.ts';
import { samePoints } from '../place/place.ts';
import { freeFact } from '../place/reads.ts';
import type { Ask, Meaning, Understood } from '../types.ts';
import english from './lexicon/en/points-said.json' with { type: 'json' };
import { lexiconOf } from './lexicon.ts';

type Pair = [string, string];
type Measured = 'V' | 'Ω';
type Reading = Extract<Meaning, { is: 'reading' }>;

/** The machine the points lie on, and how a place is called to be asked back. */
export interface Places {
  k: Knowledge;
  p: Pick<Prepared, 'circuits' | 'between'>;
  ask: Ask | undefined;
  label: (points: Pair, state: string) => string;
}

const WHAT = { V: 'volts', Ω: 'ohms' } as const;

/** Plain words, a letter with its number kept as one ("l1"), other names of one part made one. */
function wordsOf(text: string): string[] {
  const words = (text.toLowerCase().match(/[a-z]\d\b|\p{L}+|\d+(?:[.,]\d+)*|[.,;:!?]/gu) ?? []).filter((w) => w !== ',');
  const { samePoints } = lexiconOf('en').data;
  const out: string[] = [];
  for (let i = 0; i < words.length; ) {
    let found: { first: string; length: number } | undefined;
    for (const set of samePoints)
      for (const name of set)
        if (name.length > (found?.length ?? 0) && name.every((w, n) => words[i + n] === w))
          found = { first: (set[0] ?? name).join('_'), length: name.length };
    const word = words[i] ?? '';
    out.push(found?.first ?? word);
    i += found?.length ?? 1;
  }
  return out;
}

interface Name {
  point: string;
  head: string[];
  all: Set<string>;
}
/** What the points of a drawing are called: by their own names, and by the parts they are an end of. Those no lead reaches have none. */
function namesOf(c: Circuit): Name[] {
  const out: Name[] = [];
  const reached = c.nodes.filter((n) => n.covers.length > 0);
  const add = (point: string, name: string) => {
    const [head = ''] = name.split(/[,(]/);
    out.push({ point, head: [point.toLowerCase(), ...wordsOf(head)], all: new Set([point.toLowerCase(), ...wordsOf(name)]) });
  };
  for (const n of reached) add(n.id, n.name);
  for (const b of c.branches)
    if (b.kind !== 'lead') for (const end of [b.a, b.b]) if (reached.some((n) => n.id === end)) add(end, b.part);
  return out;
}

/** The points a phrase can be: those whose name holds all its words, the names with least left unsaid alone. */
function pointsFor(phrase: string[], names: Name[]): string[] {
  const own = phrase.filter((w) => !english.skip.includes(w));
  if (!own.length) return [];
  const forms = (w: string) => [w, ...english.alike.filter(([other]) => other === w).flat()];
  let best = 0;
  const score = new Map<string, number>();
  for (const n of names) {
    if (!own.every((w) => forms(w).some((f) => n.all.has(f)))) continue;
    const hit = own.filter((w) => forms(w).some((f) => n.head.includes(f))).length;
    if (!hit) continue;
    const s = hit / (n.head.length - 1);
    best = Math.max(best, s);
    score.set(n.point, Math.max(s, score.get(n.point) ?? 0));
  }
  return [...score].filter(([, s]) => s >= best * 0.6).map(([point]) => point);
}

/** The two stretches of words that name points: "between A and B", "from A to B", "A to B". */
function phrases(words: string[], known: ReadonlySet<string>): [string[], string[]] | undefined {
  const inName = (w: string | undefined) =>
    w !== undefined && (known.has(w) || english.skip.includes(w) || english.alike.some(([a]) => a === w));
  for (let j = 1; j < words.length; j++) {
    if (!english.joins.includes(words[j] ?? '')) continue;
    const stops = (w: string | undefined) => english.ends.includes(w ?? '') || english.starts.includes(w ?? '') || !inName(w);
    let from = j;
    while (from > 0 && !stops(words[from - 1])) from--;
    let to = j + 1;
    while (to < words.length && !stops(words[to])) to++;
    const a = words.slice(from, j);
    const b = words.slice(j + 1, to);
    if (a.length && b.length) return [a, b];
  }
  return undefined;
}

/**
 * A reading told between any two points of this machine, named in words. Points that a listed check reads are left to that check's own
 * words, and so are the legs of the supply. Where points or the state are not certain, all that they can be are asked back.
 */
export function withPoints(understood: Understood, utterance: string, places: Places): Understood {
  const words = wordsOf(utterance);
  const unit: Measured | undefined = (['V', 'Ω'] as const).find(
    (u) => words.some((w) => english[u].includes(w)) || (u === 'Ω' && utterance.includes('Ω')),
  );
  const fact = unit && freeFact(places.k, unit);
  if (!unit || !fact) return understood;
  const pairs = pairsSaid(words, places);
  const values = words.filter((w) => /^\d/.test(w));
  const open = unit === 'Ω' && words.some((w) => w === 'ol' || w === 'open');
  const [only] = values;
  if (
    !pairs.length ||
    values.length + Number(open) !== 1 ||
    places.ask?.reads.some(({ points }) => points && pairs.some((pair) => samePoints(pair, points)))
  )
    return understood;
  const { legPairs, scalePairs } = places.k.supply;
  if ([...legPairs, ...scalePairs].some((legs) => pairs.some((pair) => samePoints(pair, legs)))) return understood;
  const value = only === undefined ? ('open' as const) : Number(only.replace(',', '.'));
  const options = pairs.flatMap((points) =>
    statesOf(utterance, unit, points, places).map((state) => {
      const meaning: Reading = {
        is: 'reading',
        what: WHAT[unit],
        value,
        unit: unit as Unit,
        fact,
        points,
        state,
        evidence: utterance,
      };
      return { label: places.label(points, state), meaning };
    }),
  );
  // In a sentence of its own something else may be told beside it; in the same one these words are the reading's.
  const alone = !/[.!?;\n]\s*\S/.test(utterance.replace(/\d[.,]\d/g, ''));
  const itsWords = alone ? ['reading', 'ambiguous', 'answer', 'noted', 'complaint'] : ['reading', 'ambiguous'];
  const rest = understood.acts.filter((a) => !itsWords.includes(a.is));
  const [one] = options;
  if (!one) return understood;
  const told: Meaning =
    options.length === 1
      ? one.meaning
      : options.length > english.tooMany
        ? { is: 'ambiguous', question: english.closer, options: [] }
        : { is: 'ambiguous', question: english.question, options };
  return { acts: [...rest, told], left: [] };
}

/** Nearest first: a lead or a part that joins two points makes them the likelier pair. */
function pairsSaid(words: string[], { p }: Places): Pair[] {
  const found = new Map<string, { pair: Pair; joined: boolean }>();
  for (const c of p.circuits) {
    const names = namesOf(c);
    const said = phrases(words, new Set(names.flatMap((n) => [...n.all])));
    if (!said) continue;
    for (const a of pointsFor(said[0], names))
      for (const b of pointsFor(said[1], names))
        if (a !== b)
          found.set([a, b].sort().join('|'), { pair: [a, b], joined: c.branches.some((x) => samePoints([x.a, x.b], [a, b])) });
  }
  return [...found.values()].sort((x, y) => Number(y.joined) - Number(x.joined)).map((x) => x.pair);
}

/** The state told; else each in which a sound machine shows something else there. */
function statesOf(utterance: string, unit: Measured, points: Pair, { p }: Places): string[] {
  const text = ` ${(utterance.toLowerCase().match(/\p{L}+/gu) ?? []).join(' ')} `;
  const list = english.states[unit] as [string, string][];
  // Ohms of a machine that runs are heard as such, for the door to refuse; standing still says nothing of the plug.
  const hits = ([...english.states.V, ...english.states.Ω] as [string, string][]).flatMap(([state, says]) =>
    says.split('|').flatMap((said) => (text.includes(` ${said.replaceAll('_', ' ')} `) ? [{ state, said }] : [])),
  );
  const longest = hits.sort((x, y) => y.said.length - x.said.length)[0];
  const [running] = english.states.V[0] as [string, string];
  if (longest && (longest.state === running || list.some(([state]) => state === longest.state))) return [longest.state];
  const shown = new Map<string, string>();
  for (const [state] of [...list].reverse()) {
    const key = JSON.stringify(
      p.between(WHAT[unit], points, state, []).map((e) => (typeof e === 'object' ? [e.centre, e.band] : e)),
    );
    if (![...shown.values()].includes(key)) shown.set(state, key);
  }
  return [...shown.keys()];
}
