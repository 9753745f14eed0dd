import covers from '../../../rules/knowledge/covers.json' with { type: 'json' };
import { FILES } from '../../../rules/knowledge/files.ts';
import meters from '../../../rules/knowledge/meters.json' with { type: 'json' };
import limits from '../../../rules/knowledge/physics-limits.json' with { type: 'json' };
import states from '../../../rules/knowledge/states.json' with { type: 'json' };
import supplyFile from '../../../rules/knowledge/supply.json' with { type: 'json' };
import type { Circuit, Cover, Limit, MachineState, Meter, SupplyModel } from '../../../rules/types.ts';

const byId = <T extends { id: string }>(items: readonly T[]): Map<string, T> => new Map(items.map((i) => [i.id, i]));

/** The files of knowledge the physics stands on, read as they are. */
export const SUPPLY = supplyFile as unknown as SupplyModel;
export const MACHINES = byId(
  Object.keys(FILES).flatMap((path) => (path.startsWith('machines/') ? [FILES[path] as Circuit] : [])),
);
export const STATES = byId(states.states as unknown as MachineState[]);
export const COVERS = byId(covers.covers as Cover[]);
export const METERS = byId(meters.meters as Meter[]);
export const LIMITS = byId(limits.limits as Limit[]);
export const limit = (id: string): Limit => {
  const found = LIMITS.get(id);
  if (!found) throw new Error(`no limit ${id}`);
  return found;
};
