import type { Knowledge, Likely } from '../types.ts';

/** What one answer is worth under a candidate: the word for how often it is given there, and that as a probability over all answers. */
export interface Worth {
  word: Likely | undefined;
  chance: number;
}

/** How likely an answer is under a fault (or, with none, on a machine that says nothing of it): one of five words. */
export function word(k: Knowledge, faults: readonly string[], fact: string, answer: string): Likely | undefined {
  let best: Likely | undefined;
  for (const id of faults) {
    const named = k.faults.get(id)?.signs[fact];
    if (!named) continue;
    // Of two faults at once, the one that shows is the one that makes the answer likelier.
    const mine = named[answer] ?? 'never';
    if (best === undefined || k.likely[mine] > k.likely[best]) best = mine;
  }
  if (best !== undefined) return best;
  const silent = k.facts.get(fact)?.silent;
  return silent ? (silent[answer] ?? 'never') : undefined;
}

/** Probability of an answer under a fault: its word's number, normalised over the answers of the fact. */
export const chance = (k: Knowledge, faults: readonly string[], fact: string, answer: string): number =>
  worthOf(k, fact, answer)(faults, nameOfFaults(faults)).chance;

export const nameOfFaults = (faults: readonly string[]): string => (faults.length === 1 ? faults[0]! : faults.join('+'));

/** What one answer is worth under each candidate; `name` is the candidate's, joined once by whoever asks often. */
export function worthOf(k: Knowledge, fact: string, answer: string): (faults: readonly string[], name: string) => Worth {
  const all = worth.get(k) ?? new Map<string, Map<string, Worth>>();
  worth.set(k, all);
  const told = `${fact}=${answer}`;
  const mine = all.get(told) ?? new Map<string, Worth>();
  all.set(told, mine);
  return (faults, name) => {
    let had = mine.get(name);
    if (!had) {
      had = { word: word(k, faults, fact, answer), chance: normalised(k, faults, fact, answer) };
      mine.set(name, had);
    }
    return had;
  };
}
// The knowledge is frozen: what was worked out once holds.
const worth = new WeakMap<Knowledge, Map<string, Map<string, Worth>>>();

function normalised(k: Knowledge, faults: readonly string[], fact: string, answer: string): number {
  const { choices = [], noEvidence } = k.facts.get(fact) ?? {};
  let sum = 0;
  let mine = 0;
  for (const choice of choices) {
    if (noEvidence?.includes(choice)) continue;
    const likely = word(k, faults, fact, choice);
    const share = likely ? k.likely[likely] : 1;
    sum += share;
    if (choice === answer) mine = share;
  }
  return sum > 0 ? mine / sum : 1;
}
