import type { Finding } from '../finding.ts';
import type { Law } from './law.ts';

/** What is found has a name of its own, and what clears it is told by a proof. */
export const findingsCleared: Law = (shelf) => {
  const out: string[] = [];
  const proved = new Set([...shelf.checks.values()].flatMap((c) => (c.kind === 'proof' ? c.settles : [])));
  for (const { id, clearedBy } of shelf.list<Finding>('findings.json')) {
    const where = `findings.json, finding "${id}"`;
    if (shelf.facts.has(id))
      out.push(`${where}: is the id of a fact too; what is told and what is found need names of their own`);
    if (clearedBy !== undefined && shelf.checks.size && shelf.facts.has(clearedBy) && !proved.has(clearedBy))
      out.push(`${where}, clearedBy: no proof settles "${clearedBy}"`);
  }
  return out;
};
