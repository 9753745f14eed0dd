import type { Check, CheckFile } from './check.ts';
import type { Cover } from './cover.ts';
import { curveIds } from './curves.ts';
import type { Fact } from './fact.ts';
import type { Fault, FaultFile } from './fault.ts';
import type { Loaded } from './loaded.ts';
import type { MachineFile } from './machine.ts';
import type { Caution } from './need.ts';
import type { Ref } from './ref.ts';
import { fitsMachine, type Ground, resolveCheck, resolveFault } from './resolve.ts';
import type { Stop } from './stop.ts';
import type { StopAct } from './stop-question.ts';
import type { SupplyFile } from './supply.ts';

/** What was read, by id, for the laws to look things up in. What could not be read is not here, but its name is known. */
export interface Shelf {
  loaded: Loaded;
  facts: ReadonlyMap<string, Fact>;
  checks: ReadonlyMap<string, Check>;
  faults: ReadonlyMap<string, Fault>;
  /** Every machine, or none: one that could not be read would look like one that is missing. */
  machines: readonly MachineFile[];
  supply: SupplyFile | undefined;
  ground: Ground;
  /** Ids of one kind, read or not. Kinds that hang on what stands around them (an answer of a fact) have none here. */
  names(of: Ref['to']): ReadonlySet<string>;
  list<T>(file: string): T[];
  fitting(fits: readonly string[]): MachineFile[];
}

// The names of a file that is not there: its absence is one problem already, so every name in it passes.
class AnyName extends Set<string> {
  override has(): boolean {
    return true;
  }
}

/** Kind of name -> the file whose items are called so. */
const FILE_OF: Partial<Record<Ref['to'], string>> = {
  fact: 'facts.json',
  finding: 'findings.json',
  family: 'families.json',
  fault: 'faults.json',
  repair: 'repairs.json',
  check: 'checks.json',
  state: 'states.json',
  cover: 'covers.json',
  need: 'needs.json',
  stop: 'stops.json',
};

export function shelfOf(loaded: Loaded): Shelf {
  const list = <T>(file: string) => (loaded.lists[file] ?? []) as T[];
  const byId = <T extends { id: string }>(items: readonly T[]) => new Map(items.map((item) => [item.id, item]));
  const read = Object.entries(loaded.singles).flatMap(([path, m]) => (path.startsWith('machines/') ? [m as MachineFile] : []));
  const machines = read.length === Object.keys(loaded.named).filter((p) => p.startsWith('machines/')).length ? read : [];
  const supply = loaded.singles['supply.json'] as SupplyFile | undefined;
  const ground: Ground = { machines, supply, covers: byId(list<Cover>('covers.json')) };
  const names = namesOf(loaded, machines, supply);
  return {
    loaded,
    facts: byId(list<Fact>('facts.json')),
    checks: byId(list<CheckFile>('checks.json').map((c) => resolveCheck(c, ground))),
    faults: byId(list<FaultFile>('faults.json').map((f) => resolveFault(f, machines))),
    machines,
    supply,
    ground,
    names: (of) => names[of] ?? new Set(),
    list,
    fitting: (fits) => machines.filter((m) => fitsMachine(fits, m)),
  };
}

function namesOf(loaded: Loaded, machines: readonly MachineFile[], supply: SupplyFile | undefined) {
  const ids = (items: unknown): Set<string> => new Set(((items as { id: string }[] | undefined) ?? []).map((x) => x.id));
  const out: Partial<Record<Ref['to'], ReadonlySet<string>>> = {};
  for (const [kind, file] of Object.entries(FILE_OF)) out[kind as Ref['to']] = loaded.named[file] ?? new AnyName();
  const { named, beside, lists } = loaded;
  out.limit = named['limits.json'] ? new Set([...named['limits.json'], ...(named['physics-limits.json'] ?? [])]) : new AnyName();
  out.caution = ids((beside.cautions as Caution[] | undefined) ?? []);
  out.act = ids((beside.acts as StopAct[] | undefined) ?? []);
  out.class = lists['stops.json'] ? new Set((lists['stops.json'] as Stop[]).map((s) => s.class)) : new AnyName();
  out.curve = new Set(curveIds());
  out.system = supply ? ids(supply.systems) : new AnyName();
  const whole = machines.length > 0 && supply !== undefined;
  out.machine = machines.length ? ids(machines) : new AnyName();
  out.attribute = machines.length ? new Set(machines.flatMap((m) => m.attributes)) : new AnyName();
  out.lift = machines.length ? ids(machines.flatMap((m) => m.lifts)) : new AnyName();
  const places = [...machines.map((m) => m.places), supply?.places ?? {}];
  out.place = whole ? new Set(places.flatMap((p) => Object.keys(p))) : new AnyName();
  return out;
}
