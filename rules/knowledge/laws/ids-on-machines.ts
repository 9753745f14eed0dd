import type { Law } from './law.ts';

/** Within a machine, the house that feeds it included, every branch, point, lead that lifts and variant has an id of its own. */
export const idsOnMachines: Law = ({ machines, supply }) => {
  const house = { nodes: supply?.nodes ?? [], branches: supply?.branches ?? [] };
  return [
    ...(supply
      ? [...twice('supply.json, nodes', house.nodes, [], ''), ...twice('supply.json, branches', house.branches, [], '')]
      : []),
    ...machines.flatMap((m) => {
      const where = `machines/${m.id}.json`;
      const variants = m.variants ?? [];
      return [
        ...twice(`${where}, nodes`, m.nodes, house.nodes, 'supply.json'),
        ...twice(`${where}, branches`, m.branches, house.branches, 'supply.json'),
        ...twice(`${where}, lifts`, m.lifts, [], ''),
        ...twice(`${where}, variants`, variants, [], ''),
        ...variants.flatMap((v) => [
          ...twice(`${where}, variants.${v.id}.nodes`, v.nodes ?? [], [...m.nodes, ...house.nodes], 'the drawing'),
          ...twice(`${where}, variants.${v.id}.add`, v.add ?? [], [...m.branches, ...house.branches], 'the drawing'),
        ]),
      ];
    }),
  ];
};

type Named = { id: string };

function twice(where: string, items: readonly Named[], before: readonly Named[], file: string): string[] {
  const there = new Set(before.map(({ id }) => id));
  const seen = new Set<string>();
  return items.flatMap(({ id }) => {
    const again = seen.has(id);
    seen.add(id);
    if (again) return [`${where}: "${id}" stands there twice; ids are used once`];
    return there.has(id) ? [`${where}: "${id}" stands in ${file} too; ids are used once`] : [];
  });
}
