import type { z } from 'zod';
import { orDidYouMean } from './closest.ts';
import { type Found, findRefs } from './find-refs.ts';
import { LISTS, SINGLES } from './list-files.ts';
import { shapeOf } from './loaded.ts';
import type { MachineFile } from './machine.ts';
import type { Ref } from './ref.ts';
import type { Shelf } from './shelf.ts';

/** How a problem calls a kind of name, where it is not by its own word. */
const CALLED: Partial<Record<Ref['to'], string>> = {
  attribute: 'machine attribute',
  system: 'supply system',
  lift: 'lead that lifts',
};

/** Every name in every file that nothing is called by: file, item, the way to it, and what may have been meant. */
export function unknownNames(shelf: Shelf): string[] {
  const out: string[] = [];
  const look = (where: string, shape: z.ZodType, item: unknown, self?: { to: Ref['to']; name: string }): void => {
    for (const found of findRefs(shape, item, self)) {
      const wrong = wrongName(shelf, found);
      if (wrong !== undefined) out.push(`${where}${found.field}: ${wrong}`);
    }
  };
  for (const [path, items] of Object.entries(shelf.loaded.lists)) {
    const { item: shape, called, beside } = LISTS[shapeOf(path)]!;
    for (const item of items as { id: string }[])
      look(`${path}, ${called} "${item.id}", `, shape, item, { to: called as Ref['to'], name: item.id });
    for (const [key, besideShape] of Object.entries(beside)) look(`${path}, ${key}.`, besideShape, shelf.loaded.beside[key]);
  }
  for (const [path, item] of Object.entries(shelf.loaded.singles)) look(`${path}, `, SINGLES[shapeOf(path)]!, item);
  return out;
}

function wrongName(shelf: Shelf, found: Found): string | undefined {
  const { to } = found.ref;
  if (to === 'choice') return wrongChoice(shelf, found);
  const among =
    to === 'outcome'
      ? outcomesOf(shelf, found)
      : to === 'branch'
        ? branchesFor(shelf, found)
        : to === 'node'
          ? nodesFor(shelf, found)
          : shelf.names(to);
  if (!among || among.has(found.name)) return undefined;
  const called = to === 'outcome' ? `outcome of "${nearest(found, 'check')}"` : (CALLED[to] ?? to);
  return `there is no ${called} "${found.name}"${orDidYouMean(found.name, among)}`;
}
const nearest = (found: Found, to: Ref['to']): string | undefined => found.around.filter((x) => x.to === to).at(-1)?.name;

function wrongChoice(shelf: Shelf, found: Found): string | undefined {
  const id = nearest(found, 'fact');
  const fact = shelf.facts.get(id ?? '');
  if (!fact) return undefined;
  if (fact.kind === 'quantity') return `"${id}" is a number and has no answer "${found.name}"`;
  if (!fact.choices || fact.choices.includes(found.name)) return undefined;
  return `"${found.name}" is not one of ${fact.choices.join(', ')} (fact "${id}")`;
}
function outcomesOf(shelf: Shelf, found: Found): ReadonlySet<string> | undefined {
  const check = shelf.checks.get(nearest(found, 'check') ?? '');
  return check && new Set(check.outcomes.map((o) => o.id));
}

/** The machines whose branches and points a name may be: the one whose file it stands in, or those that the fault fits. */
function machinesFor(shelf: Shelf, found: Found): readonly MachineFile[] {
  const [item] = found.within as [Partial<MachineFile> & { fits?: string[] }];
  if (item.lifts) return [item as MachineFile];
  return item.fits ? shelf.fitting(item.fits) : shelf.machines;
}
function branchesFor(shelf: Shelf, found: Found): ReadonlySet<string> | undefined {
  const machines = machinesFor(shelf, found);
  if (!shelf.supply || !machines.length) return undefined;
  // A variant redraws its own machine, never the house.
  if (found.within.length > 1 && 'title' in found.within[1]!)
    return new Set(machines.flatMap((m) => m.branches.map((b) => b.id)));
  return new Set([...houseBranches(shelf), ...machines.flatMap(ownBranches)]);
}
function nodesFor(shelf: Shelf, found: Found): ReadonlySet<string> | undefined {
  const machines = machinesFor(shelf, found);
  if (!shelf.supply || !machines.length) return undefined;
  const drawn = found.within.flatMap((x) => ('nodes' in x && Array.isArray(x.nodes) ? (x.nodes as { id: string }[]) : []));
  return new Set([...shelf.supply.nodes.map((n) => n.id), ...drawn.map((n) => n.id), ...machines.flatMap(ownNodes)]);
}

const houseBranches = (shelf: Shelf): string[] =>
  [...(shelf.supply?.branches ?? []), ...(shelf.supply?.hookups ?? []).flatMap((h) => h.add)].map((b) => b.id);
const ownBranches = (m: MachineFile): string[] => [...m.branches.map((b) => b.id), ...Object.keys(m.aliases?.branches ?? {})];
const ownNodes = (m: MachineFile): string[] => [...m.nodes.map((n) => n.id), ...Object.keys(m.aliases?.nodes ?? {})];

/** Every branch and every point that a name may stand for on this machine. */
export const branchesOn = (shelf: Shelf, m: MachineFile): ReadonlySet<string> =>
  new Set([...houseBranches(shelf), ...ownBranches(m)]);
export const nodesOn = (shelf: Shelf, m: MachineFile): ReadonlySet<string> =>
  new Set([...(shelf.supply?.nodes ?? []).map((n) => n.id), ...ownNodes(m)]);
