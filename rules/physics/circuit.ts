/**
 * The dryer and its supply as one network, and what a meter would show in it.
 *
 *   buildNet(supply, circuit, state, options) -> Net         which branches conduct, and with what impedance
 *   solve(net) -> Solved                                     one elimination; the rest is done when asked
 *     .has(node)                        -> boolean
 *     .volts(a, b, input_ohm)           -> { volts, open_v, source_ohm } | undefined   undefined = no such point here
 *     .ohms(a, b, over_range_ohm)       -> number | 'open' | undefined                 undefined = no such point, or points that are live
 *     .amps(branch), .watts(branch)     -> number | undefined                          undefined = no such branch here
 *     .motor                            -> { start_v, run_v } | undefined              undefined = not a running state
 *     .runs(least_v)                    -> boolean   false in a running state = the motor does not start or does not stay up
 *
 * Volts are V rms, phasors are taken at line frequency. Everything is linear, so measured volts rescale a solved net.
 */
import type { Branch, Circuit, Effect, MachineState, SupplyModel } from '../types.ts';
import { type Applied, applyEffects } from './effects.ts';
import { type Complexes, complexes, type Eliminated, eliminate, inject, type Pattern, patternOf, spread } from './star-mesh.ts';

/** Insulation of every node against the reference, so that a part cut off from everything still has a voltage. */
export const LEAK_S = 1e-10;
/** Between two points with more than this between them an ohmmeter shows nothing of use. */
const LIVE_V = 0.5;
/** A wire laid from one terminal to another. */
const JOIN_OHM = 0.002;

export interface NetOptions {
  /** Default four-wire. */
  hookup?: 'three-wire' | 'four-wire';
  /** Supply system id; default the first. A fault that brings its own supply stands above it. */
  system?: string;
  /** Ω of the whole heater of the plate, hot (plug in) and cold (plug out). Default V²/P of the plate, and that over 1.05. */
  coil?: { hot_ohm: number; cold_ohm: number };
  effects?: readonly Effect[];
  /** Which end of the part-to-part spread (Branch.tolerance) the other parts take. Default nominal. */
  parts?: 'low' | 'nominal' | 'high';
  /** Ids of leads taken off (Circuit.lifts). */
  lifts?: readonly string[];
  /** Multiplies the volts of both sources. Default 1. */
  sourceScale?: number;
  /** False while the motor starts: contacts that wait for its speed are open. Default true. */
  atSpeed?: boolean;
}

/** One branch that conducts. */
export interface NetBranch {
  id: string;
  a: string;
  b: string;
  re_ohm: number;
  im_ohm: number;
  /** Where its ends stand in the solver; -1 = the reference. */
  from: number;
  to: number;
}
export interface Net {
  supply: SupplyModel;
  circuit: Circuit;
  state: MachineState;
  options: NetOptions;
  /** Branches that conduct, in the order of the files, then added ones (`add-0`, …). */
  branches: NetBranch[];
  /** Branches that are there but do not conduct. */
  open: string[];
  /** Source node -> volts, real and imaginary. */
  sources: { node: string; re: number; im: number }[];
}

const SOURCES = ['SA0', 'SB0'] as const;

