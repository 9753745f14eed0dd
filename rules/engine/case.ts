import type { Answer, Audience, CaseFacts, Check, Knowledge, MachineInHand, Reading } from '../types.ts';
import { shutFor } from './covers.ts';

/** How a case began; everything after that is answers. */
export interface Opened {
  audience: Audience;
  families: string[];
  units: 'us' | 'metric';
  machine?: Partial<MachineInHand>;
}

/** Answers still standing: undone turns are gone, an undo itself never shows. */
export function standing(answers: readonly Answer[]): Answer[] {
  const kept: Answer[] = [];
  for (const a of answers) {
    if (a.act !== 'undo') {
      kept.push(a);
      continue;
    }
    const turn = kept.at(-1)?.turn;
    while (kept.length && kept.at(-1)!.turn === turn) kept.pop();
  }
  return kept;
}

/** The cover and all that lies in front of it, outermost first. */
export function withCoversInFront(k: Knowledge, covers: readonly string[]): string[] {
  const out: string[] = [];
  const add = (id: string): void => {
    const cover = k.covers.get(id);
    if (!cover || id === 'none' || out.includes(id)) return;
    if (cover.behind) add(cover.behind);
    out.push(id);
  };
  covers.forEach(add);
  return out;
}

/** The list that holds for a machine: its own, else the one for all. */
export const forMachine = <T>(by: Record<string, T> | undefined, machine: string | undefined): T | undefined =>
  by === undefined ? undefined : ((machine !== undefined ? by[machine] : undefined) ?? by['*']);

const checkOf = (k: Knowledge, a: Answer): Check | undefined => {
  if (a.check) return k.checks.get(a.check);
  if (!a.fact) return undefined;
  for (const c of k.checks.values()) if (c.settles.includes(a.fact)) return c;
  return undefined;
};

/**
 * The case as it stands: nothing but the fold of its answers in the order told.
 * Covers open, the machine's state and re-closings come from that order; readings keep their repeats, lose what was replaced.
 */
