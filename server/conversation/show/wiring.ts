import { forMachine, withCoversInFront } from '../../../rules/index.ts';
import type { Branch, Check, Circuit, Effect, Knowledge, Prepared } from '../../../rules/types.ts';
import type { Ask, Drawing, Wiring } from '../../types.ts';
import type { Saying } from '../stand/said.ts';
import { newest } from '../stand/standing.ts';

/** What the circuit alone says of a check, the same on every turn of a case. */
interface Standing {
  live: Set<string>;
  closed: Set<string>;
  carries: Set<string>;
}
// Kept as long as the prepared machine is: a turn then pays for words only.
const kept = new WeakMap<Prepared, Map<string, Standing>>();

/** The likeliest circuit in hand with the supply it hangs on. */
interface Drawn {
  circuit: Circuit;
  hookup: string;
  all: { b: Branch; supply: boolean }[];
}
function drawnOf({ k, at }: Saying): Drawn | undefined {
  const circuit = at.p.circuits[0];
  if (!circuit) return undefined;
  const hookup = k.supply.hookups.find((h) => h.id === (at.hand.hookup === 'unknown' ? 'four-wire' : at.hand.hookup));
  const outside = [...k.supply.branches.filter((b) => !hookup?.drop.includes(b.id)), ...(hookup?.add ?? [])];
  const all = [...outside.map((b) => ({ b, supply: true })), ...circuit.branches.map((b) => ({ b, supply: false }))];
  return { circuit, hookup: hookup?.id ?? '', all };
}
const drawingId = ({ s }: Saying, { circuit, hookup }: Drawn): string =>
  [circuit.id, ...(circuit.redrawn ?? []), hookup, s.language].join(' ');

/** Points and parts of the likeliest circuit in hand; undefined = none is known. */
export function drawingOf(x: Saying): Drawing | undefined {
  const { k, s } = x;
  const drawn = drawnOf(x);
  return (
    drawn && {
      id: drawingId(x, drawn),
      nodes: [...k.supply.nodes, ...drawn.circuit.nodes].map(({ id, name, covers }) => ({
        id,
        name: s.name(name),
        covers: withCoversInFront(k, covers).map((c) => s.of('covers', c)),
      })),
      branches: drawn.all.map(({ b: { id, a, b, part, kind }, supply }) => ({ id, a, b, part: s.name(part), kind, supply })),
    }
  );
}

/**
 * The circuit in which a check is read, on the likeliest machine in hand: points, parts, what is live, what should carry
 * current, where the leads go, and which suspects lie where. undefined = nothing is read, or no circuit is known.
 */
export function wiringOf(x: Saying, check: Check, reads: Ask['reads']): Wiring | undefined {
  const { k, s, at } = x;
  const drawn = drawnOf(x);
  const drawing = drawingOf(x);
  const state = k.states.get(check.state);
  if (!drawn || !drawing || !state || !check.measure || reads.length === 0) return undefined;
  const { circuit, all } = drawn;
  const wiredIn = isWiredIn(x);
  const { live, closed, carries } = standing(at.p, check, all, wiredIn);
  const apart = wiredIn ? k.supply.wiredIn.off.filter((id) => !closed.has(id) && all.some(({ b }) => b.id === id)) : [];
  const places = suspectPlaces(x, circuit);
  const otherwise = (circuit.variants ?? []).filter((v) => circuit.redrawn?.includes(v.id)).map((v) => s.name(v.title));
  return {
    drawing: drawing.id,
    machine: s.name(circuit.title),
    ...(otherwise.length > 0 && { otherwise }),
    likeliest: at.p.circuits.length > 1,
    nodes: drawing.nodes.map((node) => ({ ...node, live: live.has(node.id) })),
    branches: drawing.branches.map((branch) => ({
      ...branch,
      kind: apart.includes(branch.id) ? ('contact' as const) : branch.kind,
      closed: closed.has(branch.id),
      carries: carries.has(branch.id),
      suspects: places.get(branch.id) ?? [],
    })),
    ...placesRead(x, check, circuit, reads, new Set(drawing.nodes.map((n) => n.id))),
    covers: withCoversInFront(k, forMachine(check.covers, circuit.id) ?? []).map((c) => s.of('covers', c)),
    stateWords: s.of('states', check.state),
    ...(apart.length > 0 && { apart }),
    plugged: state.plugged,
    ...(!state.plugged && { offAt: wiredIn ? 'breaker' : 'plug' }),
  };
}

/** Wired straight in there is no plug to pull: the breaker is off instead. */
const isWiredIn = ({ k, at }: Saying): boolean =>
  Object.entries(k.supply.wiredIn.knownBy).some(([fact, any]) => any.includes(String(newest(at.facts, fact)?.value)));

/** Where the leads or the clamp go, and the lead that comes off first. `here`: the points that are drawn. */
function placesRead(
  { s }: Saying,
  { measure }: Check,
  circuit: Circuit,
  reads: Ask['reads'],
  here: ReadonlySet<string>,
): Pick<Wiring, 'reads' | 'lift'> {
  const lift = circuit.lifts.find((l) => l.id === forMachine(measure?.lift, circuit.id));
  return {
    reads: reads.map(({ fact, label, points, pointWords }) => {
      const branch = forMachine(measure?.reads.find((r) => r.fact === fact)?.branch, circuit.id);
      const drawn = points?.every((p) => here.has(p)) ?? false;
      const place = measure?.what === 'amps' ? branch && { clamp: branch } : drawn && { points };
      return { fact, label, ...place, words: pointWords };
    }),
    ...(lift && { lift: { node: lift.node, opens: lift.opens, what: s.name(lift.what) } }),
  };
}

