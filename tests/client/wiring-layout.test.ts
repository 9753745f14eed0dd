import { describe, expect, test } from 'vitest';
import { describe as inWords } from '../../client/wiring/describe.ts';
import { layout } from '../../client/wiring/layout.ts';
import { strands } from '../../client/wiring/order.ts';
import { rowsOf } from '../../client/wiring/rows.ts';
import { endsOf, tracksOf } from '../../client/wiring/tracks.ts';
import type { Wiring, WiringBranch } from '../../client/wiring/types.ts';
import { wrap } from '../../client/wiring/wrap.ts';
import { redraw } from '../../rules/engine/variants.ts';
import { knowledge } from '../../rules/index.ts';
import type { Circuit } from '../../rules/types.ts';

const k = knowledge();

/** A machine as the page gets it, the first and last part of it read. */
function wiringFor(circuit: Pick<Circuit, 'title' | 'nodes' | 'branches' | 'lifts'>, hookup: 'three-wire' | 'four-wire'): Wiring {
  const how = k.supply.hookups.find((h) => h.id === hookup)!;
  const outside = [...k.supply.branches.filter((b) => !how.drop.includes(b.id)), ...how.add];
  const branch = (supply: boolean) => (b: Circuit['branches'][number]) => ({
    ...b,
    supply,
    closed: true,
    carries: b.kind === 'coil',
    suspects: [],
  });
  const coil = circuit.branches.find((b) => b.kind === 'coil') ?? circuit.branches[0]!;
  return {
    drawing: 'of this test',
    machine: circuit.title,
    likeliest: false,
    nodes: [...k.supply.nodes, ...circuit.nodes].map((n) => ({ ...n, live: n.id === 'L1' })),
    branches: [...outside.map(branch(true)), ...circuit.branches.map(branch(false))],
    reads: [{ fact: 'coil_ohms', label: 'Coil', points: [coil.a, coil.b], words: 'both ends' }],
    ...(circuit.lifts[0] && { lift: circuit.lifts[0] }),
    covers: ['rear panel'],
    stateWords: 'plug out',
    plugged: false,
  };
}

const invented = {
  title: 'An invented machine with a switch on the other side and a part on nothing',
  nodes: ['L1', 'L2', 'N', 'a', 'b', 'c', 'd', 'x', 'y', 'z'].map((id) => ({ id, name: `point ${id}`, covers: [] })),
  branches: (
    [
      ['p1', 'a', 'L2', 'contact'],
      ['p2', 'b', 'a', 'coil'],
      ['p3', 'b', 'L1', 'lead'],
      ['p4', 'b', 'a', 'resistor'],
      ['p5', 'c', 'N', 'winding'],
      ['p6', 'd', 'c', 'contact'],
      ['p7', 'b', 'd', 'contact'],
      ['p8', 'c', 'z', 'lead'],
      ['p9', 'x', 'y', 'resistor'],
    ] as const
  ).map(([id, a, b, kind]) => ({ id, a, b, kind, part: `part ${id}`, ohm: 1 })),
  lifts: [],
};
const machines: [string, typeof invented | Circuit][] = [
  ...[...k.machines.values()].map((m): [string, Circuit] => [m.id, m]),
  ...[...k.machines.values()].flatMap((m) =>
    (m.variants ?? []).map((v): [string, Circuit] => [`${m.id}, ${v.id}`, redraw(m, [v.id], k.supply.wire_ohm)]),
  ),
  ['an invented one', invented],
];

