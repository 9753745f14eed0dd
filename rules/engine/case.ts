import type { Audience, Check, Knowledge, MachineInHand } from '../types.ts';
import { type Answer, type CaseSettings, factIn, isTold, isUnanswered, type Told } from './answer.ts';
import type { CaseFacts, Reading } from './case-facts.ts';
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

/**
 * The case as it stands: nothing but the fold of its answers in the order told.
 * Covers open, the machine's state and re-closings come from that order; readings keep their repeats, lose what was replaced.
 */
export function foldCase(k: Knowledge, opened: Opened, answers: readonly Answer[]): CaseFacts {
  const now = standing(answers);
  const facts = begun(opened, answers.length);
  // What is said of the case holds from its beginning, whenever it was said.
  for (const a of now) if (a.act === 'set') set(facts, a.set);
  for (const id of facts.machine.repaired ?? []) facts.repaired.add(id);
  const fold: Fold = { k, facts, machine: facts.machine.circuits?.[0], repaired: 0, visits: new Set() };
  for (const a of now) {
    if (isUnanswered(a)) facts.asked.set('fact' in a.about ? a.about.fact : a.about.check, a.act);
    else if (isTold(a)) take(fold, a);
  }
  facts.everStopped = everStopped(k, now);
  return facts;
}

/** What is carried from answer to answer. */
interface Fold {
  k: Knowledge;
  facts: CaseFacts;
  /** The likeliest machine of the case as a whole. */
  machine: string | undefined;
  /** Number of the answer that said a repair was done; 0 = none did. */
  repaired: number;
  /** Check and turn of each visit that counted a re-closing. */
  visits: Set<string>;
}

const begun = (opened: Opened, rev: number): CaseFacts => ({
  rev,
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
});

/** The newest of each setting stands; repairs done before add up, and so do the numbers of a plate. */
function set(facts: CaseFacts, { audience, families, units, machine }: CaseSettings): void {
  facts.audience = audience ?? facts.audience;
  facts.families = families ?? facts.families;
  facts.units = units ?? facts.units;
  const repaired = [...(facts.machine.repaired ?? []), ...(machine?.repaired ?? [])];
  facts.machine = { ...facts.machine, ...machine, plate: { ...facts.machine.plate, ...machine?.plate } };
  if (repaired.length) facts.machine.repaired = [...new Set(repaired)];
}

function take(fold: Fold, told: Told): void {
  const { k, facts } = fold;
  const fact = k.facts.get(told.fact);
  const check = checkOf(k, told);
  putDown(fold, told, readingOf(fold, told, check));
  if (fact?.event === 'renewed') facts.repaired.add(String(told.value));
  if (fact?.event === 'repair' && told.value === fact.choices?.[0]) fold.repaired = told.seq;
  facts.asked.delete(told.fact);
  if (check) facts.asked.delete(check.id);
  const off = fact?.covers?.[String(told.value)];
  if (off) coversTold(k, facts.coversOpen, off);
  // Putting an old answer right moves no cover, no dial and no breaker.
  if (check && told.act !== 'correct') visit(fold, told, check);
}

/** The check it was asked under, else the first that settles it. */
function checkOf(k: Knowledge, { check, fact }: Told): Check | undefined {
  if (check) return k.checks.get(check);
  for (const c of k.checks.values()) if (c.settles.includes(fact)) return c;
  return undefined;
}

const readingOf = ({ facts }: Fold, told: Told, check: Check | undefined): Reading => ({
  seq: told.seq,
  fact: told.fact,
  value: told.value,
  said: told.said,
  by: told.by,
  ...(check && { check: check.id }),
  ...(told.unit !== undefined && { unit: told.unit }),
  ...told.taken,
  state: told.taken?.state ?? check?.state ?? facts.state,
});

/** Puts a reading among the others: in the place of the one it puts right, else as a repeat of those read at the same place. */
function putDown(fold: Fold, told: Told, reading: Reading): void {
  const { k, facts } = fold;
  const fact = k.facts.get(told.fact);
  const place = placeOf(k, reading);
  // After a repair a fact is told anew, not changed.
  const same = facts.readings.filter((r) => placeOf(k, r) === place && (r.first ?? r.seq) > fold.repaired);
  // A choice told again is a change of mind; a quantity told again is a second reading.
  const changed = fact?.kind === 'choice' && fact.event === undefined && told.act !== 'repeat';
  const replaces = told.act === 'correct' ? told.of : changed ? same.at(-1)?.seq : undefined;
  if (replaces !== undefined) replace(facts, told, reading, replaces);
  else if (same.length && fact?.event === undefined) reading.repeats = same[0]!.repeats ?? same[0]!.seq;
  facts.readings.push(reading);
}

/** Takes the replaced reading out; what repeated it repeats the new one, and the new one repeats what it did. */
function replace(facts: CaseFacts, told: Told, reading: Reading, replaces: number): void {
  const old = facts.readings.find((r) => r.seq === replaces);
  reading.replaces = replaces;
  if (told.act === 'correct' && old) reading.first = old.first ?? old.seq;
  if (old?.repeats !== undefined) reading.repeats = old.repeats;
  facts.readings = facts.readings.filter((r) => r.seq !== replaces);
  for (const r of facts.readings) if (r.repeats === replaces) r.repeats = told.seq;
}

/** What doing a check leaves behind: the machine's state, covers off, a breaker closed again. */
function visit({ k, facts, machine, visits }: Fold, told: Told, check: Check): void {
  if (k.states.has(check.state)) facts.state = check.state;
  // Whoever was asked put back first what had to be on; what was told unasked says nothing of covers.
  if (told.check) for (const c of shutFor(k, check)) facts.coversOpen.delete(c);
  for (const c of withCoversInFront(k, forMachine(check.covers, machine) ?? [])) facts.coversOpen.add(c);
  const once = `${check.id}:${told.turn}`;
  if (check.needs.includes('closing-allowed') && !visits.has(once)) facts.reclosings++;
  visits.add(once);
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
    const fact = k.facts.get(factIn(a) ?? '');
    if (!fact?.danger) continue;
    if (isTold(a) ? fact.danger.includes(String(a.value)) : a.act === 'unsure' && fact.unsureIs !== undefined) out.add(fact.id);
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
