import { describe, expect, test } from 'vitest';
import { endKey } from '../../rules/engine/next-check.ts';
import { knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { partOf } from '../whole.ts';
import { everyWorld } from './every-world.ts';
import { modelDryer } from './model-dryer.ts';
import { lead, type Outcome } from './worlds.ts';

const k = knowledge();
// A cold dryer has a referee of its own, the circuit simulator; here are the other complaints.
const families = [...k.families.keys()].filter((id) => id !== 'no-heat');

// Every third world of each, another third for each way to be asked; all of them in a whole run, and in the bench.
const led = (family: string, audience: Audience, quiet = false): Promise<Outcome[]> => {
  const third = families.indexOf(family) + ['technician', 'homeowner', 'agent'].indexOf(audience) + (quiet ? 1 : 0);
  const worlds = partOf(everyWorld(family, audience), 3, third);
  return Promise.all(worlds.map((w) => lead(w, modelDryer(w.machine, w.faults, w.family, { quiet }))));
};
const told = (o: Outcome): string =>
  `${o.world.faults} on ${o.world.machine}: ${o.end.conclusion?.is ?? 'stopped'} ${o.end.conclusion?.faults ?? ''}, ${o.end.referral?.trades}`;
const trades = (o: Outcome) => k.faults.get(o.world.faults[0]!)!.end.trades;
const onTheList = (o: Outcome) => trades(o).some((t) => o.end.referral?.trades.includes(t));
/** After a danger was made safe nothing is read live: what only a live reading tells goes on to the trade, with the fault on the list. */
const handedOn = (o: Outcome) =>
  o.stopsSeen.length > 0 &&
  onTheList(o) &&
  (o.end.stops.length > 0 || (o.end.conclusion?.faults.includes(o.world.faults[0]!) ?? false));

describe.each(families)('%s, by the model', (family) => {
  test('a technician ends at the right part on every machine, or stops for the danger', async () => {
    const all = await led(family, 'technician');
    expect(all.length).toBeGreaterThan(4);
    expect(all.filter((o) => !o.right && !handedOn(o)).map(told)).toEqual([]);
    expect(all.filter((o) => o.wrongPart || o.stuck || o.unsafeAsk || o.missedReferral).map(told)).toEqual([]);
  });

  test('a technician who is told of no danger is never led to a wrong part', async () => {
    const all = await led(family, 'technician', true);
    expect(all.filter((o) => o.wrongPart || o.stuck || o.unsafeAsk).map(told)).toEqual([]);
    const named = all.filter((o) =>
      o.end.conclusion?.faults.some((f) => endKey(k, [f], true) === endKey(k, o.world.faults, true)),
    );
    expect(named.length / all.length).toBeGreaterThan(0.7);
  });

  test.each(['homeowner', 'agent'] as const)('a %s hears of the right trade', async (audience) => {
    const all = await led(family, audience);
    expect(all.filter((o) => !onTheList(o)).map(told)).toEqual([]);
    expect(all.filter((o) => o.stuck || o.unsafeAsk || o.missedReferral).map(told)).toEqual([]);
    // A stop calls those who make it safe; without one the first trade is the one that mends it.
    expect(all.filter((o) => !o.stopsSeen.length && !o.end.referral!.trades.includes(trades(o)[0]!)).map(told)).toEqual([]);
  });
});