describe.each(machines)('%s', (_, machine) => {
  describe.each(['three-wire', 'four-wire'] as const)('%s', (hookup) => {
    const wiring = wiringFor(machine, hookup);
    const all = rowsOf(wiring, wiring.reads[0]);

    test('every part of the machine stands in one row, the supply down to the posts in stages', () => {
      const drawn = all.rows.flatMap((row) =>
        row.is === 'branch' ? [row.branch.id] : row.is === 'stage' ? row.branches.map((b) => b.id) : [],
      );
      expect(new Set(drawn).size).toBe(drawn.length);
      for (const b of machine.branches) expect(drawn).toContain(b.id);
      for (const id of ['svcA', 'brA', 'plugA', 'cordA', 'cordN']) expect(drawn).toContain(id);
      // Other loads of the house are no way to the dryer.
      expect(drawn).not.toContain('houseA');
      expect(drawn.includes('strap')).toBe(hookup === 'three-wire');
    });

    test('no two points lie on one track in the same row, and a line joins what belongs together', () => {
      const { of, count } = tracksOf(all);
      const taken = new Map<string, string>();
      const spans = new Map<string, [number, number]>();
      for (const [at, row] of all.rows.entries())
        for (const node of endsOf(row)) spans.set(node, [spans.get(node)?.[0] ?? at, at]);
      for (const [node, [from, to]] of spans) {
        const track = of.get(node)!;
        expect(track).toBeLessThan(count);
        // Where one string goes on from point to point both are met in that row: the part between them stands there.
        for (let row = from; row < to; row++) {
          const here = `${track}/${row}`;
          expect(taken.get(here), `${node} and ${taken.get(here)} in row ${row}`).toBeUndefined();
          taken.set(here, node);
        }
      }
      expect(count).toBeLessThanOrEqual(9);
    });

    test.each([300, 460])('%d px wide: nothing lies outside, no words lie on words', (width) => {
      const drawing = layout(wiring, wiring.reads[0], width);
      for (const { points } of drawing.wires)
        for (const [x, y] of points) expect([x >= 0, x <= width, y >= 0, y <= drawing.height]).toEqual([true, true, true, true]);
      const words = drawing.texts.filter((t) => t.kind !== 'post').toSorted((a, b) => a.y - b.y);
      for (const [i, t] of words.entries()) {
        expect(t.x + (t.lines[0]!.length - 1) * 6, t.lines[0]).toBeLessThan(width + 30);
        if (i > 0) expect(t.y - words[i - 1]!.y, t.lines[0]).toBeGreaterThanOrEqual(13);
      }
      expect(drawing.marks.filter((m) => m.kind === 'red' || m.kind === 'black')).toHaveLength(2);
      expect(drawing.marks.filter((m) => m.kind === 'lift')).toHaveLength(wiring.lift ? 1 : 0);
      expect(JSON.stringify(layout(wiring, wiring.reads[0], width))).toBe(JSON.stringify(drawing));
    });

    test('the words say where the leads go', () => {
      const { places, first, title } = inWords(wiring);
      const [red, black] = wiring.reads[0]!.points!.map((id) => wiring.nodes.find((n) => n.id === id)!.name);
      expect(title).toContain(machine.title);
      expect(places[0]!.words[0]).toContain(`Red lead: ${red}`);
      expect(places[0]!.words[1]).toContain(`Black lead: ${black}`);
      expect(first.join(' ')).toContain('Off first: rear panel');
      expect(first.join(' ').includes('Take off first')).toBe(wiring.lift !== undefined);
    });
  });
});

test('the heater string comes first and runs from leg to leg, the motor string from a leg to neutral', () => {
  for (const m of k.machines.values()) {
    const branches = wiringFor(m, 'four-wire').branches.filter((b) => !b.supply) as WiringBranch[];
    const [first, second] = strands(branches, ['L1', 'L2', 'N', 'G']);
    expect(first!.branches.some((b) => b.kind === 'coil')).toBe(true);
    expect(first!.branches[0]!.a).toBe('L1');
    expect([first!.branches.at(-1)!.a, first!.branches.at(-1)!.b]).toContain('L2');
    expect(second!.branches.some((b) => b.kind === 'winding')).toBe(true);
    expect([second!.branches.at(-1)!.a, second!.branches.at(-1)!.b]).toContain('N');
  }
});

test('words are wrapped between words only', () => {
  expect(wrap('one-shot thermal cut-off', 12)).toEqual(['one-shot', 'thermal', 'cut-off']);
  expect(wrap('one-shot thermal cut-off', 16)).toEqual(['one-shot thermal', 'cut-off']);
});
