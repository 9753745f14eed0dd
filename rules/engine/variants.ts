import type { Branch, Circuit, Knowledge, MachineInHand, Variant } from '../types.ts';
import { forMachine } from './case.ts';

/**
 * The circuits that may be the machine in hand: its drawing with the variants told, and, for each variant it may have or not, both drawings.
 * The id stays that of the drawing, for the points of a check go by it; a variant unknown to that drawing changes nothing.
 */
export function drawn(k: Knowledge, hand: Pick<MachineInHand, 'circuits' | 'variants' | 'maybe'>): Circuit[] {
  const out: Circuit[] = [];
  for (const id of hand.circuits) {
    const circuit = k.machines.get(id);
    if (!circuit) continue;
    let all = [redraw(circuit, hand.variants ?? [], k.supply.wire_ohm)];
    for (const maybe of hand.maybe ?? []) {
      if (!circuit.variants?.some((v) => v.id === maybe) || hand.variants?.includes(maybe)) continue;
      all = all.flatMap((c) => [c, redraw(circuit, [...(c.redrawn ?? []), maybe], k.supply.wire_ohm)]);
    }
    out.push(...all.map((c) => (all.length > 1 ? { ...c, prior: circuit.prior / all.length } : c)));
  }
  return out;
}

/**
 * One drawing with some of its variants carried out, in the order of the drawing's own list.
 * @param wire_ohm  of the wire that stands where a part is not there
 */
export function redraw(circuit: Circuit, ids: readonly string[], wire_ohm: number): Circuit {
  const variants = (circuit.variants ?? []).filter((v) => ids.includes(v.id));
  if (!variants.length) return circuit;
  const out = variants.reduce((c, v) => carriedOut(c, v, wire_ohm), circuit);
  return { ...out, redrawn: variants.map((v) => v.id) };
}

function carriedOut(c: Circuit, v: Variant, wire_ohm: number): Circuit {
  const gone = new Set(v.drop ?? []);
  const joined = new Set(v.joined ?? []);
  const branches = c.branches
    .filter((b) => !gone.has(b.id))
    .map((b): Branch => {
      const points = v.rewire?.[b.id];
      const moved = points ? { ...b, a: points[0], b: points[1] } : b;
      // A part that is not there where two leads meet: the points stay, the part is a piece of wire.
      return joined.has(b.id) ? { id: b.id, a: moved.a, b: moved.b, part: b.part, kind: 'lead', ohm: wire_ohm } : moved;
    });
  const moved = { ...c.moved };
  for (const [id, points] of Object.entries(v.rewire ?? {})) {
    const was = c.branches.find((b) => b.id === id);
    if (was) moved[`${was.a}|${was.b}`] = points;
  }
  return {
    ...c,
    moved,
    nodes: [...c.nodes, ...(v.nodes ?? [])],
    branches: [...branches, ...(v.add ?? [])],
    attributes: [...c.attributes.filter((a) => !v.loses?.includes(a)), ...(v.gains ?? [])],
  };
}

/** The two points of a reading on this machine: those of the drawing, or where the part went that lies between them. */
export function pointsOn(
  c: Pick<Circuit, 'id' | 'moved'>,
  by: Readonly<Record<string, [string, string]>>,
): [string, string] | undefined {
  const points = forMachine(by, c.id);
  if (!points || !c.moved) return points;
  const there = c.moved[points.join('|')];
  if (there) return there;
  const back = c.moved[[points[1], points[0]].join('|')];
  return back ? [back[1], back[0]] : points;
}
