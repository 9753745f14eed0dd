import { limit } from '../knowledge/needed-limits.ts';
import { cold_ohm, coldBand_ohm, hot_ohm, hotBand_ohm, type Solved } from '../physics/index.ts';
import type { Circuit, Expected, Knowledge, Meter } from '../types.ts';
import type { Bare } from './bare-reading.ts';
import { fitsCircuit } from './fits.ts';
import type { MachineInHand } from './machine.ts';
import { atTemperature, sensorLimits } from './temperature.ts';
import { drawn } from './variants.ts';

/** An end of the spread of plate and parts: `low` draws most. */
export type Corner = 'low' | 'nominal' | 'high';
/** Ω of the whole heater as it glows and at rest. */
export type Coil = { hot_ohm: number; cold_ohm: number };

/** A machine to be computed: its circuits, what they are fed and read with, and all that was worked out of it so far. */
export interface Model {
  knowledge: Knowledge;
  machine: MachineInHand;
  /** Fitting circuits, sensors as at the temperatures told; the first is the likeliest. */
  circuits: Circuit[];
  /** Each of those as in any room, for a reading nobody told the temperature of. */
  inAnyRoom: ReadonlyMap<Circuit, Circuit>;
  meter: Meter;
  hookup: 'three-wire' | 'four-wire';
  /** By name of the circuit. */
  coils: ReadonlyMap<string, Record<Corner, Coil>>;
  had: {
    /** A solved net is several kB: only so many are kept. */
    nets: Map<string, Solved>;
    /** Of a check, by check, circuit and faults. */
    ofCheck: Map<string, Bare[] | 'will-not-run'>;
    /** Of any two points. */
    between: Map<string, Bare | 'will-not-run'>;
    expected: Map<string, (Expected[] | 'will-not-run')[]>;
  };
}

/** The machine in hand as a model, nothing worked out yet. */
export function modelOf(knowledge: Knowledge, machine: MachineInHand): Model {
  const sensors = sensorLimits(knowledge);
  const drawings = drawn(knowledge, machine);
  const circuits = drawings.map((c) => atTemperature(c, machine.temperatures, sensors, false));
  const inAnyRoom = new Map(drawings.map((c, i) => [circuits[i]!, atTemperature(c, undefined, sensors, true)]));
  return {
    knowledge,
    machine,
    circuits,
    inAnyRoom,
    meter: knowledge.meters.get(machine.meter) ?? [...knowledge.meters.values()][0]!,
    hookup: machine.hookup === 'unknown' ? knowledge.supply.hookups[0]!.id : machine.hookup,
    coils: new Map([...circuits, ...inAnyRoom.values()].map((c) => [nameOf(c), coilCorners(knowledge, c, machine.plate)])),
    had: { nets: new Map(), ofCheck: new Map(), between: new Map(), expected: new Map() },
  };
}

/** Two drawings of one machine are told apart by their variants. */
export const nameOf = (c: Pick<Circuit, 'id' | 'redrawn'>): string => [c.id, ...(c.redrawn ?? [])].join('+');

/** The circuits on which all of these faults can be. */
export const circuitsWith = ({ knowledge, circuits }: Model, faults: readonly string[]): Circuit[] =>
  circuits.filter((c) => faults.every((f) => fitsCircuit(knowledge.faults.get(f) ?? { fits: ['-'] }, c.attributes)));

/** Keeps what was made under a name, and forgets everything once there are more than so many. */
export function remembered<T>(all: Map<string, T>, most: number, name: string, make: () => T): T {
  const had = all.get(name);
  if (had !== undefined) return had;
  const made = make();
  if (all.size > most) all.clear();
  all.set(name, made);
  return made;
}

/** Ω of the whole heater at the corners of its rating. */
function coilCorners(k: Knowledge, c: Circuit, plate: MachineInHand['plate']): Record<Corner, Coil> {
  const volts = plate.volts ?? c.plate.volts;
  const motor = limit(k, 'motor-share-of-plate');
  const watts = plate.heater_w ?? (plate.total_w === undefined ? c.plate.heater_w : plate.total_w - (motor.lo + motor.hi) / 2);
  const rating = limit(k, 'rating-tolerance');
  const hot = hotBand_ohm(volts, watts, rating);
  const cold = coldBand_ohm(volts, watts, rating, limit(k, 'alloy-factor'));
  const nominal_ohm = hot_ohm(volts, watts);
  return {
    nominal: { hot_ohm: nominal_ohm, cold_ohm: cold_ohm(nominal_ohm, limit(k, 'alloy-factor-nominal').lo) },
    low: { hot_ohm: hot.lo, cold_ohm: cold.lo },
    high: { hot_ohm: hot.hi, cold_ohm: cold.hi },
  };
}
