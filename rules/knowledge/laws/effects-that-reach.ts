import type { Effect, Fault } from '../fault.ts';
import type { Shelf } from '../shelf.ts';
import { branchesOn, nodesOn } from '../unknown-names.ts';
import type { Law } from './law.ts';

/** A fault of the circuit does something on every machine it fits. */
export const effectsThatReach: Law = (shelf) => {
  if (!shelf.supply) return [];
  return [...shelf.faults.values()].flatMap((fault) =>
    problems(shelf, fault).map((p) => `faults.json, fault "${fault.id}", ${p}`),
  );
};

function problems(shelf: Shelf, fault: Fault): string[] {
  if (!fault.effects.length) return fault.members ? ['members: there are no effects that they could differ from'] : [];
  const machines = shelf.fitting(fault.fits);
  const on = machines.map((m) => ({ m, branches: branchesOn(shelf, m), nodes: nodesOn(shelf, m) }));
  // A name that stands nowhere is a problem already.
  const known = fault.effects.every((e) => on.some(({ branches, nodes }) => reaches(e, branches, nodes)));
  if (!known) return [];
  return on.flatMap(({ m, branches, nodes }) =>
    fault.effects.some((e) => reaches(e, branches, nodes))
      ? []
      : [
          `effects: none of them touches anything on "${m.id}", which the fault fits; does machines/${m.id}.json, aliases lack a name of theirs?`,
        ],
  );
}
function reaches(effect: Effect, branches: ReadonlySet<string>, nodes: ReadonlySet<string>): boolean {
  if ('branch' in effect) return branches.has(effect.branch);
  if ('contact' in effect) return branches.has(effect.contact);
  if ('scale' in effect) return branches.has(effect.scale[0]);
  if ('add' in effect) return nodes.has(effect.add[0]) && nodes.has(effect.add[1]);
  if ('touch' in effect) return branches.has(effect.touch[0]) && nodes.has(effect.touch[2]);
  if ('join' in effect) return effect.join.every((point) => nodes.has(point));
  return true;
}
