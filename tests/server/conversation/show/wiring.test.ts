import { describe, expect, test } from 'vitest';
import { wiring as wiringShape } from '../../../../server/shapes/ask.ts';
import type { ExplainedReply as Reply, Wiring } from '../../../../server/types.ts';
import { Case, inWorld, k, talkOf } from '../parts.ts';

/** Every reply of a case led through a world with this fault. */
async function replies(audience: 'technician' | 'homeowner' | 'agent', fault: string, circuit?: string): Promise<Reply[]> {
  const c = await Case.open(talkOf(), audience);
  const seen: Reply[] = [];
  const take = c.take.bind(c);
  c.take = (turn) => {
    const reply = take(turn);
    seen.push(reply);
    return reply;
  };
  await inWorld(c, fault, circuit);
  return seen;
}
const wirings = (seen: Reply[]) => seen.flatMap(({ ask }) => (ask?.wiring ? [{ ask, wiring: ask.wiring }] : []));
const live = (w: Wiring) => w.nodes.filter((n) => n.live).map((n) => n.id);
const carrying = (w: Wiring) => w.branches.filter((b) => b.carries).map((b) => b.id);

describe.each([
  ['element-open', 'dial-single-coil'],
  ['thermal-cutoff-open', 'dial-single-coil'],
  ['supply-leg-lost-other-leg', 'dial-single-coil'],
])('a technician before %s', (fault, circuit) => {
  test('sees the circuit with every reading asked, and what is drawn is on it', async () => {
    expect(k.faults.has(fault)).toBe(true);
    const seen = await replies('technician', fault, circuit);
    const drawn = wirings(seen);
    expect(drawn.length).toBeGreaterThan(2);
    for (const { ask } of seen.flatMap((r) => (r.ask?.reads.length ? [{ ask: r.ask }] : []))) expect(ask.wiring).toBeDefined();
    for (const { ask, wiring } of drawn) {
      expect(wiringShape.safeParse(wiring).success).toBe(true);
      const nodes = new Set(wiring.nodes.map((n) => n.id));
      const branches = new Set(wiring.branches.map((b) => b.id));
      expect(wiring.reads.map((r) => r.fact)).toEqual(ask.reads.map((r) => r.fact));
      for (const b of wiring.branches) expect([nodes.has(b.a), nodes.has(b.b)], b.id).toEqual([true, true]);
      for (const r of wiring.reads) {
        for (const p of r.points ?? []) expect(nodes.has(p), p).toBe(true);
        if (r.clamp) expect(branches.has(r.clamp), r.clamp).toBe(true);
        expect(r.points ?? r.clamp, r.fact).toBeDefined();
      }
      for (const id of wiring.lift?.opens ?? []) expect(branches.has(id), id).toBe(true);
      const { plugged } = k.states.get(k.checks.get(ask.check)!.state)!;
      expect(wiring.plugged).toBe(plugged);
      // With the plug out the supply stays live as far as the outlet, and no further; nothing flows through the dryer.
      const supply = ['PA', 'PB', 'RA', 'RB', 'SA0', 'SB0'];
      if (!plugged) expect([live(wiring).sort(), carrying(wiring), wiring.offAt]).toEqual([supply, [], 'plug']);
    }
  });
});

test('at rest with the plug in only the legs are live; on heat current should flow round the whole string and the motor', async () => {
  const drawn = wirings(await replies('technician', 'element-open')).map(({ ask, wiring }) => [ask.check, wiring] as const);
  const of = (check: string) => drawn.find(([id]) => id === check)![1];
  const idle = of('supply-at-block-idle');
  expect(live(idle)).toEqual(expect.arrayContaining(['L1', 'L2', 'T1', 'ML']));
  for (const sound of ['N', 'G', 'T2', 'E1', 'MH', 'M2']) expect(live(idle)).not.toContain(sound);
  const heat = of('supply-at-block-heat');
  const string = [
    'cordA',
    'timer_heat',
    'cycling',
    'high_limit',
    'cutoff',
    'coil_a',
    'motor_heat',
    'cordB',
    'run_winding',
    'cordN',
  ];
  expect(carrying(heat)).toEqual(expect.arrayContaining(string));
  // Open at speed, or in parallel with a closed contact, or far too little for a clamp.
  for (const none of ['start_switch', 'start_contact', 'timer_motor_auto', 'cordG']) expect(carrying(heat)).not.toContain(none);
  expect(live(heat)).toEqual(expect.arrayContaining(['E1', 'EM', 'E2']));
  expect(live(heat)).not.toContain('N');
});

test('a suspect lies on the part it changes, and none is marked once it is ruled out', async () => {
  const drawn = wirings(await replies('technician', 'element-open'));
  const coil = drawn.map(({ wiring }) => wiring.branches.find((b) => b.id === 'coil_a')!.suspects.map((s) => s.label));
  expect(coil.some((labels) => labels.includes('element open'))).toBe(true);
  const legs = drawn.at(-1)!.wiring.branches.find((b) => b.id === 'cordB')!;
  expect(legs.suspects).toEqual([]);
});

test.each(['homeowner', 'agent'] as const)('a %s who does not measure is shown no place for a lead', async (audience) => {
  for (const fault of ['element-open', 'thermal-cutoff-open', 'supply-leg-lost-other-leg']) {
    const seen = await replies(audience, fault);
    expect(seen.length).toBeGreaterThan(5);
    expect(wirings(seen)).toEqual([]);
  }
});