/** Pure: equal arguments give an equal net. Throws on an unknown supply system or lead, which the knowledge check rules out. */
export function buildNet(supply: SupplyModel, circuit: Circuit, state: MachineState, options: NetOptions = {}): Net {
  const applied = applyEffects(supply, circuit, options.effects ?? []);
  const systemId = applied.system ?? options.system ?? supply.systems[0]!.id;
  const system = supply.systems.find((s) => s.id === systemId);
  if (!system) throw new Error(`no supply system ${systemId}`);
  const lifted = new Set<string>();
  for (const id of options.lifts ?? []) {
    const lift = circuit.lifts.find((l) => l.id === id);
    if (!lift) throw new Error(`${circuit.id} has no lead ${id} to lift`);
    for (const branch of lift.opens) lifted.add(branch);
  }
  const hookup = supply.hookups.find((h) => h.id === (options.hookup ?? 'four-wire'));
  const scale = options.sourceScale ?? 1;
  const net: Net = {
    supply,
    circuit,
    state,
    options,
    branches: [],
    open: [],
    sources: [system.va, system.vb].map(([v, degrees], i) => ({
      node: SOURCES[i]!,
      re: scale * v * Math.cos((degrees * Math.PI) / 180),
      im: scale * v * Math.sin((degrees * Math.PI) / 180),
    })),
  };
  const { index, machineNodes } = drawingOf(supply, circuit);
  const landed = new Map<string, string>();
  const shorts: [string, string, number][] = [];
  for (const [at, on] of applied.joins) {
    // A conductor between plug and block that is joined elsewhere is landed there instead, not there as well.
    const conductor = supply.branches.find((b) => b.a === at && machineNodes.has(b.b));
    if (conductor && !hookup?.drop.includes(conductor.id)) landed.set(conductor.id, on);
    else if (!conductor) shorts.push([at, on, JOIN_OHM]);
  }
  const put = (branch: Branch): void => {
    const change = applied.branches.get(branch.id);
    if (lifted.has(branch.id) || change?.open || !conducts(branch, change, state, options.atSpeed ?? true)) {
      net.open.push(branch.id);
      return;
    }
    const [own, im] = change?.ohm === undefined ? impedance(branch, circuit, state, options) : [change.ohm, 0];
    const re = own * (change?.times ?? 1);
    const b = landed.get(branch.id) ?? branch.b;
    const touch = applied.touches.get(branch.id);
    for (const x of touch
      ? touching(branch.id, branch.a, b, re, touch)
      : [{ id: branch.id, a: branch.a, b, ohm: re, im_ohm: im }])
      net.branches.push({
        id: x.id,
        a: x.a,
        b: x.b,
        re_ohm: x.ohm,
        im_ohm: x.im_ohm ?? 0,
        from: index.get(x.a)!,
        to: index.get(x.b)!,
      });
  };
  for (const branch of supply.branches) if (!hookup?.drop.includes(branch.id)) put(branch);
  for (const branch of hookup?.add ?? []) put(branch);
  for (const branch of circuit.branches) put(branch);
  for (const [i, [a, b, ohm]] of [...applied.adds, ...shorts].entries())
    net.branches.push({ id: `add-${i}`, a, b, re_ohm: ohm, im_ohm: 0, from: index.get(a)!, to: index.get(b)! });
  return net;
}

interface Between {
  id: string;
  a: string;
  b: string;
  ohm: number;
  im_ohm?: number;
}
/** Ends of a branch are no points: the least that is left of it on either side of a touch. */
const LEAST_OHM = 1e-3;

/**
 * A branch that touches another point somewhere along itself: three resistances that show the same from all three (star to delta), so that
 * the drawing needs no point of its own there. Under its own id stands what is left from end to end; its amps are not those of the branch.
 */
function touching(
  id: string,
  a: string,
  b: string,
  whole_ohm: number,
  touch: { at: number; to: string; ohm: number },
): Between[] {
  const first = Math.max(LEAST_OHM, touch.at * whole_ohm);
  const second = Math.max(LEAST_OHM, (1 - touch.at) * whole_ohm);
  const sum = first * second + second * touch.ohm + touch.ohm * first;
  return [
    { id, a, b, ohm: sum / touch.ohm },
    { id: `${id}-first`, a, b: touch.to, ohm: sum / second },
    { id: `${id}-second`, a: b, b: touch.to, ohm: sum / first },
  ];
}

type Change = Applied['branches'] extends Map<string, infer C> ? C : never;

function conducts(branch: Branch, change: Change | undefined, state: MachineState, atSpeed: boolean): boolean {
  if (branch.dcOnly && state.plugged) return false;
  if (change?.closed) return true;
  if (branch.atSpeed && !atSpeed) return false;
  if (change?.staysIn) return change.staysIn.includes(state.id);
  return branch.closedIn === undefined || branch.closedIn.includes(state.contactsAs);
}

