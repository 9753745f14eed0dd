import { SUPPLY_SAID } from '../../../place/place.ts';
import { readsAt } from '../../../place/reads.ts';
import type { Meaning } from '../../../types.ts';
import type { Doorway } from '../door.ts';

type Reading = Extract<Meaning, { is: 'reading' }>;

/**
 * The facts that the points and the state told with a reading name, for a reading told beside the question.
 * The open question's own come alone where no state was told. undefined = neither points nor state were told.
 */
export function whereRead({ k, at, ask }: Doorway, act: Reading): string[] | undefined {
  const { pointsSaid, state, plugged, unit } = act;
  if (pointsSaid === undefined && plugged === undefined && (state === undefined || !k.states.has(state))) return undefined;
  const role = pointsSaid === undefined ? undefined : SUPPLY_SAID.get(pointsSaid);
  // Neutral alone is no place, and a number of no unit is read at none.
  const nowhere = unit === undefined || (pointsSaid !== undefined && role === undefined);
  const facts = nowhere ? [] : readsAt(k, at.p.circuits, { role, state, plugged, unit }).map((read) => read.fact);
  const asked = state === undefined ? facts.filter((fact) => ask?.reads.some((r) => r.fact === fact)) : [];
  return [...new Set(asked.length > 0 ? asked : facts)];
}