function standing(p: Prepared, check: Check, all: { b: Branch }[], wiredIn: boolean): Standing {
  const byCheck = kept.get(p) ?? new Map<string, Standing>();
  kept.set(p, byCheck);
  // The hook-up and the likeliest circuit are the prepared machine's own, so the check alone names it.
  const id = `${check.id} ${check.state} ${wiredIn}`;
  const had = byCheck.get(id);
  if (had) return had;
  const made = solved(p, check, all, wiredIn);
  byCheck.set(id, made);
  return made;
}

/** Live as far up as the supply reaches: with the plug out to the receptacle, with the breaker off to the panel. */
function solved(p: Prepared, check: Check, all: { b: Branch }[], wiredIn: boolean): Standing {
  const { knowledge: k } = p;
  const state = k.states.get(check.state)!;
  const { shut, off } = k.supply.wiredIn;
  const shutNow = (b: Branch): boolean => {
    if (wiredIn && shut.includes(b.id)) return true;
    if (wiredIn && !state.plugged && off.includes(b.id)) return false;
    return conducts(b, state.contactsAs, state.plugged);
  };
  const conducting = all.map(({ b }) => b).filter(shutNow);
  const closed = new Set(conducting.map((b) => b.id));
  const out: Standing = { live: liveOf(k, conducting), closed, carries: new Set() };
  // What flows above is the house's own: no way through the dryer to look for.
  if (!state.plugged) return out;
  const { counts, resolution } = (k.meters.get(p.machine.meter) ?? [...k.meters.values()][0]!).amps;
  for (const { b } of all) {
    const amps = out.closed.has(b.id) ? amps_a(p, b, check.state) : 0;
    // Less than a clamp could tell from nothing is no path to look for.
    if (amps > counts * resolution) out.carries.add(b.id);
  }
  return out;
}

/**
 * All that hangs on a leg, whatever it reads: the middle of the coil lies half way between the legs, shows nothing against
 * ground, and bites. Only what is tied to neutral by wire and closed contacts alone is left out.
 */
function liveOf(k: Knowledge, conducting: readonly Branch[]): Set<string> {
  const tied = reached(
    [k.supply.reference],
    conducting.filter((b) => b.kind === 'lead' || b.kind === 'contact'),
    new Set(),
  );
  return reached(k.supply.sources, conducting, tied);
}

function reached(from: readonly string[], by: readonly Branch[], never: ReadonlySet<string>): Set<string> {
  const out = new Set<string>();
  const add = (id: string): void => {
    if (out.has(id) || never.has(id)) return;
    out.add(id);
    for (const b of by) {
      if (b.a === id) add(b.b);
      if (b.b === id) add(b.a);
    }
  };
  from.forEach(add);
  return out;
}

/** Amps on the likeliest circuit, all sound; 0 where there are none. */
function amps_a(p: Prepared, { id, a, b }: Branch, state: string): number {
  const read = p.between('amps', [a, b], state, [], { branch: id })[0];
  return typeof read === 'object' && typeof read.centre === 'number' ? read.centre : 0;
}

const conducts = (b: Branch, contactsAs: string, plugged: boolean): boolean =>
  !(b.dcOnly && plugged) && (b.closedIn === undefined || b.closedIn.includes(contactsAs));

/** Branch -> the live suspects that change it. A fault between two points lies on the parts that end there. */
function suspectPlaces({ k, s, at }: Saying, circuit: Circuit): Map<string, { label: string; share: number }[]> {
  const out = new Map<string, { label: string; share: number }[]>();
  for (const u of at.c.suspects) {
    if (!u.live) continue;
    const one = { label: s.faults(u.faults), share: u.share };
    for (const id of new Set(u.faults.flatMap((f) => placesOf(k, circuit, f)))) out.set(id, [...(out.get(id) ?? []), one]);
  }
  for (const list of out.values()) list.sort((a, b) => b.share - a.share);
  return out;
}

function placesOf(k: Knowledge, circuit: Circuit, fault: string): string[] {
  const branch = (id: string) => circuit.aliases?.branches[id] ?? id;
  const from = (effect: Effect): string[] => {
    if ('branch' in effect) return [branch(effect.branch)];
    if ('contact' in effect) return [branch(effect.contact)];
    if ('touch' in effect) return [branch(effect.touch[0])];
    if ('scale' in effect) return [branch(effect.scale[0])];
    const ends = 'add' in effect ? [effect.add[0]] : 'join' in effect ? [...effect.join] : [];
    const nodes = ends.map((id) => circuit.aliases?.nodes[id] ?? id);
    return [...k.supply.branches, ...circuit.branches].filter((b) => nodes.includes(b.b)).map((b) => b.id);
  };
  return (k.faults.get(fault)?.effects ?? []).flatMap(from);
}
