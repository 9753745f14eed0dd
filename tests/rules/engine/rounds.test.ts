import { expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { usesPower } from '../../../rules/knowledge/touches.ts';
import { dryerFor } from '../../bench/every-world.ts';
import { type Answering, lead, type World } from '../../bench/worlds.ts';

const k = knowledge();
const isProof = (id: string) => k.checks.get(id)!.kind === 'proof';

/** The dryer of a world; each repair told leaves the next of `left` behind, and at the end nothing. */
function mended(world: World, ...left: string[][]): Answering {
  const stages = [world.faults, ...left, []].map((faults) => ({ faults, dryer: dryerFor({ ...world, faults }) }));
  let at = 0;
  return {
    async answer(check) {
      const { faults, dryer } = stages[at]!;
      const shown = await dryer.answer(check);
      if (check.settles.some((f) => k.facts.get(f)?.event === 'repair')) {
        at++;
        return { ...shown, repair_done: 'done' };
      }
      // What a proof shows by eye or hand: its first answer where nothing was left behind, else its second.
      if (check.kind === 'proof' && !check.measure)
        for (const fact of check.settles) shown[fact] = k.facts.get(fact)!.choices![faults.length ? 1 : 0]!;
      return shown;
    },
  };
}

test('a coil renewed is proved by every proof a technician may take, and only then is the job closed out', async () => {
  const world: World = { machine: 'dial-single-coil', faults: ['element-open'], audience: 'technician', family: 'no-heat' };
  const o = await lead(world, mended(world));
  expect(o.end.conclusion).toEqual({ is: 'confirmed', faults: ['element-open'] });
  const asked = o.asked.map((a) => a.check);
  const done = asked.indexOf('ask-repair-done');
  expect(done).toBeGreaterThan(0);
  // The cause behind the part is looked for before the repair, every proof after it.
  expect(o.asked.findLastIndex((a) => a.why === 'cause')).toBeLessThan(done);
  const proofs = asked.slice(done + 1);
  expect(proofs.length).toBeGreaterThan(3);
  expect(proofs.every(isProof)).toBe(true);
  expect(asked.slice(0, done).some(isProof)).toBe(false);
  const steps = o.end.followThrough;
  expect(steps.filter((s) => s.kind === 'proof').map((s) => s.state)).toEqual(
    steps.filter((s) => s.kind === 'proof').map(() => 'good'),
  );
  expect(steps.find((s) => s.kind === 'close-out')?.state).toBe('good');
});

test('a proof that fails opens the case again, with the part just renewed less likely and its old readings set aside', async () => {
  const world: World = { machine: 'dial-single-coil', faults: ['element-open'], audience: 'technician', family: 'no-heat' };
  // Behind the coil the cut-off had blown as well: it is found in the second round.
  const both: World = { ...world, faults: ['element-open', 'thermal-cutoff-open'] };
  const o = await lead(both, mended(both, ['thermal-cutoff-open']));
  const asked = o.asked.map((a) => a.check);
  const repairs = asked.flatMap((c, i) => (c === 'ask-repair-done' ? [i] : []));
  expect(repairs).toHaveLength(2);
  // What is known is not asked again: no danger list, no outlet, no supply; the coil, read before, is read anew only if it can tell.
  const second = asked.slice(repairs[0]! + 1, repairs[1]);
  expect(second.some((c) => c.startsWith('gate-') || c.startsWith('supply-'))).toBe(false);
  expect(second.filter((c) => c === 'limit-and-cutoff-ohms')).toHaveLength(2);
  expect(o.end.conclusion).toEqual({ is: 'confirmed', faults: ['thermal-cutoff-open'] });
  expect(o.end.followThrough.find((s) => s.kind === 'close-out')?.state).toBe('good');
});

test.each([
  ['dial-single-coil', ['thermal-cutoff-open', 'vent-duct-restricted']],
  ['dial-two-coil', ['thermal-cutoff-open', 'blower-wheel-loose']],
  ['dial-single-coil', ['terminal-block-burnt-other-leg']],
])(
  'what must not be used is not run for its cause before the repair, and is proved dead before it is run: %s %s',
  async (machine, faults) => {
    const world: World = { machine, faults, audience: 'technician', family: 'no-heat' };
    const o = await lead(world, mended(world), { maxTurns: 150 });
    const done = o.asked.findIndex((a) => a.check === 'ask-repair-done');
    expect(k.faults.get(faults[0]!)!.end.mayUse).toBe('no');
    expect(o.end.conclusion?.faults).toContain(faults[0]);
    expect(done).toBeGreaterThan(0);
    const powered = (a: (typeof o.asked)[number]) => usesPower(k.checks.get(a.check)!.touches);
    const found = o.asked.slice(0, done).filter((a) => a.why === 'cause' || a.why === 'proof');
    expect(found.filter(powered).map((a) => a.check)).toEqual([]);
    const after = o.asked.slice(done + 1);
    const firstRun = after.findIndex(powered);
    if (firstRun >= 0) expect(after.slice(firstRun).filter((a) => a.why === 'proof' && !powered(a))).toEqual([]);
    const due = o.end.followThrough.filter((s) => s.kind === 'proof' && s.state !== 'good');
    // Where a danger stood, what needs power waits: nothing but that.
    expect(due.every((s) => o.stopsSeen.length > 0 && usesPower(k.checks.get(s.item)!.touches))).toBe(true);
    expect(o.asked.slice(done + 1).some(powered)).toBe(o.stopsSeen.length === 0);
  },
);

test('"not yet" is not asked again, and nothing is proved before the repair', async () => {
  const world: World = { machine: 'dial-single-coil', faults: ['element-open'], audience: 'technician', family: 'no-heat' };
  const o = await lead(world, dryerFor(world), { told: (_, fact, value) => (fact === 'repair_done' ? 'not-yet' : value) });
  expect(o.asked.filter((a) => a.check === 'ask-repair-done')).toHaveLength(1);
  expect(o.asked.some((a) => a.check !== 'ask-repair-done' && isProof(a.check))).toBe(false);
  expect(o.end.followThrough.find((s) => s.kind === 'close-out')?.state).toBe('due');
});

test('three repairs whose proof failed end the case: it is handed on as not explained', async () => {
  const world: World = { machine: 'dial-single-coil', faults: ['element-open'], audience: 'technician', family: 'no-heat' };
  const o = await lead(world, mended(world, world.faults, world.faults, world.faults, world.faults, world.faults), {
    maxTurns: 150,
  });
  expect(o.asked.filter((a) => a.check === 'ask-repair-done')).toHaveLength(3);
  expect(o.end.conclusion).toEqual({ is: 'not explained', faults: [] });
  expect(o.end.next).toBeUndefined();
});
