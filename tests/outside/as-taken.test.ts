import { describe, expect, test } from 'vitest';
import { expectedAsTaken } from '../../rules/engine/as-taken.ts';
import { inside } from '../../rules/engine/bands.ts';
import { consult, fitsCircuit, foldCase, judgeOne, knowledge, prepare } from '../../rules/index.ts';
import type { Value } from '../../rules/types.ts';
import { answerOf, type Flat } from '../answers.ts';
import { createDryer } from '../dryer/create-dryer.ts';

/** Readings taken otherwise than a check says, held against ngspice (tests/dryer): the model must expect what the simulator shows. */
const k = knowledge();
const hand = {
  circuits: ['dial-single-coil'],
  plate: {},
  hookup: 'four-wire' as const,
  meter: [...k.meters.keys()][0]!,
  system: k.supply.systems[0]!.id,
};
const p = prepare(k, hand);
const dryer = (faults: string[]) => createDryer({ machine: 'dial-single-coil', faults, hookup: 'four-wire' });
const circuit = k.machines.get('dial-single-coil')!;
const shown = (v: unknown) => (v === 'OL' ? 'open' : v) as Value;

describe('any two points of a machine, in the state told', () => {
  // Which half of the coil burns through is not said: its middle is left out.
  const nodes = circuit.nodes.map((n) => n.id).filter((id) => id !== 'EM');
  const faults = [[], ['element-open'], ['thermal-cutoff-open'], ['high-limit-open'], ['element-grounded-mid']].filter((f) =>
    f.every((x) => k.faults.has(x)),
  );
  const state = 'unplugged-heat';
  test.each(faults)('ohms over every pair of nodes, unplugged: %s', async (...fault: string[]) => {
    const d = dryer(fault);
    let n = 0;
    for (const [i, a] of nodes.entries())
      for (const b of nodes.slice(i + 1)) {
        const read = shown(await d.tell('ohms_between', { what: 'ohms', points: [a, b], state, lowImpedance: false }));
        const [e] = expectedAsTaken(p, { fact: 'ohms_between', points: [a, b], state }, fault);
        expect(typeof e === 'object' && inside(read, e.band), `${a}-${b} reads ${read}, expected ${JSON.stringify(e)}`).toBe(
          true,
        );
        n++;
      }
    expect(n).toBeGreaterThan(40);
  });
});

const two = prepare(k, { ...hand, circuits: ['dial-two-coil'] });
test('a lead that was not lifted: what is read through the rest of the machine is what the model says is read', async () => {
  const lifted = [...k.checks.values()].filter(
    (c) =>
      fitsCircuit(c, k.machines.get('dial-two-coil')!.attributes) &&
      c.measure?.what === 'ohms' &&
      (c.measure.lift?.['dial-two-coil'] ?? c.measure.lift?.['*']),
  );
  expect(lifted.length).toBeGreaterThan(2);
  for (const c of lifted)
    for (const m of c.measure!.reads) {
      const points = m.points['dial-two-coil'] ?? m.points['*'];
      if (!points) continue;
      const read = shown(
        await createDryer({ machine: 'dial-two-coil', faults: ['element-coil-2-open'], hookup: 'four-wire' }).tell(m.fact, {
          what: 'ohms',
          points,
          state: c.state,
          lowImpedance: false,
        }),
      );
      const [e] = expectedAsTaken(two, { fact: m.fact, check: c.id, lifted: false }, ['element-coil-2-open']);
      expect(typeof e === 'object' && inside(read, e.band), `${c.id} ${m.fact}: ${read}, ${JSON.stringify(e)}`).toBe(true);
    }
});

describe('what a reading taken otherwise does to the case', () => {
  const told = (answers: Flat[]) =>
    consult(
      p,
      foldCase(
        k,
        { audience: 'technician', families: ['no-heat'], units: 'us', machine: hand },
        answers.map((a, i) => answerOf({ seq: i + 1, said: '', by: 'technician', ...a })),
      ),
    );
  const share = (c: Awaited<ReturnType<typeof told>>, id: string) =>
    c.suspects.filter((s) => s.faults.includes(id)).reduce((sum, s) => sum + s.share, 0);

  test('two points of the technician’s own choice are judged and weighed', async () => {
    const coil = { a: 'E1', b: 'E2' };
    const state = 'unplugged-off';
    const open = await told([{ fact: 'ohms_between', value: 'open', points: [coil.a, coil.b], state }]);
    expect(open.verdicts[0]).toMatchObject({ is: 'open' });
    expect(open.suspects[0]!.faults).toEqual(['element-open']);
    const good = await told([{ fact: 'ohms_between', value: 10.6, points: [coil.a, coil.b], state }]);
    expect(good.verdicts[0]).toMatchObject({ is: 'good' });
    expect(share(good, 'element-open')).toBeLessThan(share(open, 'element-open') / 10);
    // Another pair is another reading, not the same one again.
    const two = await told([
      { fact: 'ohms_between', value: 'open', points: [coil.a, coil.b], state },
      { fact: 'ohms_between', value: 'open', points: ['G', coil.b], state },
    ]);
    expect(two.verdicts.every((v) => v.standing !== 'doubted')).toBe(true);
  });

  test('a reading with the lead still on is no outcome of its check, and condemns nothing', async () => {
    const facts = (lifted: boolean) =>
      foldCase(
        k,
        { audience: 'technician', families: ['no-heat'], units: 'us' },
        (
          [
            ['coil_2_ohms', 'open'],
            ['coil_1_ohms', 21.2],
            ['coil_pair_ohms', 'open'],
          ] as const
        ).map(([fact, value], i) => {
          const how = { ...(!lifted && { lifted }) };
          return answerOf({ seq: i + 1, turn: 1, by: 'technician', fact, check: 'coil-ohms-two', value, ...how });
        }),
      );
    const by = async (lifted: boolean) =>
      (await consult(two, facts(lifted))).suspects.find((s) => s.faults[0] === 'element-coil-2-open')!.confirmedBy;
    expect(await by(true)).not.toEqual([]);
    expect(await by(false)).toEqual([]);
  });
});

test('one reading without a case: the meter setting told changes what it should show', async () => {
  const check = [...k.checks.values()].find(
    (c) => c.measure?.what === 'volts' && c.measure.reads.some((r) => r.classes.floating),
  )!;
  const fact = check.measure!.reads.find((r) => r.classes.floating)!.fact;
  const high = await judgeOne(p, { check: check.id, fact, value: 30, lowImpedance: false });
  const low = await judgeOne(p, { check: check.id, fact, value: 30, lowImpedance: true });
  expect(high.verdict.is).toBe('floating');
  expect(low.verdict.is).not.toBe('floating');
});
