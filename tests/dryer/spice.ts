import { Simulation } from 'eecircuit-engine';

export interface Phasor {
  re: number;
  im: number;
}
/** Node name or element name, as written in the netlist but in lower case -> volts or amps. */
export type Solved = Map<string, Phasor>;

/** The engine keeps every netlist it ever read, about 0.1 MB each: a new one now and then keeps the process at half a gigabyte. */
const RUNS_PER_ENGINE = 1500;

let simulation: Promise<Simulation> | undefined;
let last: Promise<unknown> = Promise.resolve();
let runs = 0;

/** How many netlists were solved since the start of the process. */
export const spiceRuns = (): number => runs;

async function started(): Promise<Simulation> {
  const one = new Simulation();
  await one.start();
  return one;
}

/**
 * Solves one netlist with ngspice: every node voltage and every current through a V source or a coil.
 * One run at a time: the engine holds one netlist. Throws what ngspice complained about, for it answers a bad netlist with an empty list.
 */
export function solve(netlist: string): Promise<Solved> {
  const run = last.then(async () => {
    if (!simulation || runs % RUNS_PER_ENGINE === 0) simulation = started();
    const engine = await simulation;
    engine.setNetList(netlist);
    const result = await engine.runSim();
    runs += 1;
    const complaints = engine.getError();
    if (complaints.length > 0 || result.data.length === 0) throw new Error(`ngspice: ${complaints.join(' | ')}\n${netlist}`);
    const solved: Solved = new Map();
    for (const { name, values } of result.data as { name: string; values: (number | { real: number; img: number })[] }[]) {
      const value = values[0] ?? 0;
      const key = name.replace(/^[vi]\((.*)\)$/, (whole, inner: string) => (whole.startsWith('v') ? inner : `#${inner}`));
      solved.set(key, typeof value === 'number' ? { re: value, im: 0 } : { re: value.real, im: value.img });
    }
    return solved;
  });
  last = run.catch(() => undefined);
  return run;
}

export function between(solved: Solved, a: string, b: string): Phasor {
  const from = node(solved, a);
  const to = node(solved, b);
  return { re: from.re - to.re, im: from.im - to.im };
}
/** Current through a 0 V source of the netlist, in A. */
export function through(solved: Solved, ammeter: string): Phasor {
  const amps = solved.get(`#${ammeter.toLowerCase()}`);
  if (!amps) throw new Error(`no ammeter ${ammeter} in this netlist`);
  return amps;
}
export const size = ({ re, im }: Phasor): number => Math.hypot(re, im);

function node(solved: Solved, name: string): Phasor {
  const volts = solved.get(name.toLowerCase());
  if (!volts) throw new Error(`no node ${name} in this netlist`);
  return volts;
}
