import { type DryerFault, editsOf, faultIn } from './faults.ts';
import { type Edit, type Element, edit, nodesOf, readNetlist, write } from './netlist.ts';
import positions from './netlists/positions.json' with { type: 'json' };
import { between, type Solved, size, solve, through } from './spice.ts';

export type Hookup = 'three-wire' | 'four-wire';
export interface DryerOptions {
  machine: string;
  /** Fault ids of faults.json; [] = sound. */
  faults: readonly string[];
  /** The complaint that brought the person here, by the id of its family: a fault shows in the way that led to it. Absent = no-heat. */
  complaint?: string;
  /** Absent = the cord the fault needs, else four-wire. */
  hookup?: Hookup;
  /** What is done to the drawing besides the faults: the last word in every state. */
  edits?: readonly Edit[];
  /** Supply system of the building: split240 (default), wye208, wye220, same_leg, high_leg. A fault may bring its own. */
  system?: string;
  /** 0 = values as drawn. Any other number shifts supply, coil and house loads a little, and picks among equally true answers. */
  seed?: number;
  /** Distorts a reading on purpose: gets what was measured and the true value, gives what the person reports. */
  slip?: (measure: Measure, truth: number | 'open') => number | 'open';
}
export interface Measure {
  what: 'volts' | 'ohms' | 'amps';
  /** volts, ohms: the two nodes, by their id. */
  points?: readonly [string, string];
  /** amps: branch the clamp goes round: svcA, svcB, cordA, cordB, cordN, cordG. */
  branch?: string;
  state: string;
  /** volts only: 3 kΩ instead of 10 MΩ. */
  lowImpedance?: boolean;
  /** Id of the lead taken off: coil-2-lead, thermistor-plug. */
  lift?: string;
}
/** What the person says of a reading: V, Ω or A as the meter shows it; 'cannot' = it makes no sense here (ohms on a live machine, no such point). */
export type Shown = number | 'open' | 'will-not-run' | 'cannot';

const METER_OHM = 10e6;
const LOW_IMPEDANCE_OHM = 3000;
const LEADS_OHM = 0.2;
const OVER_RANGE_OHM = 40e6;
const LEAST_MOTOR_V = 90;
/** A in one leg at which a 30 A breaker lets go before anything can be read. */
const TRIPS_A = 45;

interface Positions {
  states: Record<string, { plug: 'in' | 'out'; motor: 'rest' | 'turns' }>;
  plugOut: string[];
  turns: { open: string[] };
  rest: { open: string[]; value: Record<string, string> };
  cold: Record<string, string>;
  machines: Record<string, Record<string, string[]>>;
  lifts: Record<string, Record<string, string[]>>;
  ammeters: Record<string, string>;
  systems: Record<string, [[number, number], [number, number]]>;
  hookups: Record<string, { without: string[] }>;
}
const POSITIONS = positions as unknown as Positions;
export const MACHINES = Object.keys(POSITIONS.machines);
export const STATES = Object.keys(POSITIONS.states);

/** What is fitted, and the same with what this cord does without. */
interface Drawing {
  drawing: Element[];
  whole: Element[];
}
const drawings = new Map<string, Drawing>();
/** Kept for the life of the process: the circuit without a meter, and what each meter showed. */
const solved = new Map<string, Promise<Solved>>();
const readings = new Map<string, number | 'open'>();

