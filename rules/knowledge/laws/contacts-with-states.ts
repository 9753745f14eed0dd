import type { Law } from './law.ts';

/** A contact says in which states it is closed: one that says nothing would be closed in all of them, and no contact's silence means that. */
export const contactsWithStates: Law = ({ machines }) =>
  machines.flatMap((m) => {
    const drawn = [
      ...m.branches.map((branch) => ({ branch, field: 'branches' })),
      ...(m.variants ?? []).flatMap((v) => (v.add ?? []).map((branch) => ({ branch, field: `variants.${v.id}.add` }))),
    ];
    return drawn
      .filter(({ branch }) => branch.kind === 'contact' && branch.closedIn === undefined)
      .map(
        ({ branch, field }) =>
          `machines/${m.id}.json, ${field}.${branch.id}, closedIn: is missing; a contact names the states it is closed in, even where those are all`,
      );
  });
