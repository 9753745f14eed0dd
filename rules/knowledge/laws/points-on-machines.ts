import type { MachineFile } from '../machine.ts';
import { pointsOf } from '../place.ts';
import type { Law } from './law.ts';

/** A point is the end of something, and one that lies inside a part, where no cover leads to it, is no end of a lead and nothing leads are put on. */
export const pointsOnMachines: Law = ({ machines, supply }) =>
  machines.flatMap((m) => {
    const where = `machines/${m.id}.json`;
    const ends = [...(supply?.branches ?? []), ...endsOf(m)];
    return m.nodes.flatMap(({ id, covers }) => {
      const out: string[] = [];
      if (!ends.some(({ a, b }) => a === id || b === id)) out.push(`${where}, nodes.${id}: no branch ends there`);
      if (covers.length) return out;
      const inside = `${where}, nodes.${id}, covers: is empty, which is for the inside of a part`;
      const lead = ends.find(({ a, b, kind }) => kind === 'lead' && (a === id || b === id));
      if (lead) out.push(`${inside}; "${lead.id}" is a lead and ends there. "none" says that nothing comes off for it`);
      for (const [name, place] of Object.entries(m.places))
        if (Array.isArray(place) && pointsOf(place).includes(id)) out.push(`${inside}; the place "${name}" is read there`);
      return out;
    });
  });

/** Every branch as drawn, those of the variants, and where a variant lands one. */
function endsOf(m: MachineFile): { id: string; a: string; b: string; kind: string }[] {
  const variants = m.variants ?? [];
  const moved = variants.flatMap((v) => Object.entries(v.rewire ?? {}).map(([id, [a, b]]) => ({ id, a, b, kind: 'moved' })));
  return [...m.branches, ...variants.flatMap((v) => v.add ?? []), ...moved];
}

/** How common each machine is: shares of all, so none is nothing and together they are all. */
export const priorsAddUp: Law = ({ machines }) => {
  if (!machines.length) return [];
  const none = machines.filter((m) => m.prior === 0).map((m) => `machines/${m.id}.json, prior: 0 would never be thought of`);
  const sum = machines.reduce((total, m) => total + m.prior, 0);
  if (Math.abs(sum - 1) <= 0.001) return none;
  const each = machines.map((m) => `${m.id} ${m.prior}`).join(', ');
  return [...none, `machines/*.json, prior: they add to ${Math.round(sum * 1000) / 1000} (${each}); they should add to 1`];
};
