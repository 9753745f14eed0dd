import { permitted } from '../../rules/engine/permits.ts';
import { caseFlat, checkStanding, consult, foldCase, knowledge, machineInHand } from '../../rules/index.ts';
import type { Answer, Check, Trade, Value } from '../../rules/types.ts';
import { answerOf } from '../answers.ts';
import { dryerFor } from './every-world.ts';
import { ABOUT_THE_PERSON, type Outcome, preparedFor, type World } from './worlds.ts';

/**
 * The order of trades once every question this person may be asked has been asked: the best that can be known from here.
 * All that are open are asked in one breath, so the engine is heard once a round and not once a question.
 */
export async function everythingAsked(world: World): Promise<Trade[]> {
  const k = knowledge();
  const dryer = dryerFor(world);
  const answers: Answer[] = [];
  const opened = { audience: world.audience, families: [world.family], units: 'us' as const };
  for (;;) {
    const facts = foldCase(k, opened, answers);
    const hand = machineInHand(k, facts);
    const now = await consult(preparedFor(k, hand), facts);
    if (now.stops.length) return now.referral?.trades ?? [];
    const may = (await permitted(preparedFor(k, hand), facts, caseFlat(k, facts, hand), new Set(now.silenced))).checks;
    const open = may.map((m) => m.check).filter((c) => c.kind === 'worth' && checkStanding(k, facts, c) === 'open');
    const asked = now.next?.why === 'gate' ? [k.checks.get(now.next.check)!] : open;
    if (!asked.length) return now.referral?.trades ?? [];
    for (const check of asked) answers.push(...told(world, check, await dryer.answer(check), answers.length + 1));
  }
}

const told = (world: World, check: Check, shown: Record<string, unknown>, from: number): Answer[] =>
  check.settles.map((fact, i) => {
    const value = (ABOUT_THE_PERSON[fact] ?? shown[fact] ?? 'cannot') as Value;
    const base = { seq: from + i, turn: from + i, fact, check: check.id, said: String(value), by: world.audience };
    return answerOf(value === 'cannot' || value === 'will-not-run' ? { ...base, act: 'declined' } : { ...base, value });
  });

/** Places further down the list than the best that could be known: 0 = nothing lost by asking less. */
export async function regret(o: Outcome): Promise<number> {
  const truth = knowledge().faults.get(o.world.faults[0]!)!.end.trades[0]!;
  const place = (list: readonly Trade[]) => (list.includes(truth) ? list.indexOf(truth) : 99);
  return Math.max(0, place(o.end.referral?.trades ?? []) - place(await everythingAsked(o.world)));
}
