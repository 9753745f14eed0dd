import { forMachine } from '../../../rules/index.ts';
import { spokenTo } from '../words/speaker.ts';
import type { Saying } from './said.ts';

/** The two points in words: the fact's own, else made from the names of the nodes. */
export function pointWords({ k, s, at }: Saying, fact: string, points: readonly [string, string]): string {
  const own = forMachine(s.words.facts[fact]?.points, at.hand.circuits[0]);
  // On a machine built otherwise the words of the drawing may name the wrong place: its own points are said.
  if (own && !at.p.circuits[0]?.moved) return spokenTo(own, s.audience);
  return s.say('between', {
    a: s.name(nodeName(k, at.p.circuits, points[0])),
    b: s.name(nodeName(k, at.p.circuits, points[1])),
  });
}

function nodeName(k: Saying['k'], circuits: Saying['at']['p']['circuits'], id: string): string {
  for (const c of circuits) {
    const node = c.nodes.find((n) => n.id === id);
    if (node) return node.name;
  }
  const supply = k.supply.nodes.find((n) => n.id === id);
  if (supply) return supply.name;
  for (const m of k.machines.values()) {
    const node = m.nodes.find((n) => n.id === id);
    if (node) return node.name;
  }
  return id;
}
