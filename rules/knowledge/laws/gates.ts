import type { Family } from '../family.ts';
import type { Law } from './law.ts';

/** What is asked first is a gate or tells something; a proof or a look for a cause comes later. */
export const gates: Law = (shelf) =>
  shelf.list<Family>('families.json').flatMap((family) =>
    family.gates.flatMap((id) => {
      const kind = shelf.checks.get(id)?.kind;
      if (kind === undefined || kind === 'gate' || kind === 'worth') return [];
      return [`families.json, family "${family.id}", gates: "${id}" is a check of kind "${kind}", not "gate" or "worth"`];
    }),
  );
