import table from './faults.json' with { type: 'json' };
import type { Edit } from './netlist.ts';
import positions from './netlists/positions.json' with { type: 'json' };

/** What one fault does to a drawing and to a person's eyes, ears and memory. Its key is the fault's id. */
export interface DryerFault {
  why?: string;
  /** Edits of the netlist: of one machine by its id, of a kind of machine by its attribute (`kinds` of positions.json), or of every machine. Not named = cannot have this fault. */
  on: Record<string, Edit[]>;
  /** Contacts that open once the dryer is hot (state run-high-hot). */
  hot?: string[];
  /** element -> the only states in which it is not held open. */
  openExcept?: Record<string, string[]>;
  /** element -> the only states in which it stands open. */
  openIn?: Record<string, string[]>;
  /** The motor is held fast and hums, or is dead and says nothing, whatever its volts; turns = as it should. */
  motor?: 'stuck' | 'dead' | 'turns';
  /** The fault cannot be with another cord. */
  hookup?: 'three-wire' | 'four-wire';
  /** The building has another supply. */
  system?: string;
  /** fact -> what the person truly sees, hears or remembers; of several the likeliest first, the seed picks one. */
  told?: Record<string, string | string[]>;
  /** fact -> why what is told first is none of the answers the knowledge gives the fault here, on purpose. */
  unlike?: Record<string, string>;
}
/** `in`: what is otherwise once it has come to this complaint; `others`: under any but the cold dryer. */
type Row = DryerFault & { in?: Record<string, Partial<DryerFault>> };

const TABLE = table as unknown as Record<string, Row>;
export const FAULTS: Record<string, DryerFault> = TABLE;

/** A fault as it stands under the complaint that brought the person here; undefined where there is none of that name. */
export function faultIn(id: string, complaint = 'no-heat'): DryerFault | undefined {
  const row = TABLE[id];
  if (!row?.in) return row;
  const others = complaint === 'no-heat' ? undefined : row.in.others;
  const here = row.in[complaint];
  return { ...row, ...others, ...here, told: { ...row.told, ...others?.told, ...here?.told } };
}

/** The names by which `on` may speak of a machine, the nearest first. */
export const namesFor = (machine: string): string[] => [
  machine,
  ...((positions.kinds as Record<string, string[]>)[machine] ?? []),
  'every',
];

/** What a fault does to a machine; undefined where the machine cannot have it. */
export function editsOf(id: string, machine: string, complaint?: string): Edit[] | undefined {
  const on = faultIn(id, complaint)?.on;
  const name = namesFor(machine).find((one) => on?.[one]);
  return name === undefined ? undefined : on?.[name];
}

/** Fault ids this machine can have. */
export const faultsOf = (machine: string): string[] => Object.keys(FAULTS).filter((id) => editsOf(id, machine));

/** Everything the table says of a fault under any complaint. */
export const toldAnywhere = (id: string): [fact: string, answer: string][] => {
  const row = TABLE[id];
  return [row?.told, ...Object.values(row?.in ?? {}).map((one) => one.told)].flatMap((told) =>
    Object.entries(told ?? {}).flatMap(([fact, answers]) => [answers].flat().map((answer): [string, string] => [fact, answer])),
  );
};
