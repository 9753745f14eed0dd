import type { Knowledge, MachineInHand, Prepared } from '../types.ts';
import { expectedBetween, expectedOf } from './expected.ts';
import { modelOf } from './model.ts';

/**
 * Everything a check would show on this machine, computed from circuit, plate, supply and meter, never typed in.
 * Solves on demand and keeps what it solved; the same machine always gives the same numbers. Pure: callers may keep it.
 */
export function prepare(knowledge: Knowledge, machine: MachineInHand): Prepared {
  const model = modelOf(knowledge, machine);
  return Object.freeze<Prepared>({
    knowledge,
    machine,
    circuits: model.circuits,
    expected: (check, faults, scale) => expectedOf(model, check, faults, scale),
    between: (what, points, state, faults, how) => expectedBetween(model, what, points, state, faults, how),
  });
}

/** Solves ahead what a technician's case of these families will ask of this machine, so that no turn pays for it. Changes nothing that is shown. */
export function warm(p: Prepared, families?: readonly string[]): void {
  const faults = [...p.knowledge.faults.values()].filter((f) => !families || families.some((id) => f.weight[id]));
  for (const check of p.knowledge.checks.values()) {
    if (!check.measure) continue;
    p.expected(check.id, []);
    for (const fault of faults) p.expected(check.id, [fault.id]);
  }
}
