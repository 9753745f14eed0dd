import { endKey } from '../next-check.ts';
import { over } from '../permits.ts';
import { refer } from '../referral.ts';
import type { Round } from '../round.ts';
import { evaluateSet, type Flat } from '../run-rules.ts';
import { type Step, toWriteOut } from './step.ts';

/** The end, where a rule of the set "conclusions" says that this is one: what it is, which faults it names, who should come. */
export const conclude: Step = async (round) => {
  const { knowledge, live, standing, says } = round;
  const flat = endFlat(round);
  const by = (await evaluateSet(over(knowledge, 'conclusions', 'case'), flat)).find((x) => x.truth === 'holds');
  if (!by) return says;
  const { conclusion, names } = by.rule.then;
  // A rule may name what was proved alone, whatever else is still possible behind it.
  const proved = standing === 'confirmed' || names === 'proved';
  const named = live.filter((w) => !proved || w.confirmedBy.length > 0 || live.length === 1);
  const { referral, trace } = await refer(
    knowledge,
    names === 'proved' ? named : live,
    { ...flat, conclusion },
    toWriteOut(round),
  );
  const { next: _, ...rest } = says;
  return {
    ...round,
    says: {
      ...rest,
      conclusion: { is: conclusion, faults: [...new Set((named.length ? named : live).flatMap((w) => w.faults))] },
      ...(referral && { referral }),
      trace: [...says.trace, { set: 'conclusions', rule: by.rule.id, truth: 'holds', saw: by.saw }, ...trace],
    },
  };
};

/** What the rules of the set "conclusions" see besides the case: how far the search has come, and how well what is left fits. */
function endFlat({ knowledge, flat, weighed, live, standing, toThePart, says }: Round): Flat {
  const say = (is: boolean) => (is ? 'yes' : 'no');
  const unlisted = weighed.find((w) => !w.faults.length)?.share ?? 0;
  return {
    ...flat,
    standing,
    ends_left: new Set(live.map((w) => endKey(knowledge, w.faults, toThePart))).size,
    to_the_part: say(toThePart),
    fewest_misreads: live[0]?.against.length ?? 0,
    next_left: say(says.next !== undefined),
    use_only: say(live.every((w) => w.faults.every((id) => knowledge.faults.get(id)!.side === 'use'))),
    confirmed_live: say(live.some((w) => w.confirmedBy.length > 0)),
    // Something not listed is as likely as the likeliest that still fits.
    unlisted_leads: say(unlisted >= Math.max(0, ...live.map((w) => w.share))),
  };
}
