import { prepare } from '../../../rules/index.ts';
import type { Knowledge, MachineInHand, Prepared } from '../../../rules/types.ts';

/** Most machines kept solved at once; each holds some megabytes. */
const MOST = 32;

/** `prepare` with a bounded memory, least recently used out first. What it gives is the same with and without it. */
export function preparedMemo(k: Knowledge, most = MOST): (machine: MachineInHand) => Prepared {
  const kept = new Map<string, Prepared>();
  return (machine) => {
    const key = JSON.stringify(sorted(machine));
    const had = kept.get(key);
    const made = had ?? prepare(k, machine);
    kept.delete(key);
    kept.set(key, made);
    if (kept.size > most) kept.delete(kept.keys().next().value as string);
    return made;
  };
}

// Two machines told in another order of keys are one machine.
const sorted = (m: MachineInHand): unknown =>
  Object.fromEntries(
    Object.entries(m)
      .sort(byKey)
      .map(([key, v]) => [key, plain(v)]),
  );
const plain = (v: unknown): unknown =>
  v !== null && typeof v === 'object' && !Array.isArray(v) ? Object.fromEntries(Object.entries(v).sort(byKey)) : v;
const byKey = ([a]: [string, unknown], [b]: [string, unknown]) => (a < b ? -1 : a > b ? 1 : 0);
