import type { Circuit, Knowledge } from '../../../../rules/types.ts';
import { samePoints } from '../../../place/place.ts';
import { freeFact, readsAt } from '../../../place/reads.ts';
import type { Ask, Meaning } from '../../../types.ts';
import { CHAINS, NOT_LIVE, READ_IN } from '../../../understand/across.ts';
import type { Option } from '../../stand/option.ts';
import { newest } from '../../stand/standing.ts';
import type { Doorway } from '../door.ts';

type Reading = Extract<Meaning, { is: 'reading' }>;
type Pair = [string, string];
type Measured = 'V' | 'Ω';
const WHAT = { V: 'volts', Ω: 'ohms' } as const;

/** One way a reading across a part can be meant, and the drawings in hand on which it can. */
interface Way {
  fact: string;
  unit: Measured;
  state: string;
  lifted?: boolean;
  places: { circuit: Circuit; points: Pair }[];
}

/** More than this many are no question. */
const MOST_WAYS = 8;

/**
 * Where a reading told across a part was taken: between that part's own two ends in each drawing that may be the one in hand, so it is
 * never one of the supply. As a check's own fact where a check reads just there, else as one that may be read anywhere.
 * @returns the ways it can be meant, the likeliest first, each with what it would tell of the machine; none = on no drawing, or more than can be asked
 */
export function acrossPart(d: Doorway, act: Reading): Option[] {
  const { k, at } = d;
  const answer = act.fact === undefined ? undefined : d.ask?.reads.find((r) => r.fact === act.fact);
  const ways: Way[] = [];
  for (const circuit of at.p.circuits)
    for (const points of endsOf(circuit, act.across ?? [])) {
      if (answer?.points && samePoints(answer.points, points) && !clashing(act)) return [asRead(act, answer.fact)];
      for (const way of waysAt(d, act, circuit, points)) add(k, ways, way);
    }
  const having = new Set(ways.flatMap((w) => w.places.map((p) => p.circuit)));
  const options = ways.flatMap((w): Option[] => {
    const also = machineOf(d, w, having, act.evidence);
    return also ? [{ label: '', meaning: meant(act, w), also }] : [];
  });
  // What this person cannot tell of the machine is not asked of them.
  return options.length === ways.length && options.length <= MOST_WAYS ? options : [];
}

/** One way on several drawings is one: a check's own fact wherever its points lie, any other where the points are the same. */
function add(k: Knowledge, list: Way[], way: Way): void {
  const [place] = way.places;
  const had = list.find(
    (w) =>
      w.fact === way.fact &&
      w.state === way.state &&
      w.lifted === way.lifted &&
      (!k.facts.get(way.fact)?.anywhere || w.places.some((p) => place && samePoints(p.points, place.points))),
  );
  if (had) had.places.push(...way.places);
  else list.push(way);
}

/** Ohms with the power on, or volts with the plug out. */
const clashing = ({ unit, plugged }: Reading): boolean =>
  plugged !== undefined && unit !== undefined && plugged === (unit === 'Ω');

const asRead = ({ across: _, plugged: __, ...act }: Reading, fact: string): Option => ({
  label: fact,
  meaning: { ...act, fact },
});

/** The two ends of the parts in line, for each part the name can be. */
function endsOf(c: Circuit, parts: readonly string[][]): Pair[] {
  let lines: string[][] = parts.length ? [[]] : [];
  for (const ids of parts)
    lines = lines.flatMap((line) => ids.filter((id) => CHAINS[id]?.length).map((id) => [...line, ...(CHAINS[id] ?? [])]));
  const out: Pair[] = [];
  for (const line of lines) {
    const branches = line.flatMap((id) => c.branches.find((b) => b.id === id) ?? []);
    if (branches.length < new Set(line).size) continue;
    const met = branches.flatMap((b) => [b.a, b.b]);
    const ends = met.filter((n, _, all) => all.filter((m) => m === n).length === 1);
    const [a, b, more] = ends;
    if (a !== undefined && b !== undefined && more === undefined && !out.some((p) => samePoints(p, [a, b]))) out.push([a, b]);
  }
  return out;
}

