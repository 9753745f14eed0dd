import { describe, expect, test } from 'vitest';
import { buildNet, solve } from '../../../../rules/physics/index.ts';
import type { Circuit, Effect, MachineState } from '../../../../rules/types.ts';
import { wiringOf } from '../../../../server/conversation/show/wiring.ts';
import { preparedMemo } from '../../../../server/conversation/stand/prepared.ts';
import type { Saying } from '../../../../server/conversation/stand/said.ts';
import { stand } from '../../../../server/conversation/stand/standing.ts';
import { speaker } from '../../../../server/conversation/words/speaker.ts';
import type { Ask } from '../../../../server/types.ts';
import { k, words } from '../parts.ts';

const prepared = preparedMemo(k);
const SLOTS = ['four', 'three', 'direct-wired'] as const;
const ways = [...k.machines.values()].flatMap((m): [string, string | undefined][] => [
  [m.id, undefined],
  ...(m.variants ?? []).map((v): [string, string] => [m.id, v.id]),
]);
const measured = [...k.checks.values()].filter((c) => c.measure && c.measure.reads.length > 0);
const states = [...k.states.values()];

/** A technician's case of this machine, its hook-up told. */
async function caseOf(machine: string, variant: string | undefined, slots: string): Promise<Saying> {
  const settings = { machine: { circuits: [machine], ...(variant && { variants: [variant] }) } };
  const answers = [{ act: 'tell' as const, fact: 'slots', value: slots, said: '', seq: 1, turn: 1, by: 'technician' as const }];
  const at = await stand({ k, prepared }, { audience: 'technician', settings, answers });
  return { k, at, s: speaker(words, k, 'technician') };
}

/**
 * Points with volts against earth in some supply of those there are: in one alone the middle of a coil may lie at earth and bites
 * all the same. A neutral is pulled up by less than this; nothing that hangs on a leg, however loosely, stays below it.
 */
const BITES_V = 5;
function solvedLive(circuit: Circuit, state: MachineState, slots: string): Set<string> {
  const { supply } = k;
  const wired = slots === 'direct-wired';
  const effects: Effect[] = wired
    ? [
        ...['plugA', 'plugB', 'plugN', 'plugG'].map((branch): Effect => ({ branch, ohm: 'closed' })),
        ...(state.plugged ? [] : ['brA', 'brB'].map((branch): Effect => ({ branch, ohm: 'open' }))),
      ]
    : [];
  const out = new Set<string>();
  for (const { id: system } of supply.systems) {
    const hookup = slots === 'three' ? 'three-wire' : 'four-wire';
    const solved = solve(buildNet(supply, circuit, state, { hookup, system, effects }));
    for (const { id } of [...supply.nodes, ...circuit.nodes])
      if (Math.hypot(...solved.phasor(id, supply.reference)!) > BITES_V) out.add(id);
  }
  return out;
}
const drawnLive = (x: Saying, check: string, state: string): string[] => {
  const c = k.checks.get(check)!;
  const reads = c.measure!.reads.map((r): Ask['reads'][number] => ({
    fact: r.fact,
    label: r.fact,
    unit: 'V',
    points: ['L1', 'L2'],
    pointWords: '',
  }));
  return wiringOf(x, { ...c, state }, reads)!.nodes.flatMap((n) => (n.live ? [n.id] : []));
};

describe.each(ways)('%s, %s', (machine, variant) => {
  test.each(SLOTS)('slots %s: every point is drawn live where the circuit has volts, and nowhere else', async (slots) => {
    const x = await caseOf(machine, variant, slots);
    const circuit = x.at.p.circuits[0]!;
    expect(circuit.redrawn ?? []).toEqual(variant ? [variant] : []);
    for (const state of states) {
      const truth = [...solvedLive(circuit, state, slots)].sort();
      // Whatever is read, the state decides: each check in its own, and one in all the others.
      const checks = measured.filter((c) => c.state === state.id).map((c) => c.id);
      for (const check of checks.length ? checks : [measured[0]!.id])
        expect(drawnLive(x, check, state.id).sort(), `${check}, ${state.id}`).toEqual(truth);
    }
  });
});

test('with the plug out the supply is live down to the outlet; wired straight in, down to the panel', async () => {
  const outlet = ['PA', 'PB', 'RA', 'RB', 'SA0', 'SB0'];
  const check = 'supply-at-receptacle';
  const of = async (slots: string, state: string) =>
    drawnLive(await caseOf('dial-single-coil', undefined, slots), check, state).sort();
  expect(await of('four', 'unplugged-off')).toEqual(outlet);
  expect(await of('direct-wired', 'unplugged-off')).toEqual(['PA', 'PB', 'SA0', 'SB0']);
  expect(await of('direct-wired', 'idle-off')).toEqual(expect.arrayContaining(['RA', 'L1', 'L2']));
});

test('what parts the machine from the supply is said, and drawn open', async () => {
  const read: Ask['reads'] = [{ fact: 'coil_ohms', label: '', unit: 'Ω', points: ['E1', 'E2'], pointWords: '' }];
  for (const [slots, offAt, open] of [
    ['four', 'plug', 'plugA'],
    ['direct-wired', 'breaker', 'brA'],
  ] as const) {
    const w = wiringOf(await caseOf('dial-single-coil', undefined, slots), k.checks.get('coil-ohms')!, read)!;
    expect([w.plugged, w.offAt]).toEqual([false, offAt]);
    const there = w.branches.filter((b) => ['plugA', 'brA'].includes(b.id) && b.kind === 'contact' && !b.closed);
    expect(there.map((b) => b.id)).toEqual([open]);
  }
});