/** A dryer with its supply, as a circuit simulator sees it. Asks are asynchronous, for the simulator is. */
export interface Dryer {
  readonly machine: string;
  readonly faults: readonly string[];
  readonly complaint: string | undefined;
  readonly hookup: Hookup;
  readonly seed: number;
  measure(measure: Measure): Promise<Shown>;
  /** W in the coils; undefined where the motor would not run. */
  heat_w(state: string): Promise<number | undefined>;
  /** The motor turns in this running state. */
  runs(state: string): Promise<boolean>;
  /** The breaker lets go in this state. */
  trips(state: string): Promise<boolean>;
  /** What holds the motor, whatever its volts. */
  readonly motor: 'turns' | 'stuck' | 'dead';
  /** What the table says of one fault under this complaint. */
  fault(id: string): DryerFault | undefined;
  /** Volts on the motor as it is asked to start. */
  start_v(state: string): Promise<number>;
  /** Volts across two points with no meter in between. */
  volts(state: string, a: string, b: string): Promise<number>;
  has(node: string): boolean;
  /** The same dryer with one fault put right. */
  without(fault: string): Dryer;
}

export function buildDryer(options: DryerOptions): Dryer {
  const { machine, faults, complaint, seed = 0 } = options;
  const contacts = POSITIONS.machines[machine];
  if (!contacts) throw new Error(`no machine ${machine}; there are ${MACHINES.join(', ')}`);
  const own = faults.map((id) => {
    const fault = faultIn(id, complaint);
    const edits = editsOf(id, machine, complaint);
    if (!fault || !edits) throw new Error(`fault ${id} is not one of ${machine}`);
    return { ...fault, edits };
  });
  const system = own.find((fault) => fault.system)?.system ?? options.system ?? 'split240';
  const hookup = options.hookup ?? own.find((fault) => fault.hookup)?.hookup ?? 'four-wire';
  const wrong = own.find((fault) => fault.hookup && fault.hookup !== hookup);
  if (wrong) throw new Error(`a fault of ${wrong.hookup} cords on a ${hookup} one: ${faults}`);
  const holds = own.map(({ motor = 'turns' }) => motor).sort();
  const held = holds.find((motor) => motor !== 'turns') ?? 'turns';
  const { drawing, whole } = drawingOf(machine, hookup, system, seed);
  const nodes = nodesOf(drawing);
  const shows = own.map(({ edits, hot, openExcept, openIn }) => [edits, hot, openExcept, openIn]);
  const name = JSON.stringify([machine, [...faults].sort(), shows, hookup, system, seed, options.edits ?? []]);

  function elementsIn(state: string, lift?: string, starting = false, off = false): Element[] {
    const { plug, motor } = stateOf(state);
    const opened = [
      ...(contacts?.[state] ?? []),
      ...POSITIONS[motor].open,
      // The motor's heat contact cannot have closed before the motor turned, unless it is welded.
      ...(starting ? ['RmotorHeat'] : []),
      ...(plug === 'out' ? POSITIONS.plugOut : []),
      ...(off ? ['RpoleA', 'RpoleB'] : []),
    ];
    const drawn = (element: string) => drawing.some(({ name }) => name === element);
    const edits: Edit[] = [...new Set(opened)].filter(drawn).map((element) => ['open', element]);
    if (motor === 'rest')
      for (const [element, value] of Object.entries({ ...POSITIONS.rest.value, ...POSITIONS.cold }))
        if (drawn(element)) edits.push(['value', element, warp(element, value, seed)]);
    for (const fault of own) {
      if (state === 'run-high-hot') edits.push(...(fault.hot ?? []).map((element): Edit => ['open', element]));
      for (const [element, states] of Object.entries(fault.openExcept ?? {}))
        if (!states.includes(state)) edits.push(['open', element]);
      for (const [element, states] of Object.entries(fault.openIn ?? {}))
        if (states.includes(state)) edits.push(['open', element]);
    }
    for (const fault of own) edits.push(...fault.edits);
    edits.push(...(options.edits ?? []));
    // A weld beats a position, a part that failed open beats a weld.
    edits.push(...edits.filter((change) => change[0] === 'open' && own.some((fault) => opens(fault.edits, change[1]))));
    if (lift) edits.push(...liftOf(machine, lift).map((element): Edit => ['open', element]));
    return edit(drawing, edits, whole);
  }

  function run(
    state: string,
    extra: readonly Element[],
    analysis: 'ac' | 'op',
    lift?: string,
    starting = false,
    off = false,
  ): Promise<Solved> {
    const key = [name, state, analysis, lift ?? '', starting, off, JSON.stringify(extra)].join('|');
    const known = solved.get(key);
    if (known) return known;
    const text = analysis === 'ac' ? '.ac lin 1 60 60' : '.op';
    const answer = solve(write(key, [...elementsIn(state, lift, starting, off), ...extra], nodes, text));
    if (extra.length === 0) solved.set(key, answer);
    return answer;
  }

  /** Volts on the motor at the start: its heat contact has not closed yet. */
  const start_v = async (state: string) => size(between(await run(state, [], 'ac', undefined, true), 'M1', 'M2'));

  async function trips(state: string): Promise<boolean> {
    if (stateOf(state).plug === 'out') return false;
    const at = await run(state, [], 'ac');
    return ['VcordA', 'VcordB'].some((leg) => size(through(at, leg)) > TRIPS_A);
  }

  async function runs(state: string): Promise<boolean> {
    if (stateOf(state).motor === 'rest' || held !== 'turns' || (await start_v(state)) < LEAST_MOTOR_V) return false;
    if (await trips(state)) return false;
    return size(between(await run(state, [], 'ac'), 'M1', 'M2')) >= LEAST_MOTOR_V;
  }

  async function heat_w(state: string): Promise<number | undefined> {
    if (stateOf(state).motor === 'turns' && !(await runs(state))) return undefined;
    const at = await run(state, [], 'ac');
    return elementsIn(state)
      .filter((element) => element.name.startsWith('Rcoil'))
      .reduce((sum, { a, b, value }) => sum + size(between(at, a, b)) ** 2 / Number(value), 0);
  }

  /** A thermostat that is never warmed does not open, and a board that never saw heat goes on calling. */
  async function reached(state: string): Promise<string> {
    if (state !== 'run-auto-satisfied') return state;
    const warming = await heat_w('run-auto-heat');
    return warming !== undefined && warming < 100 ? 'run-auto-heat' : state;
  }

  /** The meter is part of the circuit while it reads: 10 MΩ or 3 kΩ across the pair, or 1 mA through it. */
  async function read({ what, points, branch, lift, lowImpedance }: Measure, state: string): Promise<number | 'open'> {
    const off = what !== 'ohms' && (await trips(state));
    if (what === 'amps') {
      const ammeter = POSITIONS.ammeters[branch ?? ''];
      if (!ammeter) throw new Error(`no ammeter for branch ${branch}; there are ${Object.keys(POSITIONS.ammeters).join(', ')}`);
      return round(size(through(await run(state, [], 'ac', lift, false, off), ammeter)), 0.1);
    }
    if (!points) throw new Error(`${what} need two points`);
    const [a, b] = points;
    if (what === 'volts') {
      const meter = { name: 'Rvoltmeter', a, b, value: String(lowImpedance ? LOW_IMPEDANCE_OHM : METER_OHM) };
      return round(size(between(await run(state, [meter], 'ac', lift, false, off), a, b)), 0.1);
    }
    const probe = { name: 'Iohmmeter', a: b, b: a, value: 'dc 0.001' };
    return ohmsShown(Math.abs(between(await run(state, [probe], 'op', lift), a, b).re) / 0.001 + LEADS_OHM);
  }

  async function measure(asked: Measure): Promise<Shown> {
    const { what, points } = asked;
    const { plug, motor } = stateOf(asked.state);
    if (what === 'ohms' && plug === 'in') return 'cannot';
    if (what !== 'amps' && points?.some((point) => !nodes.includes(point))) return 'cannot';
    if (motor === 'turns' && !(await runs(asked.state))) return 'will-not-run';
    const state = await reached(asked.state);
    const key = `${name} ${JSON.stringify([what, points, asked.branch, state, !!asked.lowImpedance, asked.lift])}`;
    let shown = readings.get(key);
    if (shown === undefined) {
      shown = await read(asked, state);
      readings.set(key, shown);
    }
    return options.slip ? options.slip(asked, shown) : shown;
  }

  return {
    machine,
    faults,
    complaint,
    hookup,
    seed,
    motor: held,
    fault: (id) => faultIn(id, complaint),
    measure,
    heat_w,
    runs,
    trips,
    start_v,
    volts: async (state, a, b) => size(between(await run(state, [], 'ac'), a, b)),
    has: (node) => nodes.includes(node),
    without: (fault) => buildDryer({ ...options, faults: faults.filter((id) => id !== fault) }),
  };
}