/** In which units and states it can have been read there. */
function waysAt(d: Doorway, act: Reading, circuit: Circuit, points: Pair): Way[] {
  const notLive = (act.across ?? []).flat().every((id) => NOT_LIVE.includes(id));
  const units: Measured[] = clashing(act) || act.unit === undefined ? ['V', 'Ω'] : [act.unit === 'Ω' ? 'Ω' : 'V'];
  return units
    .filter((unit) => !(unit === 'V' && notLive) && !(unit === 'V' && act.value === 'open'))
    .flatMap((unit) => {
      const asked = askedHere(d, unit, points);
      if (asked && !clashing(act) && (act.state === undefined || act.state === asked.state))
        return [{ ...asked, unit, places: [{ circuit, points }] }];
      return statesOf(d, act, unit, circuit, points).flatMap((state) =>
        factsAt(d, act, unit, circuit, points, state).map((f) => ({ ...f, unit, state, places: [{ circuit, points }] })),
      );
    });
}

/** The open question's own reading, where it is taken there. */
function askedHere({ k, at, ask }: Doorway, unit: Measured, points: Pair): { fact: string; state: string } | undefined {
  const read = ask?.reads.find(
    (r: Ask['reads'][number]) => r.unit === unit && r.points !== undefined && samePoints(r.points, points),
  );
  const state = at.c.next?.state ?? k.checks.get(ask?.check ?? '')?.state;
  return read && state !== undefined ? { fact: read.fact, state } : undefined;
}

/** The state said; else those in which it is read, and of ohms that come to the same the one a check asks for. */
function statesOf(d: Doorway, act: Reading, unit: Measured, circuit: Circuit, points: Pair): string[] {
  const { k, at } = d;
  const all = [...READ_IN[unit]];
  const said = act.state;
  if (said !== undefined && k.states.get(said)?.plugged === (unit === 'V')) return [said];
  if (unit === 'V') return all;
  const shown = new Map<string, string>();
  const listed = (state: string) => factsAt(d, act, unit, circuit, points, state).some((f) => !k.facts.get(f.fact)?.anywhere);
  for (const state of all) {
    const e = at.p.between('ohms', points, state, [])[at.p.circuits.indexOf(circuit)];
    const key = typeof e === 'object' ? String(e.centre) : String(e);
    const had = shown.get(key);
    if (had === undefined || (!listed(had) && listed(state))) shown.set(key, state);
  }
  return [...shown.values()];
}

/** As which fact it counts: a check's own, with its lead off where it wants one off; where that was not said, either may be. */
function factsAt(
  { k }: Doorway,
  act: Reading,
  unit: Measured,
  circuit: Circuit,
  points: Pair,
  state: string,
): { fact: string; lifted?: boolean }[] {
  const free = freeFact(k, unit)!;
  for (const { fact, lift } of readsAt(k, [circuit], { unit, state, points })) {
    if (lift === undefined) return [{ fact }];
    if (act.lifted === false) continue;
    return act.lifted
      ? [{ fact }]
      : [
          { fact, lifted: true },
          { fact: free, lifted: false },
        ];
  }
  return [{ fact: free }];
}

/** The reading as one of its ways: with points of its own where all drawings it can be on have the same. */
function meant(act: Reading, { fact, unit, state, lifted, places }: Way): Reading {
  const { across: _, plugged: __, ...kept } = act;
  const points = places[0]!.points;
  const one = places.every((p) => samePoints(p.points, points));
  return {
    ...kept,
    what: WHAT[unit],
    unit,
    fact,
    state,
    ...(one && { points }),
    ...(lifted !== undefined && { lifted }),
  };
}

/** What this way tells of the machine, where it can be on some of the drawings only; undefined where this person cannot tell that. */
function machineOf({ k, at }: Doorway, { places }: Way, having: ReadonlySet<Circuit>, evidence: string): Meaning[] | undefined {
  const here = places.map((p) => p.circuit);
  if (here.length === having.size) return [];
  const has = (c: Circuit, [fact, value]: [string, string]) => c.knownBy[fact] === value;
  const common = Object.entries(here[0]?.knownBy ?? {}).filter((x) => here.every((c) => has(c, x)));
  // One answer that tells these drawings from all others says enough.
  const alone = common.find((x) => [...having].every((c) => here.includes(c) || !has(c, x)));
  const known = (alone ? [alone] : common).filter(([fact, value]) => newest(at.facts, fact)?.value !== value);
  if (known.some(([fact]) => !k.facts.get(fact)?.whoCanTell.includes(at.facts.audience))) return undefined;
  return known.map(([fact, value]) => ({ is: 'answer', fact, value, evidence }));
}
