import type { Circuit, Knowledge } from '../../rules/types.ts';
import { type Pair, SUPPLY_ROLES, type SupplyRole, samePoints, supplyRole } from './place.ts';
import { type Read, readsOf } from './reads.ts';

/** What a fact's own place says of its numbers, for whoever hears them without a drawing in hand. */
export interface Listed {
  /** What it reads of the supply; undefined = nothing of it. */
  role?: SupplyRole;
  /** The state it is read in, where a number told of another state is none of it: the supply, the current, and the heat coil itself. */
  state?: string;
  /** Sound, the path is closed: a beep is an answer. */
  closedPath: boolean;
  /** Read through thousands of ohms: a bare small number may be kΩ. */
  kiloOhms: boolean;
}
const NOTHING: Listed = { closedPath: false, kiloOhms: false };

/** A meter shows kΩ from here on. */
const KILO_OHM = 1000;

/** By fact, every reading that some check asks for. Found in the checks' points, states and classes: nothing of it is listed twice. */
export type ListedPlaces = ReadonlyMap<string, Listed>;

const made = new WeakMap<Knowledge, ListedPlaces>();
export function listedPlaces(k: Knowledge): ListedPlaces {
  let places = made.get(k);
  if (!places) {
    places = placesIn(k);
    made.set(k, places);
  }
  return places;
}
export const listedAs = (places: ListedPlaces, fact: string | undefined): Listed => places.get(fact ?? '') ?? NOTHING;

/** The facts that read each place of the supply, in the order of the checks. */
export const factsOfSupply = (places: ListedPlaces): Record<SupplyRole, string[]> =>
  Object.fromEntries(
    SUPPLY_ROLES.map((role) => [role, [...places].flatMap(([fact, listed]) => (listed.role === role ? [fact] : []))]),
  ) as Record<SupplyRole, string[]>;

function placesIn(k: Knowledge): ListedPlaces {
  const out = new Map<string, Listed>();
  for (const check of k.checks.values())
    for (const circuit of k.machines.values())
      for (const read of readsOf(k, check, circuit)) {
        const had = out.get(read.fact);
        out.set(read.fact, had ? either(had, listed(k, circuit, read)) : listed(k, circuit, read));
      }
  return out;
}

function listed(k: Knowledge, circuit: Circuit, read: Read): Listed {
  const role = supplyRole(k.supply, read.points);
  const classes = read.check.measure?.reads.find((r) => r.fact === read.fact)?.classes ?? {};
  const closedPath = read.unit === 'Ω' && Object.hasOwn(classes, 'closed');
  const live = read.unit === 'A' || (read.unit === 'V' && (role !== undefined || isCoil(circuit, read.points)));
  return {
    ...(role && read.unit === 'V' && { role }),
    ...(live && { state: read.state }),
    closedPath,
    kiloOhms: read.unit === 'Ω' && !closedPath && throughKiloOhms(circuit, read.points),
  };
}
/** One fact on two machines. */
const either = (a: Listed, b: Listed): Listed => ({
  ...b,
  ...a,
  closedPath: a.closedPath || b.closedPath,
  kiloOhms: a.kiloOhms || b.kiloOhms,
});

/** Are these the two ends of a whole coil? */
function isCoil({ branches }: Circuit, points: Pair): boolean {
  const ends = branches.filter((b) => b.kind === 'coil').flatMap((b) => [b.a, b.b]);
  const outer = ends.filter((end) => ends.filter((other) => other === end).length === 1);
  return outer.length === 2 && samePoints(outer, points);
}

const throughKiloOhms = ({ branches }: Circuit, points: Pair): boolean =>
  branches.some((b) => b.kind === 'resistor' && b.ohm >= KILO_OHM && samePoints([b.a, b.b], points));
