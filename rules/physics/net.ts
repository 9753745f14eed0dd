import type { Branch, Circuit, Effect, MachineState, SupplyModel } from '../types.ts';
import { drawingOf } from './drawing.ts';
import { type Applied, applyEffects } from './effects.ts';
import { cold_ohm, hot_ohm } from './heating-wire.ts';

export interface NetOptions {
  /** Default the first of the supply. */
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

/** One resistance between two points, before it is numbered. */
interface Between {
  id: string;
  a: string;
  b: string;
  ohm: number;
  im_ohm?: number;
}
type Change = Applied['branches'] extends Map<string, infer C> ? C : never;

/**
 * Which branches conduct in a state, with what impedance, and what feeds them.
 * Pure: equal arguments give an equal net. Throws on an unknown supply system or lead, which the knowledge check rules out.
 */
export function buildNet(supply: SupplyModel, circuit: Circuit, state: MachineState, options: NetOptions = {}): Net {
  const applied = applyEffects(supply, circuit, options.effects ?? []);
  const lifted = liftedBranches(circuit, options.lifts ?? []);
  const { landed, shorts } = joined(supply, circuit, applied, options);
  const open: string[] = [];
  const conducting: Between[] = [];
  for (const branch of branchesOf(supply, circuit, options)) {
    const change = applied.branches.get(branch.id);
    if (lifted.has(branch.id) || !conducts(branch, change, state, options)) {
      open.push(branch.id);
      continue;
    }
    const [ohm, im_ohm] = changed(impedance(branch, circuit, state, options), change);
    const b = landed.get(branch.id) ?? branch.b;
    const touch = applied.touches.get(branch.id);
    if (touch) conducting.push(...touching(branch.id, branch.a, b, ohm, touch));
    else conducting.push({ id: branch.id, a: branch.a, b, ohm, im_ohm });
  }
  conducting.push(...[...applied.adds, ...shorts].map(([a, b, ohm], i) => ({ id: `add-${i}`, a, b, ohm })));
  const { index } = drawingOf(supply, circuit);
  const branches = conducting.map(
    ({ id, a, b, ohm, im_ohm = 0 }): NetBranch => ({
      id,
      a,
      b,
      re_ohm: ohm,
      im_ohm,
      from: index.get(a)!,
      to: index.get(b)!,
    }),
  );
  return { supply, circuit, state, options, branches, open, sources: sourcesOf(supply, applied, options) };
}

/** All branches there are under this hook-up, in the order of the files. */
function branchesOf(supply: SupplyModel, circuit: Circuit, options: NetOptions): Branch[] {
  const hookup = hookupOf(supply, options);
  const fixed = supply.branches.filter((b) => !hookup?.drop.includes(b.id));
  return [...fixed, ...(hookup?.add ?? []), ...circuit.branches];
}
const hookupOf = (supply: SupplyModel, options: NetOptions) =>
  options.hookup === undefined ? supply.hookups[0] : supply.hookups.find((h) => h.id === options.hookup);

function sourcesOf(supply: SupplyModel, applied: Applied, options: NetOptions): Net['sources'] {
  const id = applied.system ?? options.system ?? supply.systems[0]!.id;
  const system = supply.systems.find((s) => s.id === id);
  if (!system) throw new Error(`no supply system ${id}`);
  const scale = options.sourceScale ?? 1;
  return [system.va, system.vb].map(([volts, degrees], i) => ({
    node: supply.sources[i]!,
    re: scale * volts * Math.cos((degrees * Math.PI) / 180),
    im: scale * volts * Math.sin((degrees * Math.PI) / 180),
  }));
}

function liftedBranches(circuit: Circuit, ids: readonly string[]): Set<string> {
  const out = new Set<string>();
  for (const id of ids) {
    const lift = circuit.lifts.find((l) => l.id === id);
    if (!lift) throw new Error(`${circuit.id} has no lead ${id} to lift`);
    for (const branch of lift.opens) out.add(branch);
  }
  return out;
}

/** What joined terminals come to: conductors landed elsewhere (branch -> node), and wires laid from one terminal to another. */
function joined(
  supply: SupplyModel,
  circuit: Circuit,
  applied: Applied,
  options: NetOptions,
): { landed: ReadonlyMap<string, string>; shorts: Applied['adds'] } {
  const { machineNodes } = drawingOf(supply, circuit);
  const dropped = hookupOf(supply, options)?.drop ?? [];
  const landed = new Map<string, string>();
  const shorts: Applied['adds'] = [];
  for (const [at, on] of applied.joins) {
    // A conductor between plug and block that is joined elsewhere is landed there instead, not there as well.
    const conductor = supply.branches.find((b) => b.a === at && machineNodes.has(b.b));
    if (!conductor) shorts.push([at, on, supply.wire_ohm]);
    else if (!dropped.includes(conductor.id)) landed.set(conductor.id, on);
  }
  return { landed, shorts };
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

function conducts(branch: Branch, change: Change | undefined, state: MachineState, { atSpeed = true }: NetOptions): boolean {
  if (change?.open || (branch.dcOnly && state.plugged)) return false;
  if (change?.closed) return true;
  if (branch.atSpeed && !atSpeed) return false;
  if (change?.staysIn) return change.staysIn.includes(state.id);
  return branch.closedIn === undefined || branch.closedIn.includes(state.contactsAs);
}

const changed = ([re, im]: [number, number], change: Change | undefined): [re: number, im: number] => {
  const times = change?.times ?? 1;
  return change?.ohm === undefined ? [re * times, im] : [change.ohm * times, 0];
};

/** Hot over cold of a coil where nobody says more exactly. */
const HOT_OVER_COLD = 1.05;

function impedance(branch: Branch, circuit: Circuit, state: MachineState, options: NetOptions): [re: number, im: number] {
  if (branch.kind === 'coil' && branch.share !== undefined) {
    const hot = options.coil?.hot_ohm ?? hot_ohm(circuit.plate.volts, circuit.plate.heater_w);
    return [branch.share * (state.plugged ? hot : (options.coil?.cold_ohm ?? cold_ohm(hot, HOT_OVER_COLD))), 0];
  }
  if (branch.z_ohm && state.plugged && branch.acIn?.includes(state.contactsAs)) return branch.z_ohm;
  const spreadBy = options.parts === 'low' ? branch.tolerance?.[0] : options.parts === 'high' ? branch.tolerance?.[1] : 1;
  return [branch.ohm * (spreadBy ?? 1), 0];
}
