import table from './faults.json' with { type: 'json' };
import type { Edit } from './netlist.ts';

/** What one fault does to a drawing and to a person's eyes, ears and memory. Its key is the fault's id. */
export interface DryerFault {
  why?: string;
  /** Edits of the netlist: of one machine by its id, of both dial machines, or of every machine. Not named = cannot have this fault. */
  on: Record<string, Edit[]>;
  /** Contacts that open once the dryer is hot (state run-high-hot). */
  hot?: string[];
  /** element -> the only states in which it is not held open. */
  openExcept?: Record<string, string[]>;
  /** The building has another supply. */
  system?: string;
  /** fact -> what the person truly sees, hears or remembers; of several, the seed picks one. */
  told?: Record<string, string | string[]>;
}

export const FAULTS = table as unknown as Record<string, DryerFault>;

/** What a fault does to a machine; undefined where the machine cannot have it. */
export function editsOf(id: string, machine: string): Edit[] | undefined {
  const on = FAULTS[id]?.on;
  return on?.[machine] ?? (machine.startsWith('dial') ? on?.dial : undefined) ?? on?.every;
}

/** Fault ids this machine can have. */
export const faultsOf = (machine: string): string[] => Object.keys(FAULTS).filter((id) => editsOf(id, machine));
