import type { Branch } from './branch.ts';
import type { Check, CheckFile, Measured } from './check.ts';
import type { Cover } from './cover.ts';
import type { Fault, FaultFile } from './fault.ts';
import type { MachineFile } from './machine.ts';
import { type Place, pointsOf } from './place.ts';
import type { SupplyFile } from './supply.ts';

/** The machines and the house behind them: where the parts that checks speak of are found. */
export interface Ground {
  machines: readonly MachineFile[];
  supply: SupplyFile | undefined;
  covers: ReadonlyMap<string, Cover>;
}

export const fitsMachine = (fits: readonly string[], m: MachineFile): boolean => fits.every((a) => m.attributes.includes(a));

/** A place as this machine has it: its own, else that of the house. */
export const placeOn = (ground: Ground, m: MachineFile, name: string): Place | undefined =>
  m.places[name] ?? ground.supply?.places[name];

/** The branches that lie between two points on a machine: a clamp goes round the one there is. */
export function branchesBetween(ground: Ground, m: MachineFile, [a, b]: readonly [string, string]): Branch[] {
  const all = [...m.branches, ...(ground.supply?.branches ?? [])];
  return all.filter((x) => (x.a === a && x.b === b) || (x.a === b && x.b === a));
}

/** What holds on each of these machines, as one entry '*' where it is the same on all of them. */
function onEach<T>(machines: readonly MachineFile[], on: (m: MachineFile) => T | undefined): Record<string, T> {
  const held = machines.flatMap((m): [string, T][] => {
    const value = on(m);
    return value === undefined ? [] : [[m.id, value]];
  });
  const [first] = held;
  if (!first) return {};
  const alike = held.length === machines.length && held.every(([, v]) => JSON.stringify(v) === JSON.stringify(first[1]));
  return alike ? { '*': first[1] } : Object.fromEntries(held);
}

/** The check as the engine has it: on every machine it fits, where its leads go, what comes off for it. */
export function resolveCheck(file: CheckFile, ground: Ground): Check {
  const { measure, covers, ...rest } = file;
  const machines = ground.machines.filter((m) => fitsMachine(file.fits, m));
  if (!measure) return { ...rest, covers: covers ? { '*': covers } : {} };
  const reads = measure.reads.map(({ across, ...read }): Measured => {
    const points = onEach(machines, (m) => {
      const place = across === undefined ? undefined : placeOn(ground, m, across);
      return place && pointsOf(place);
    });
    if (measure.what !== 'amps' || across === undefined) return { ...read, points };
    const branch = onEach(machines, (m) => {
      const place = placeOn(ground, m, across);
      return place && branchesBetween(ground, m, pointsOf(place))[0]?.id;
    });
    return { ...read, points, branch };
  });
  const { lift, reads: _, ...how } = measure;
  return {
    ...rest,
    measure: { ...how, reads, ...(lift !== undefined && { lift: liftOn(file, lift, machines) }) },
    covers: covers ? { '*': covers } : file.anywhere ? {} : onEach(machines, (m) => coversFor(file, m, ground)),
  };
}

/** By machine, but for a check that fits any. */
const liftOn = ({ fits }: CheckFile, lift: string, machines: readonly MachineFile[]): Record<string, string> =>
  fits.length ? Object.fromEntries(machines.map((m) => [m.id, lift])) : { '*': lift };

/** What must be off to reach every point the check reads and the lead it lifts; what lies in front of another is left out. */
function coversFor(file: CheckFile, m: MachineFile, ground: Ground): string[] {
  const nodes = new Map([...(ground.supply?.nodes ?? []), ...m.nodes].map((n) => [n.id, n.covers]));
  const ofPlace = (name: string): string[] => {
    const place = placeOn(ground, m, name);
    if (place === undefined) return [];
    return Array.isArray(place) ? place.flatMap((point) => nodes.get(point) ?? []) : place.covers;
  };
  const read = (file.measure?.reads ?? []).flatMap((r) => (r.across === undefined ? [] : ofPlace(r.across)));
  const lifted = m.lifts.find((l) => l.id === file.measure?.lift)?.node;
  const all = [...new Set([...read, ...(lifted === undefined ? [] : (nodes.get(lifted) ?? []))])];
  return all.filter((id) => !all.some((other) => liesInFront(ground.covers, id, other)));
}
function liesInFront(covers: ReadonlyMap<string, Cover>, front: string, of: string): boolean {
  const behind = covers.get(of)?.behind;
  // A cover behind itself is a problem of its own, told elsewhere.
  return behind !== undefined && behind !== of && (behind === front || liesInFront(covers, front, behind));
}

/** The fault as the engine has it: its weight on each machine that has one of its own, and on all others. */
export function resolveFault(file: FaultFile, machines: readonly MachineFile[]): Fault {
  const weight: Fault['weight'] = {};
  for (const [family, w] of Object.entries(file.weight)) weight[family] = { '*': w };
  for (const m of machines)
    for (const [family, by] of Object.entries(m.weights ?? {})) {
      const own = by[file.id];
      if (own !== undefined) weight[family] = { ...weight[family], [m.id]: own };
    }
  return { ...file, weight };
}
