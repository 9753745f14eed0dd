import type { Cover } from '../cover.ts';
import { mustBeOn } from '../must-be-on.ts';
import type { MachineState } from '../state.ts';
import type { Law } from './law.ts';

/** A live reading is for the qualified, and a cover that must be on while power is used does not come off for it. */
export const safeToDo: Law = (shelf) => {
  const out: string[] = [];
  const states = new Map(shelf.list<MachineState>('states.json').map((s) => [s.id, s]));
  const covers = new Map(shelf.list<Cover>('covers.json').map((c) => [c.id, c]));
  for (const check of shelf.checks.values()) {
    const where = `checks.json, check "${check.id}"`;
    if (check.level === 4 && !check.needs.includes('qualified')) out.push(`${where}, needs: a live reading needs "qualified"`);
    // Read with the plug out after a run, it has them on for the run alone.
    if (states.get(check.state)?.plugged === false) continue;
    for (const [machine, ids] of Object.entries(check.covers))
      for (const id of ids) {
        const cover = covers.get(id);
        if (cover && mustBeOn(cover, check))
          out.push(`${where}, covers.${machine}: "${id}" must be on while this is done, for it uses power`);
      }
  }
  return out;
};