function impedance(branch: Branch, circuit: Circuit, state: MachineState, options: NetOptions): [re: number, im: number] {
  if (branch.kind === 'coil' && branch.share !== undefined) {
    const hot_ohm = options.coil?.hot_ohm ?? circuit.plate.volts ** 2 / circuit.plate.heater_w;
    return [branch.share * (state.plugged ? hot_ohm : (options.coil?.cold_ohm ?? hot_ohm / 1.05)), 0];
  }
  if (branch.z_ohm && state.plugged && branch.acIn?.includes(state.contactsAs)) return branch.z_ohm;
  const spreadBy = options.parts === 'low' ? branch.tolerance?.[0] : options.parts === 'high' ? branch.tolerance?.[1] : 1;
  return [branch.ohm * (spreadBy ?? 1), 0];
}

export interface VoltsRead {
  /** What the meter shows. */
  volts: number;
  /** The same with no meter there. */
  open_v: number;
  /** Ω the meter looks back into. In the megohms the point floats: coupling between wires, not drawn here, decides what is shown. */
  source_ohm: number;
}
export interface Solved {
  readonly net: Net;
  has(node: string): boolean;
  /** Phasor between two points with no meter there. */
  phasor(a: string, b: string): [re: number, im: number] | undefined;
  volts(a: string, b: string, input_ohm: number): VoltsRead | undefined;
  ohms(a: string, b: string, over_range_ohm: number): number | 'open' | undefined;
  amps(branch: string): number | undefined;
  watts(branch: string): number | undefined;
  /** Volts across the drive motor as it starts and as it runs; the lower of all its windings. */
  readonly motor: { start_v: number; run_v: number } | undefined;
  runs(least_v: number): boolean;
}

interface Drawing {
  index: Map<string, number>;
  machineNodes: Set<string>;
  pairs: [number, number][];
  patterns: Map<string, Pattern>;
}
// The order of elimination hangs on the drawing alone: kept as long as the knowledge it was drawn from.
const drawings = new WeakMap<SupplyModel, WeakMap<Circuit, Drawing>>();

function drawingOf(supply: SupplyModel, circuit: Circuit): Drawing {
  let of = drawings.get(supply);
  if (!of) {
    of = new WeakMap();
    drawings.set(supply, of);
  }
  let drawing = of.get(circuit);
  if (!drawing) {
    const index = new Map<string, number>([[supply.reference, -1]]);
    let next = 0;
    for (const { id } of [...supply.nodes, ...circuit.nodes])
      if (!index.has(id) && !SOURCES.some((s) => s === id)) index.set(id, next++);
    for (const source of SOURCES) index.set(source, next++);
    const all = [...supply.branches, ...supply.hookups.flatMap((h) => h.add), ...circuit.branches];
    const pairs = all.map((b): [number, number] => [index.get(b.a)!, index.get(b.b)!]).filter(([a, b]) => a >= 0 && b >= 0);
    drawing = { index, machineNodes: new Set(circuit.nodes.map((n) => n.id)), pairs, patterns: new Map() };
    of.set(circuit, drawing);
  }
  return drawing;
}
const PATTERNS_KEPT = 64;

function patternFor(drawing: Drawing, extra: readonly (readonly [number, number])[]): Pattern {
  const key = extra.map(([a, b]) => `${a}-${b}`).join(' ');
  let pattern = drawing.patterns.get(key);
  if (!pattern) {
    pattern = patternOf(drawing.index.size - 1, SOURCES.length, [...drawing.pairs, ...extra]);
    if (drawing.patterns.size >= PATTERNS_KEPT) drawing.patterns.clear();
    drawing.patterns.set(key, pattern);
  }
  return pattern;
}

function factorize(net: Net, drawing: Drawing): Eliminated {
  const base = patternFor(drawing, []);
  const count = base.nodes;
  const extra: [number, number][] = [];
  for (const { from, to } of net.branches)
    if (from >= 0 && to >= 0 && from !== to && base.slotOf[from * count + to] === -1) extra.push([from, to]);
  const pattern = extra.length ? patternFor(drawing, extra) : base;
  const between_s = complexes(pattern.slots);
  const toReference_s = complexes(count);
  for (let i = 0; i < count; i++) toReference_s[2 * i] = LEAK_S;
  for (const { from, to, re_ohm, im_ohm } of net.branches) {
    if (from === to) continue;
    const size = re_ohm * re_ohm + im_ohm * im_ohm;
    const target = from < 0 || to < 0 ? toReference_s : between_s;
    const at = 2 * (from < 0 ? to : to < 0 ? from : pattern.slotOf[from * count + to]!);
    target[at] = target[at]! + re_ohm / size;
    target[at + 1] = target[at + 1]! - im_ohm / size;
  }
  return eliminate(pattern, between_s, toReference_s);
}

