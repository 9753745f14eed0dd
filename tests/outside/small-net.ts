import { buildNet, type Solved, solve } from '../../rules/physics/index.ts';
import type { Circuit, MachineState, SupplyModel } from '../../rules/types.ts';

/** Volts and degrees of the two legs against `N`; alike and opposite is a center tap. */
export interface Feed {
  a: [volts: number, degrees: number];
  b: [volts: number, degrees: number];
}
export const centerTap = (between_v: number): Feed => ({ a: [between_v / 2, 0], b: [between_v / 2, 180] });

/**
 * A handful of resistances between `A`, `B`, `N` and points of their own, solved by the very code that solves the dryer.
 * @param branches  id -> its two points and its Ω
 */
export function smallNet(feed: Feed, branches: Record<string, [a: string, b: string, ohm: number]>): Solved {
  const points = new Set(['A', 'B', 'N']);
  for (const [a, b] of Object.values(branches)) points.add(a).add(b);
  const nodes = [...points].map((id) => ({ id, name: id, covers: [] }));
  const supply: SupplyModel = {
    reference: 'N',
    cabinet: 'N',
    sources: ['A', 'B'],
    wire_ohm: 0.002,
    nodes,
    branches: [],
    systems: [{ id: 'feed', va: feed.a, vb: feed.b }],
    legPairs: [],
    scalePairs: [],
    hookups: [],
    wiredIn: { knownBy: {}, shut: [], off: [] },
  };
  const circuit: Circuit = {
    id: 'small-net',
    title: 'a small net',
    attributes: [],
    knownBy: {},
    prior: 1,
    plate: { volts: 240, heater_w: 5400 },
    nodes,
    branches: Object.entries(branches).map(([id, [a, b, ohm]]) => ({ id, a, b, ohm, part: id, kind: 'resistor' })),
    lifts: [],
  };
  const on: MachineState = { id: 'on', plugged: true, running: false, heatCalled: true, contactsAs: 'on', to: {} };
  return solve(buildNet(supply, circuit, on));
}
