import { endKey } from '../../rules/engine/next-check.ts';
import { knowledge } from '../../rules/index.ts';
import type { Audience, Check } from '../../rules/types.ts';
import { createDryer } from '../dryer/create-dryer.ts';
import { everyWorld } from './every-world.ts';
import { type Answering, lead, type Outcome, type World } from './worlds.ts';

/** A world before the simulated dryer. `quiet`: the person says no to every danger, so that the search is put to the test. */
export interface Trial extends World {
  /** Picks among the likely answers and shifts the values a little; 0 = the likeliest. */
  seed: number;
  quiet: boolean;
}
const AUDIENCES: Audience[] = ['technician', 'homeowner', 'agent'];

/** Every fault of every complaint it can bring, on every machine, before one kind of person. */
export const trialsOf = (audience: Audience, seed = 0, quiet = false): Trial[] =>
  [...knowledge().families.keys()].flatMap((family) => everyWorld(family, audience).map((world) => ({ ...world, seed, quiet })));

/** One world a fault, drawn by the seed: its complaint, its machine and who stands before it; every second one a technician. */
export function sample(seed: number): Trial[] {
  const next = numbers(seed);
  const drawn = <T>(of: readonly T[]): T => of[Math.floor(next() * of.length)]!;
  const byFault = new Map<string, World[]>();
  for (const world of trialsOf('technician')) {
    const id = world.faults.join();
    byFault.set(id, [...(byFault.get(id) ?? []), world]);
  }
  // What no complaint weighs, because it is only made safe, can stand behind any of them.
  const machines = [...knowledge().machines.keys()];
  for (const fault of knowledge().faults.keys())
    if (!byFault.has(fault))
      byFault.set(
        fault,
        [...knowledge().families.keys()].map((family) => ({
          machine: drawn(machines),
          faults: [fault],
          audience: 'agent',
          family,
        })),
      );
  return [...byFault.values()].map((worlds) => {
    const audience = next() < 0.5 ? 'technician' : (AUDIENCES[1 + Math.floor(next() * 2)] ?? 'agent');
    const world = drawn(worlds);
    return { ...world, audience, seed: Math.floor(next() * 4), quiet: audience === 'technician' && next() < 0.3 };
  });
}

/** The dryer in the circuit simulator, with its fault as it shows under this complaint. */
export function refereeDryer({ machine, faults, family, seed, quiet }: Trial): Answering {
  const dryer = createDryer({ machine, faults, complaint: family, seed });
  return { answer: async (check) => ({ ...(await dryer.answer(check)), ...(quiet && denied(check)) }) };
}

function denied(check: Check): Record<string, string> {
  const facts = knowledge().facts;
  const none = check.choices?.none ?? {};
  return Object.fromEntries(Object.entries(none).filter(([fact]) => facts.get(fact)?.danger));
}

export const led = (trial: Trial): Promise<Outcome> => lead(trial, refereeDryer(trial));

/** What went wrong in one world, in words of the target: [] = as it should be. */
export function amiss(trial: Trial, o: Outcome): string[] {
  const out: string[] = [];
  if (o.wrongPart) out.push('wrong part');
  if (o.unsafeAsk) out.push('unsafe request');
  if (o.missedReferral && !trial.quiet && !onTheList(o)) out.push('missed referral');
  if (o.stuck) out.push('stuck');
  // Who denies every danger has hidden what tells some faults: there only harm counts.
  const right = trial.audience === 'technician' ? trial.quiet || o.right || handedOn(o) : onTheList(o);
  if (!right) out.push('not the right end');
  return out;
}

const trades = (o: Outcome) => knowledge().faults.get(o.world.faults[0]!)!.end.trades;
const onTheList = (o: Outcome): boolean => trades(o).some((trade) => o.end.referral?.trades.includes(trade));
/** After a danger nothing is read live: what only a live reading tells goes on to the trade, with the fault on the list. */
const handedOn = (o: Outcome): boolean => o.stopsSeen.length > 0 && onTheList(o) && (o.end.stops.length > 0 || namedAtAll(o));
const namedAtAll = (o: Outcome): boolean => {
  const k = knowledge();
  const truth = endKey(k, o.world.faults, true);
  return o.end.conclusion?.faults.some((fault) => endKey(k, [fault], true) === truth) ?? false;
};

/** One line a world: fault, complaint, machine and person, and where it ended. */
export const inWords = (t: Trial, o: Outcome): string =>
  `${t.faults} (${t.family}) on ${t.machine}, ${t.audience}${t.quiet ? ', quiet' : ''}, seed ${t.seed}: ${o.end.conclusion?.is ?? 'stopped'} ${o.end.conclusion?.faults ?? ''} -> ${o.end.referral?.trades ?? ''}`;

/** Numbers from 0 to 1, always the same for the same seed. */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