// Not Math.hypot: that is many times slower, and nothing here comes near its limits.
const length = ([re, im]: readonly [number, number]): number => Math.sqrt(re * re + im * im);

/** Solves a net once; every reading after that costs one pass at most. */
export function solve(net: Net): Solved {
  const drawing = drawingOf(net.supply, net.circuit);
  const eliminated = factorize(net, drawing);
  const { index } = drawing;
  const count = eliminated.pattern.nodes;
  let all: Complexes | undefined;
  const live = (): Complexes => {
    if (!all) {
      all = complexes(count);
      for (const source of net.sources) {
        const at = 2 * index.get(source.node)!;
        all[at] = source.re;
        all[at + 1] = source.im;
      }
      spread(eliminated, all);
    }
    return all;
  };
  const difference = (volts: Complexes, a: number, b: number): [number, number] => [
    (a < 0 ? 0 : volts[2 * a]!) - (b < 0 ? 0 : volts[2 * b]!),
    (a < 0 ? 0 : volts[2 * a + 1]!) - (b < 0 ? 0 : volts[2 * b + 1]!),
  ];
  const isFree = (node: number): boolean => node >= 0 && node < count - SOURCES.length;
  const looking = (a: number, b: number): [number, number] => {
    if (a === b) return [0, 0];
    const amps = complexes(count);
    if (isFree(a)) amps[2 * a] = 1;
    if (isFree(b)) amps[2 * b] = -1;
    return difference(inject(eliminated, amps), a, b);
  };
  const pair = (a: string, b: string): [number, number] | undefined => {
    const from = index.get(a);
    const to = index.get(b);
    return from === undefined || to === undefined ? undefined : [from, to];
  };
  const branchOf = (id: string) => net.branches.find((b) => b.id === id);
  const amps = (id: string): number | undefined => {
    const b = branchOf(id);
    if (!b) return net.open.includes(id) ? 0 : undefined;
    return length(difference(live(), b.from, b.to)) / length([b.re_ohm, b.im_ohm]);
  };
  const acrossMotor = (solved: Pick<Solved, 'phasor'>): number => {
    let least = Number.POSITIVE_INFINITY;
    for (const b of net.circuit.branches)
      if (b.kind === 'winding' && b.acIn?.includes(net.state.contactsAs))
        least = Math.min(least, length(solved.phasor(b.a, b.b)!));
    return least;
  };
  let motor: Solved['motor'];
  let motorKnown = false;
  const solved: Solved = {
    net,
    has: (node) => index.has(node),
    phasor: (a, b) => {
      const points = pair(a, b);
      return points && difference(live(), ...points);
    },
    volts: (a, b, input_ohm) => {
      const points = pair(a, b);
      if (!points) return undefined;
      const open_v = length(difference(live(), ...points));
      const [re, im] = looking(...points);
      return { volts: (open_v * input_ohm) / length([input_ohm + re, im]), open_v, source_ohm: length([re, im]) };
    },
    ohms: (a, b, over_range_ohm) => {
      const points = pair(a, b);
      if (!points || length(difference(live(), ...points)) > LIVE_V) return undefined;
      const [re] = looking(...points);
      return re > over_range_ohm ? 'open' : re;
    },
    amps,
    watts: (id) => {
      const through = amps(id);
      return through === undefined ? undefined : through * through * (branchOf(id)?.re_ohm ?? 0);
    },
    get motor() {
      if (!motorKnown) {
        motorKnown = true;
        if (net.state.running) {
          const run_v = acrossMotor(solved);
          const starting = solve(buildNet(net.supply, net.circuit, net.state, { ...net.options, atSpeed: false }));
          if (Number.isFinite(run_v)) motor = { start_v: acrossMotor(starting), run_v };
        }
      }
      return motor;
    },
    runs: (least_v) => {
      const { motor: m } = solved;
      return m !== undefined && m.start_v >= least_v && m.run_v >= least_v;
    },
  };
  return solved;
}
