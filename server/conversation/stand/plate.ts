import type { Knowledge, MachineInHand } from '../../../rules/types.ts';
import type { ProblemName } from '../words/names.ts';
import type { Put } from '../words/speaker.ts';

type Plate = MachineInHand['plate'];
export interface Wrong {
  code: ProblemName;
  put: Put;
}

// What a household dryer's plate can say at all; outside it is a slip of the pen, not a rare machine.
const VOLTS = { lo: 100, hi: 260 };
const WATTS = { lo: 300, hi: 10_000 };
const AMPS = { lo: 2, hi: 60 };
/** Plate amps are rounded up and watts count the motor too: more apart than this, one of the two is misread. */
const APART = 0.25;

/** The first thing about a plate that cannot be, or nothing. */
export function plateProblem(plate: Plate): Wrong | undefined {
  const { volts, total_w, heater_w, amps } = plate;
  const outside = (x: number | undefined, band: { lo: number; hi: number }) => x !== undefined && !(x >= band.lo && x <= band.hi);
  if (outside(volts, VOLTS)) return { code: 'plate-volts', put: { value: volts!, ...VOLTS } };
  for (const w of [total_w, heater_w]) if (outside(w, WATTS)) return { code: 'plate-watts', put: { value: w!, ...WATTS } };
  if (outside(amps, AMPS)) return { code: 'plate-amps', put: { value: amps!, ...AMPS } };
  if (total_w !== undefined && heater_w !== undefined && heater_w > total_w)
    return { code: 'plate-heater-above-total', put: { heater_w, total_w } };
  if (volts !== undefined && amps !== undefined && total_w !== undefined) {
    const w = volts * amps;
    if (Math.abs(w - total_w) > APART * Math.max(w, total_w))
      return { code: 'plate-amps-against-watts', put: { volts, amps, w: Math.round(w), total_w } };
  }
  return undefined;
}

/** A plate that tells amps and no watts tells watts all the same. */
export function withWatts(plate: Plate): Plate {
  const { volts, amps, total_w, heater_w } = plate;
  if (volts === undefined || amps === undefined || total_w !== undefined || heater_w !== undefined) return plate;
  return { ...plate, total_w: Math.round(volts * amps) };
}

export const plateKnown = ({ total_w, heater_w, amps }: Plate): boolean => (total_w ?? heater_w ?? amps) !== undefined;

/** What is known of a machine, checked against the knowledge; the first thing wrong, or nothing. */
export function machineProblem(k: Knowledge, m: Partial<MachineInHand>): Wrong | undefined {
  const list = (ids: Iterable<string>) => [...ids].join(', ');
  const circuit = m.circuits?.find((id) => !k.machines.has(id));
  if (circuit !== undefined) return { code: 'no-such-machine', put: { id: circuit, known: list(k.machines.keys()) } };
  const known = [...k.machines.values()].flatMap((c) => c.variants ?? []).map((v) => v.id);
  const variant = [...(m.variants ?? []), ...(m.maybe ?? [])].find((id) => !known.includes(id));
  if (variant !== undefined) return { code: 'no-such-variant', put: { id: variant, known: list(new Set(known)) } };
  const repair = m.repaired?.find((id) => !k.repairs.has(id));
  if (repair !== undefined) return { code: 'no-such-repair', put: { id: repair, known: list(k.repairs.keys()) } };
  if (m.meter !== undefined && !k.meters.has(m.meter))
    return { code: 'no-such-meter', put: { id: m.meter, known: list(k.meters.keys()) } };
  const systems = k.supply.systems.map((s) => s.id);
  if (m.system !== undefined && !systems.includes(m.system))
    return { code: 'no-such-system', put: { id: m.system, known: list(systems) } };
  if (m.leads_ohm !== undefined && !(m.leads_ohm >= 0 && m.leads_ohm <= 5)) return { code: 'leads', put: { value: m.leads_ohm } };
  return m.plate ? plateProblem(m.plate) : undefined;
}
