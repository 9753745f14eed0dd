import type { Knowledge, SupplyModel } from '../../rules/types.ts';

/** Two points of a drawing, in whichever order the leads lie. */
export type Pair = readonly [string, string];

/** Where something was read: between two points of this machine's drawing, and in which of its states, if that is known. */
export interface Place {
  points: [string, string];
  state?: string;
}

export const samePoints = (a: readonly string[], b: readonly string[]): boolean =>
  (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);

/** The three places a supply is read at: leg to leg, the motor's leg to neutral, the other leg to neutral. */
export const SUPPLY_ROLES = ['across', 'legA', 'legB'] as const;
export type SupplyRole = (typeof SUPPLY_ROLES)[number];

/** What these two points read of the supply, at whatever end of the cord; undefined = nothing of it. By the supply's own pairs, never by the names of points. */
export function supplyRole({ legPairs, scalePairs }: SupplyModel, points: Pair): SupplyRole | undefined {
  if (legPairs.some((legs) => samePoints(legs, points))) return 'across';
  if (scalePairs.some((pair) => samePoints(pair, points))) return 'legA';
  const other = scalePairs.flatMap(([motor, neutral]) =>
    legPairs.filter((legs) => legs.includes(motor)).map(([a, b]): Pair => [a === motor ? b : a, neutral]),
  );
  return other.some((pair) => samePoints(pair, points)) ? 'legB' : undefined;
}

/** Do these pairs differ by nothing but the leg one lead lies on? */
export function differByLeg({ supply }: Pick<Knowledge, 'supply'>, a: Pair, b: Pair): boolean {
  const [mine, ...more] = a.filter((point) => !b.includes(point));
  const [theirs, ...others] = b.filter((point) => !a.includes(point));
  if (mine === undefined || theirs === undefined || more.length || others.length) return false;
  return supply.legPairs.some((legs) => samePoints(legs, [mine, theirs]));
}
