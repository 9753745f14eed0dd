import { permitted } from '../../rules/engine/permits.ts';
import { caseFlat, checkStanding, consult, foldCase, knowledge, machineInHand, prepare } from '../../rules/index.ts';
import type { Answer, Trade } from '../../rules/types.ts';
import { dryerFor } from './every-world.ts';
import { ABOUT_THE_PERSON, type Outcome, type World } from './worlds.ts';

/** The order of trades once every question this person may be asked has been asked: the best that can be known from here. */
export async function everythingAsked(world: World): Promise<Trade[]> {
  const k = knowledge();
  const dryer = dryerFor(world);
  const answers: Answer[] = [];
  const opened = { audience: world.audience, families: [world.family], units: 'us' as const };
  for (;;) {
    const facts = foldCase(k, opened, answers);
    const hand = machineInHand(k, facts);
    const p = prepare(k, hand);
    const now = await consult(p, facts);
    if (now.stops.length) return now.referral?.trades ?? [];
    const may = (await permitted(p, facts, caseFlat(k, facts, hand), new Set(now.silenced), false)).checks.map((m) => m.check);
    const gate = now.next?.why === 'gate' ? k.checks.get(now.next.check) : undefined;
    const check = gate ?? may.find((c) => c.kind === 'worth' && checkStanding(k, facts, c) === 'open');
    if (!check) return now.referral?.trades ?? [];
    const shown = await dryer.answer(check);
    for (const fact of check.settles) {
      const value = ABOUT_THE_PERSON[fact] ?? shown[fact] ?? 'cannot';
      const base = {
        seq: answers.length + 1,
        turn: answers.length + 1,
        fact,
        check: check.id,
        said: String(value),
        by: world.audience,
      };
      answers.push(
        value === 'cannot' || value === 'will-not-run' ? { ...base, act: 'declined' } : { ...base, act: 'tell', value },
      );
    }
  }
}

/** Places further down the list than the best that could be known: 0 = nothing lost by asking less. */
export async function regret(o: Outcome): Promise<number> {
  const truth = knowledge().faults.get(o.world.faults[0]!)!.end.trades[0]!;
  const place = (list: readonly Trade[]) => (list.includes(truth) ? list.indexOf(truth) : 99);
  return Math.max(0, place(o.end.referral?.trades ?? []) - place(await everythingAsked(o.world)));
}
