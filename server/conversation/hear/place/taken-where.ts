import { takenOf } from '../../../../rules/index.ts';
import type { CaseFacts, Check, Fact, Reading, Taken } from '../../../../rules/types.ts';
import type { Standing } from '../../stand/standing.ts';

/** Where and how a reading was taken, as told; one that may be taken anywhere is taken where it was asked for, unless told otherwise. */
export function takenWhere({ c: { next } }: Standing, fact: Fact, asked: Check | undefined, told: Taken): Taken | undefined {
  const askedThere = fact.anywhere && next?.points !== undefined && next.check === asked?.id;
  return takenOf({ ...(askedThere && { points: next.points, state: next.state }), ...takenOf(told) });
}

/** The reading told before that this one repeats or puts right. Read elsewhere, or in another state, it is another reading. */
export function readBefore(facts: CaseFacts, fact: Fact, taken: Taken = {}): Reading | undefined {
  const { points, state } = taken;
  return facts.readings.findLast(
    (r) =>
      r.fact === fact.id &&
      (!fact.anywhere ||
        points === undefined ||
        ((r.points?.every((id) => points.includes(id)) ?? false) && (state === undefined || r.state === state))),
  );
}