function stateOf(state: string) {
  const found = POSITIONS.states[state];
  if (!found) throw new Error(`no state ${state}; there are ${STATES.join(', ')}`);
  return found;
}
function liftOf(machine: string, lift: string): string[] {
  const elements = POSITIONS.lifts[machine]?.[lift];
  if (!elements) throw new Error(`${machine} has no lead ${lift} to take off`);
  return elements;
}
const opens = (edits: readonly Edit[], element: string) => edits.some((change) => change[0] === 'open' && change[1] === element);
const round = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(4));

/** 4000 counts: 0.1 Ω up to 400 Ω, then a decade more at each range. */
function ohmsShown(ohm: number): number | 'open' {
  if (ohm >= OVER_RANGE_OHM) return 'open';
  let step = 0.1;
  while (ohm >= step * 4000) step *= 10;
  return round(ohm, step);
}

function drawingOf(machine: string, hookup: Hookup, system: string, seed: number): Drawing {
  const key = [machine, hookup, system, seed].join('|');
  const known = drawings.get(key);
  if (known) return known;
  const legs = POSITIONS.systems[system];
  if (!legs) throw new Error(`no supply system ${system}; there are ${Object.keys(POSITIONS.systems).join(', ')}`);
  const without = POSITIONS.hookups[hookup]?.without;
  if (!without) throw new Error(`no hookup ${hookup}`);
  const supply = 1 + 0.012 * drift(seed, 'supply');
  const volts = ([v, degrees]: [number, number]) => [(v * supply).toFixed(3), String(degrees)] as const;
  const [va, ta] = volts(legs[0]);
  const [vb, tb] = volts(legs[1]);
  const filled = [...readNetlist('supply'), ...readNetlist(machine)].map((element) => ({
    ...element,
    value: warp(
      element.name,
      element.value.replace('{volts_a}', va).replace('{degrees_a}', ta).replace('{volts_b}', vb).replace('{degrees_b}', tb),
      seed,
    ),
  }));
  const drawing = edit(
    filled,
    without.map((element) => ['open', element]),
  );
  drawings.set(key, { drawing, whole: filled });
  return { drawing, whole: filled };
}

/** Coils 1.5 %, house loads 12 %: what differs from one house and one coil to the next. */
function warp(element: string, value: string, seed: number): string {
  const spread = element.startsWith('Rcoil') ? 0.015 : element.startsWith('Rhouse') ? 0.12 : 0;
  const about = element.startsWith('Rcoil') ? 'coil' : element;
  return seed === 0 || spread === 0 ? value : String(Number(value) * (1 + spread * drift(seed, about)));
}

/** A number from -1 to 1, always the same for the same seed and name. */
export function drift(seed: number, about: string): number {
  if (seed === 0) return 0;
  let hash = seed >>> 0;
  for (const letter of `${about}/${seed}`) hash = Math.imul(hash ^ letter.charCodeAt(0), 0x9e3779b1) >>> 0;
  hash = Math.imul(hash ^ (hash >>> 15), 0x85ebca6b) >>> 0;
  hash = (hash ^ (hash >>> 13)) >>> 0;
  return (hash / 0xffffffff) * 2 - 1;
}
