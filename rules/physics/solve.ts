import { drawingOf, patternFor } from './drawing.ts';
import { buildNet, type Net, type NetBranch } from './net.ts';
import { type Complexes, complexes, type Eliminated, eliminate, inject, spread } from './star-mesh.ts';

/** Insulation of every node against the reference, so that a part cut off from everything still has a voltage. */
export const LEAK_S = 1e-10;
/** Between two points with more than this between them an ohmmeter shows nothing of use. */
const LIVE_V = 0.5;

export interface VoltsRead {
  /** What the meter shows. */
  volts: number;
  /** The same with no meter there. */
  open_v: number;
  /** Ω the meter looks back into. In the megohms the point floats: coupling between wires, not drawn here, decides what is shown. */
  source_ohm: number;
}
type Phasor = [re: number, im: number];

/** Solves a net once; every reading after that costs one pass at most. */
export const solve = (net: Net): Solved => new Solved(net);

/**
 * A net that is solved, and what a meter would show in it. Volts are V rms, phasors are taken at line frequency.
 * Everything is linear, so measured volts rescale it. `undefined` = this machine has no such point or branch.
 */
export class Solved {
  readonly net: Net;
  readonly #eliminated: Eliminated;
  readonly #index: ReadonlyMap<string, number>;
  /** The first node that is a source: those before it are free. */
  readonly #firstSource: number;
  #volts: Complexes | undefined;
  #motor: { start_v: number; run_v: number } | undefined | 'not yet' = 'not yet';

  constructor(net: Net) {
    const { index, sources } = drawingOf(net.supply, net.circuit);
    this.net = net;
    this.#index = index;
    this.#eliminated = factorize(net);
    this.#firstSource = this.#eliminated.pattern.nodes - sources;
  }

  has(node: string): boolean {
    return this.#index.has(node);
  }

  /** Phasor between two points with no meter there. */
  phasor(a: string, b: string): Phasor | undefined {
    const points = this.#points(a, b);
    return points && difference(this.#live(), ...points);
  }

  volts(a: string, b: string, input_ohm: number): VoltsRead | undefined {
    const points = this.#points(a, b);
    if (!points) return undefined;
    const open_v = length(difference(this.#live(), ...points));
    const [re, im] = this.#lookingBack(...points);
    return { volts: (open_v * input_ohm) / length([input_ohm + re, im]), open_v, source_ohm: length([re, im]) };
  }

  /** undefined also where the points are live. */
  ohms(a: string, b: string, over_range_ohm: number): number | 'open' | undefined {
    const points = this.#points(a, b);
    if (!points || length(difference(this.#live(), ...points)) > LIVE_V) return undefined;
    const [re] = this.#lookingBack(...points);
    return re > over_range_ohm ? 'open' : re;
  }

  amps(id: string): number | undefined {
    const branch = this.#branch(id);
    if (!branch) return this.net.open.includes(id) ? 0 : undefined;
    return length(difference(this.#live(), branch.from, branch.to)) / length([branch.re_ohm, branch.im_ohm]);
  }

  watts(id: string): number | undefined {
    const amps = this.amps(id);
    return amps === undefined ? undefined : amps * amps * (this.#branch(id)?.re_ohm ?? 0);
  }

  /** Volts across the drive motor as it starts and as it runs; the lower of all its windings. undefined = not a running state. */
  get motor(): { start_v: number; run_v: number } | undefined {
    if (this.#motor === 'not yet') this.#motor = this.#startAndRun();
    return this.#motor;
  }

  /** False in a running state = the motor does not start or does not stay up. */
  runs(least_v: number): boolean {
    const motor = this.motor;
    return motor !== undefined && motor.start_v >= least_v && motor.run_v >= least_v;
  }

  #startAndRun(): { start_v: number; run_v: number } | undefined {
    const { supply, circuit, state, options } = this.net;
    if (!state.running) return undefined;
    const run_v = this.#acrossWindings();
    if (!Number.isFinite(run_v)) return undefined;
    const starting = new Solved(buildNet(supply, circuit, state, { ...options, atSpeed: false }));
    return { start_v: starting.#acrossWindings(), run_v };
  }
  #acrossWindings(): number {
    const { circuit, state } = this.net;
    const windings = circuit.branches.filter((b) => b.kind === 'winding' && b.acIn?.includes(state.contactsAs));
    return Math.min(...windings.map((b) => length(this.phasor(b.a, b.b)!)));
  }

  #branch(id: string): NetBranch | undefined {
    return this.net.branches.find((b) => b.id === id);
  }
  #points(a: string, b: string): [number, number] | undefined {
    const from = this.#index.get(a);
    const to = this.#index.get(b);
    return from === undefined || to === undefined ? undefined : [from, to];
  }

  /** Volts of every node with no meter anywhere. */
  #live(): Complexes {
    if (!this.#volts) {
      const volts = complexes(this.#eliminated.pattern.nodes);
      for (const { node, re, im } of this.net.sources) {
        const at = 2 * this.#index.get(node)!;
        volts[at] = re;
        volts[at + 1] = im;
      }
      this.#volts = spread(this.#eliminated, volts);
    }
    return this.#volts;
  }

  /** Ω between two points with the sources at 0 V. */
  #lookingBack(a: number, b: number): Phasor {
    if (a === b) return [0, 0];
    const amps = complexes(this.#eliminated.pattern.nodes);
    if (a >= 0 && a < this.#firstSource) amps[2 * a] = 1;
    if (b >= 0 && b < this.#firstSource) amps[2 * b] = -1;
    return difference(inject(this.#eliminated, amps), a, b);
  }
}

const difference = (volts: Complexes, a: number, b: number): Phasor => [
  (a < 0 ? 0 : volts[2 * a]!) - (b < 0 ? 0 : volts[2 * b]!),
  (a < 0 ? 0 : volts[2 * a + 1]!) - (b < 0 ? 0 : volts[2 * b + 1]!),
];
// Not Math.hypot: that is many times slower, and nothing here comes near its limits.
const length = ([re, im]: readonly [number, number]): number => Math.sqrt(re * re + im * im);

/** The free nodes of a net taken out, one by one. */
function factorize(net: Net): Eliminated {
  const drawing = drawingOf(net.supply, net.circuit);
  const drawn = patternFor(drawing, []);
  const count = drawn.nodes;
  const extra = net.branches
    .filter(({ from, to }) => from >= 0 && to >= 0 && from !== to && drawn.slotOf[from * count + to] === -1)
    .map(({ from, to }): [number, number] => [from, to]);
  const pattern = extra.length ? patternFor(drawing, extra) : drawn;
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
