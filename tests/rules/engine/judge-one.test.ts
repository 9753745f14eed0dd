import { expect, test } from 'vitest';
import { judgeOne, knowledge, prepare } from '../../../rules/index.ts';
import type { Expected } from '../../../rules/types.ts';

const k = knowledge();
const hand = { plate: {}, hookup: 'four-wire', meter: [...k.meters.keys()][0]!, system: k.supply.systems[0]!.id } as const;
const machines = [...k.machines.keys()];
const together = prepare(k, { ...hand, circuits: machines });
const alone = new Map(machines.map((id) => [id, prepare(k, { ...hand, circuits: [id] })]));

const reads = [...k.checks.values()].flatMap((check) => (check.measure?.reads ?? []).map((read) => ({ check, fact: read.fact })));

test('one reading has one healthy band for each machine it may be, that of the machine alone', async () => {
  expect(machines.length).toBeGreaterThan(1);
  const severally = new Set<string>();
  for (const { check, fact } of reads) {
    const { bands } = await judgeOne(together, { check: check.id, fact, value: 'open' });
    expect(new Set(bands.map((b) => b.machine)).size, `${check.id} ${fact}`).toBe(bands.length);
    const own = machines.flatMap((machine) =>
      alone
        .get(machine)!
        .expected(check.id, [])
        .flatMap((list) => (list === 'will-not-run' ? [] : (list as Expected[])))
        .filter((e) => e.fact === fact)
        .map(({ band }) => ({ machine, band })),
    );
    expect(bands, `${check.id} ${fact}`).toEqual(own);
    if (new Set(bands.map((b) => JSON.stringify(b.band))).size > 1) severally.add(fact);
  }
  // Machines differ: a band of the wrong one would show.
  expect(severally.size).toBeGreaterThan(0);
});
