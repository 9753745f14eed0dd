import type { Repair } from '../repair.ts';
import type { Law } from './law.ts';

/** Every repair ends some fault, and what proves it is a proof. */
export const repairsInUse: Law = (shelf) => {
  const out: string[] = [];
  const used = new Set([...shelf.faults.values()].map((f) => f.end.repair));
  for (const repair of shelf.list<Repair>('repairs.json')) {
    const where = `repairs.json, repair "${repair.id}"`;
    if (!used.has(repair.id)) out.push(`${where}: no fault ends with it`);
    for (const id of repair.proofs) {
      const kind = shelf.checks.get(id)?.kind;
      if (kind !== undefined && kind !== 'proof') out.push(`${where}, proofs: "${id}" is a check of kind "${kind}", not "proof"`);
    }
  }
  return out;
};
