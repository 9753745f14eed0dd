import type { Circuit, SupplyModel } from '../types.ts';
import { type Pattern, patternOf } from './star-mesh.ts';

/** The points of supply and machine as the solver numbers them. */
export interface Drawing {
  /** Node -> its number; -1 = the reference. The sources come last. */
  index: ReadonlyMap<string, number>;
  /** How many of the last are sources. */
  sources: number;
  machineNodes: ReadonlySet<string>;
  /** Pairs of numbers that some branch joins, the reference left out. */
  pairs: [number, number][];
  patterns: Map<string, Pattern>;
}

// The order of elimination hangs on the drawing alone: kept as long as the knowledge it was drawn from.
const drawings = new WeakMap<SupplyModel, WeakMap<Circuit, Drawing>>();

/** The same drawing for the same supply and circuit. */
export function drawingOf(supply: SupplyModel, circuit: Circuit): Drawing {
  let ofSupply = drawings.get(supply);
  if (!ofSupply) {
    ofSupply = new WeakMap();
    drawings.set(supply, ofSupply);
  }
  let drawing = ofSupply.get(circuit);
  if (!drawing) {
    drawing = draw(supply, circuit);
    ofSupply.set(circuit, drawing);
  }
  return drawing;
}

function draw(supply: SupplyModel, circuit: Circuit): Drawing {
  const index = new Map<string, number>([[supply.reference, -1]]);
  const free = [...supply.nodes, ...circuit.nodes].map((n) => n.id).filter((id) => !supply.sources.includes(id));
  for (const id of [...free, ...supply.sources]) if (!index.has(id)) index.set(id, index.size - 1);
  const branches = [...supply.branches, ...supply.hookups.flatMap((h) => h.add), ...circuit.branches];
  return {
    index,
    sources: supply.sources.length,
    machineNodes: new Set(circuit.nodes.map((n) => n.id)),
    pairs: branches.map((b): [number, number] => [index.get(b.a)!, index.get(b.b)!]).filter(([a, b]) => a >= 0 && b >= 0),
    patterns: new Map(),
  };
}

const PATTERNS_KEPT = 64;

/** The order in which the nodes of a drawing are taken out; `extra`: pairs that a fault joins besides. */
export function patternFor(drawing: Drawing, extra: readonly (readonly [number, number])[]): Pattern {
  const key = extra.map(([a, b]) => `${a}-${b}`).join(' ');
  let pattern = drawing.patterns.get(key);
  if (!pattern) {
    pattern = patternOf(drawing.index.size - 1, drawing.sources, [...drawing.pairs, ...extra]);
    if (drawing.patterns.size >= PATTERNS_KEPT) drawing.patterns.clear();
    drawing.patterns.set(key, pattern);
  }
  return pattern;
}