export function foldCase(k: Knowledge, opened: Opened, answers: readonly Answer[]): CaseFacts {
  const facts: CaseFacts = {
    rev: answers.length,
    audience: opened.audience,
    families: [...opened.families],
    units: opened.units,
    machine: { ...opened.machine },
    readings: [],
    asked: new Map(),
    coversOpen: new Set(),
    state: 'off',
    reclosings: 0,
    everStopped: new Set(),
    repaired: new Set(),
  };
  const now = standing(answers);
  for (const a of now)
    if (a.act === 'set') {
      facts.audience = a.set?.audience ?? facts.audience;
      facts.families = a.set?.families ?? facts.families;
      facts.units = a.set?.units ?? facts.units;
      const repaired = [...(facts.machine.repaired ?? []), ...(a.set?.machine?.repaired ?? [])];
      facts.machine = { ...facts.machine, ...a.set?.machine, plate: { ...facts.machine.plate, ...a.set?.machine?.plate } };
      if (repaired.length) facts.machine.repaired = [...new Set(repaired)];
    }
  for (const id of facts.machine.repaired ?? []) facts.repaired.add(id);
  const machine = facts.machine.circuits?.[0];
  let readings: Reading[] = [];
  let repaired = 0;
  const visited = new Set<string>();
  for (const a of now) {
    if (a.act === 'set') continue;
    const check = checkOf(k, a);
    if (a.act === 'unsure' || a.act === 'declined' || a.act === 'later') {
      const of = a.fact ?? a.check;
      if (of) facts.asked.set(of, a.act);
      continue;
    }
    if (!a.fact || a.value === undefined) continue;
    const fact = k.facts.get(a.fact);
    // After a repair a fact is told anew, not changed.
    const place = placeOf(k, { fact: a.fact, points: a.points, state: a.state ?? check?.state ?? facts.state });
    const same = readings.filter((r) => placeOf(k, r) === place && (r.first ?? r.seq) > repaired);
    const reading: Reading = {
      seq: a.seq,
      fact: a.fact,
      value: a.value,
      state: a.state ?? check?.state ?? facts.state,
      said: a.said,
      by: a.by,
    };
    if (check) reading.check = check.id;
    for (const key of ['unit', 'points', 'lifted', 'lowImpedance'] as const)
      if (a[key] !== undefined) Object.assign(reading, { [key]: a[key] });
    // A choice told again is a change of mind; a quantity told again is a second reading.
    const changed = fact?.kind === 'choice' && fact.event === undefined && a.act !== 'repeat';
    const replaces = a.act === 'correct' ? a.of : changed ? same.at(-1)?.seq : undefined;
    if (replaces !== undefined) {
      reading.replaces = replaces;
      const old = readings.find((r) => r.seq === replaces);
      if (a.act === 'correct' && old) reading.first = old.first ?? old.seq;
      if (old?.repeats !== undefined) reading.repeats = old.repeats;
      readings = readings.filter((r) => r.seq !== replaces);
      for (const r of readings) if (r.repeats === replaces) r.repeats = a.seq;
    } else if (same.length && fact?.event === undefined) reading.repeats = same[0]!.repeats ?? same[0]!.seq;
    readings.push(reading);
    if (fact?.event === 'renewed') facts.repaired.add(String(a.value));
    if (fact?.event === 'repair' && a.value === fact.choices?.[0]) repaired = a.seq;
    facts.asked.delete(a.fact);
    if (check) facts.asked.delete(check.id);
    const off = fact?.covers?.[String(a.value)];
    if (off) coversTold(k, facts.coversOpen, off);
    // Putting an old answer right moves no cover, no dial and no breaker.
    if (check && a.act !== 'correct') {
      if (k.states.has(check.state)) facts.state = check.state;
      // Whoever was asked put back first what had to be on; what was told unasked says nothing of covers.
      if (a.check) for (const c of shutFor(k, check)) facts.coversOpen.delete(c);
      for (const c of withCoversInFront(k, forMachine(check.covers, machine) ?? [])) facts.coversOpen.add(c);
      const visit = `${check.id}:${a.turn}`;
      if (check.needs.includes('closing-allowed') && !visited.has(visit)) facts.reclosings++;
      visited.add(visit);
    }
  }
  facts.readings = readings;
  facts.everStopped = everStopped(k, now);
  return facts;
}

/** Somebody said which covers are off, or that none is: the dryer may still stand out of its place. */
function coversTold(k: Knowledge, open: Set<string>, off: readonly string[]): void {
  if (off.length) for (const c of withCoversInFront(k, off)) open.add(c);
  else for (const c of k.covers.values()) if (c.shutToRun) open.delete(c.id);
}

/** Stop facts told as a danger at any time, even if corrected since; "not sure" counts where the fact says so. */
function everStopped(k: Knowledge, answers: readonly Answer[]): Set<string> {
  const out = new Set<string>();
  for (const a of answers) {
    const fact = a.fact ? k.facts.get(a.fact) : undefined;
    if (!fact?.danger) continue;
    if (a.act === 'unsure' ? fact.unsureIs !== undefined : a.value !== undefined && fact.danger.includes(String(a.value)))
      out.add(fact.id);
  }
  return out;
}

/** Where a reading was taken: two of one place are the same reading twice. By the fact alone, but for those that may be read anywhere. */
export function placeOf(
  k: Knowledge,
  r: { fact: string; points?: readonly [string, string] | undefined; state?: string },
): string {
  if (!k.facts.get(r.fact)?.anywhere || !r.points) return r.fact;
  return `${r.fact}|${[...r.points].sort().join('|')}|${r.state ?? ''}`;
}

/** The newest reading of each fact, in the order first told. */
export function latest(readings: readonly Reading[]): ReadonlyMap<string, Reading> {
  const had = newest.get(readings);
  if (had && had.of === readings.length) return had.map;
  const map = new Map<string, Reading>();
  for (const r of readings) map.set(r.fact, r);
  newest.set(readings, { of: readings.length, map });
  return map;
}
// Every check of a consultation asks for it; a list that has grown since is read anew.
const newest = new WeakMap<readonly Reading[], { of: number; map: ReadonlyMap<string, Reading> }>();
