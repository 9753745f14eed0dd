import type { Circuit, Effect, SupplyModel } from '../types.ts';

/** Faults in the words of one machine: its own branches and nodes, each effect once. */
export interface Applied {
  /** Branch -> what became of it. An open stands above all; a later resistance above an earlier one; a weld above a wrong contact table. */
  branches: Map<string, { open?: true; ohm?: number; closed?: true; staysIn?: readonly string[]; times?: number }>;
  adds: [a: string, b: string, ohm: number][];
  joins: [a: string, b: string][];
  /** Branch -> where along it and through what it touches another point. */
  touches: Map<string, { at: number; to: string; ohm: number }>;
  system?: string;
}

const words = new WeakMap<SupplyModel, WeakMap<Circuit, { branches: Set<string>; nodes: Set<string> }>>();
function wordsOf(supply: SupplyModel, circuit: Circuit): { branches: Set<string>; nodes: Set<string> } {
  let of = words.get(supply);
  if (!of) {
    of = new WeakMap();
    words.set(supply, of);
  }
  let known = of.get(circuit);
  if (!known) {
    const added = supply.hookups.flatMap((h) => h.add);
    known = {
      branches: new Set([...supply.branches, ...added, ...circuit.branches].map((b) => b.id)),
      nodes: new Set([...supply.nodes, ...circuit.nodes].map((n) => n.id)),
    };
    of.set(circuit, known);
  }
  return known;
}

/** The machine's own name of a branch or node, by its aliases; undefined = this machine has no such thing. */
export function nameIn(supply: SupplyModel, circuit: Circuit, kind: 'branches' | 'nodes', id: string): string | undefined {
  const known = wordsOf(supply, circuit)[kind];
  if (known.has(id)) return id;
  const other = circuit.aliases?.[kind][id];
  return other !== undefined && known.has(other) ? other : undefined;
}

/** True if the effect names something this machine (or its supply) has; else it is void there. */
export function takesHold(supply: SupplyModel, circuit: Circuit, effect: Effect): boolean {
  const node = (id: string) => nameIn(supply, circuit, 'nodes', id) !== undefined;
  if ('branch' in effect) return nameIn(supply, circuit, 'branches', effect.branch) !== undefined;
  if ('contact' in effect) return nameIn(supply, circuit, 'branches', effect.contact) !== undefined;
  if ('add' in effect) return node(effect.add[0]) && node(effect.add[1]);
  if ('scale' in effect) return nameIn(supply, circuit, 'branches', effect.scale[0]) !== undefined;
  if ('touch' in effect) return nameIn(supply, circuit, 'branches', effect.touch[0]) !== undefined && node(effect.touch[2]);
  if ('join' in effect) return node(effect.join[0]) && node(effect.join[1]);
  return supply.systems.some((s) => s.id === effect.supply);
}

/** Void effects fall away; one said twice (by an alias and by its own name) counts once. */
export function applyEffects(supply: SupplyModel, circuit: Circuit, effects: readonly Effect[]): Applied {
  const out: Applied = { branches: new Map(), adds: [], joins: [], touches: new Map() };
  const of = (id: string) => {
    const b = out.branches.get(id) ?? {};
    out.branches.set(id, b);
    return b;
  };
  const node = (id: string) => nameIn(supply, circuit, 'nodes', id)!;
  for (const effect of effects) {
    if (!takesHold(supply, circuit, effect)) continue;
    if ('branch' in effect) {
      const b = of(nameIn(supply, circuit, 'branches', effect.branch)!);
      if (effect.ohm === 'open') b.open = true;
      else if (effect.ohm === 'closed') b.closed = true;
      else b.ohm = effect.ohm;
    } else if ('contact' in effect) {
      const b = of(nameIn(supply, circuit, 'branches', effect.contact)!);
      // Two faults on one contact: it closes only where both let it.
      b.staysIn = b.staysIn?.filter((s) => effect.staysIn.includes(s)) ?? effect.staysIn;
    } else if ('add' in effect) {
      const [a, b, ohm] = [node(effect.add[0]), node(effect.add[1]), effect.add[2]];
      if (!out.adds.some(([x, y, o]) => x === a && y === b && o === ohm)) out.adds.push([a, b, ohm]);
    } else if ('scale' in effect) {
      const b = of(nameIn(supply, circuit, 'branches', effect.scale[0])!);
      b.times = (b.times ?? 1) * effect.scale[1];
    } else if ('touch' in effect) {
      const [branch, at, to, ohm] = effect.touch;
      out.touches.set(nameIn(supply, circuit, 'branches', branch)!, { at, to: node(to), ohm });
    } else if ('join' in effect) {
      const [a, b] = [node(effect.join[0]), node(effect.join[1])];
      if (!out.joins.some(([x, y]) => x === a && y === b)) out.joins.push([a, b]);
    } else out.system = effect.supply;
  }
  return out;
}
