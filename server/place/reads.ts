import { fitsCircuit, forMachine, pointsOn } from '../../rules/index.ts';
import type { Check, Circuit, Knowledge, Reading, Unit } from '../../rules/types.ts';
import { type Pair, type Place, type SupplyRole, samePoints, supplyRole } from './place.ts';

/** A reading that a check asks for, where it is taken on one drawing. */
export interface Read extends Required<Place> {
  fact: string;
  check: Check;
  unit: Unit | undefined;
  /** The lead that comes off first. */
  lift?: string;
}
/** What is told of a place; what is absent may be anything. */
export interface Where {
  points?: Pair | undefined;
  role?: SupplyRole | undefined;
  state?: string | undefined;
  /** Whether the cord is in. */
  plugged?: boolean | undefined;
  unit?: Unit | undefined;
}

/** The readings of one check that are taken on this drawing; without one, those whose points are the same on all. */
export function readsOf({ facts }: Pick<Knowledge, 'facts'>, check: Check, circuit: Circuit | undefined): Read[] {
  const lift = forMachine(check.measure?.lift, circuit?.id);
  return (check.measure?.reads ?? []).flatMap((r) => {
    const points = circuit ? pointsOn(circuit, r.points) : forMachine(r.points, undefined);
    if (!points) return [];
    const { unit } = facts.get(r.fact) ?? {};
    return [{ fact: r.fact, check, unit, points, state: check.state, ...(lift !== undefined && { lift }) }];
  });
}

/** Where the leads are put for a reading that a check asks for: on this drawing, else where it is taken on any. */
export const pointsAsked = (k: Knowledge, check: Check, fact: string, circuit: Circuit | undefined): Read['points'] | undefined =>
  [circuit, ...k.machines.values()].flatMap((c) => readsOf(k, check, c)).find((read) => read.fact === fact)?.points;

/**
 * Which readings are taken there on the machine in hand: those of checks that fit any of its drawings, at their points on the first.
 * Proofs are none: they stand beside the reading they repeat.
 */
export const readsAt = (k: Knowledge, circuits: readonly Circuit[], where: Where): Read[] =>
  [...k.checks.values()]
    .filter((check) => check.kind !== 'proof' && circuits.some((c) => fitsCircuit(check, c.attributes)))
    .flatMap((check) => readsOf(k, check, circuits[0]))
    .filter((read) => lies(k, read, where));

const lies = (k: Knowledge, read: Read, { points, role, state, plugged, unit }: Where): boolean =>
  (unit === undefined || read.unit === unit) &&
  (state === undefined || read.state === state) &&
  (plugged === undefined || k.states.get(read.state)?.plugged === plugged) &&
  (points === undefined || samePoints(points, read.points)) &&
  (role === undefined || supplyRole(k.supply, read.points) === role);

/** The fact that may be read between any two points of a drawing, in this unit. */
export const freeFact = ({ facts }: Pick<Knowledge, 'facts'>, unit: Unit): string | undefined =>
  [...facts.values()].find((fact) => fact.anywhere && fact.unit === unit)?.id;

/** Between which points a reading was taken: as told, else as its check is done on this machine; undefined = between none. */
export function pointsRead(k: Knowledge, circuit: Circuit | undefined, reading: Reading): Pair | undefined {
  const check = reading.check === undefined ? undefined : k.checks.get(reading.check);
  return reading.points ?? (check && readsOf(k, check, circuit).find((read) => read.fact === reading.fact)?.points);
}
