import type { Branch } from '../branch.ts';
import type { Shelf } from '../shelf.ts';
import type { Law } from './law.ts';

/** Every machine hangs on the house: it has the points the cord ends at. What follows a temperature follows one in °C. */
export const drawings: Law = (shelf) => {
  const { supply, machines } = shelf;
  if (!supply) return [];
  const ends = new Set([supply.cabinet, ...supply.branches.flatMap((b) => [b.a, b.b])]);
  for (const node of supply.nodes) ends.delete(node.id);
  return machines.flatMap((m) => {
    const where = `machines/${m.id}.json`;
    const missing = [...ends].filter((id) => !m.nodes.some((n) => n.id === id));
    return [
      ...missing.map((id) =>
        id === supply.cabinet
          ? `supply.json, cabinet: "${m.id}" has no node "${id}"`
          : `${where}, nodes: there is no "${id}"; the cord of supply.json ends there`,
      ),
      ...m.branches.flatMap((b) => followed(shelf, b).map((p) => `${where}, branches.${b.id}.follows.at: ${p}`)),
    ];
  });
};
function followed(shelf: Shelf, branch: Branch): string[] {
  const fact = shelf.facts.get(branch.follows?.at ?? '');
  return fact && fact.unit !== '°C' ? [`"${fact.id}" is in ${fact.unit}; a temperature is in °C`] : [];
}
