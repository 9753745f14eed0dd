import type { Reading } from '../../../../rules/types.ts';
import { differByLeg } from '../../../place/place.ts';
import { readsOf } from '../../../place/reads.ts';
import { type Draft, takenAs } from '../../stand/notes.ts';
import type { Doorway } from '../door.ts';

/**
 * "That was the other side": what was read last goes to its partner; where the partner was read too, the two change places.
 * Only the last turn that measured is meant: older readings are put right by name.
 */
export function toOtherSide({ k, at }: Doorway, said: string): Draft[] {
  const measured = at.facts.readings.filter((r) => k.facts.get(r.fact)?.kind === 'quantity');
  const turnOf = (seq: number | undefined) => at.answers.find((a) => a.seq === seq)?.turn;
  const turn = turnOf(measured.at(-1)?.seq);
  for (const last of measured.filter((r) => turnOf(r.seq) === turn).reverse()) {
    const to = partner({ k, at }, last);
    if (to === undefined) continue;
    const other = measured.findLast((r) => r.fact === to);
    return [moved(last, to, said), ...(other ? [moved(other, last.fact, said)] : [])];
  }
  return [];
}

const moved = (r: Reading, to: string, said: string): Draft => ({
  act: 'correct',
  of: r.seq,
  fact: to,
  value: r.value,
  said,
  ...(r.check !== undefined && { check: r.check }),
  // It was the points that were mistaken.
  ...takenAs({ ...r, points: undefined }),
});

/** The reading of the same visit that a slip of the leads would have given: the other leg, the other end, the other of two. */
function partner({ k, at }: Pick<Doorway, 'k' | 'at'>, reading: Reading): string | undefined {
  const check = reading.check === undefined ? undefined : k.checks.get(reading.check);
  const reads = check ? readsOf(k, check, at.p.circuits[0]) : [];
  const own = reads.find((r) => r.fact === reading.fact);
  if (!own) return undefined;
  const others = reads.filter((r) => r.fact !== own.fact);
  const leg = others.find((r) => differByLeg(k, own.points, r.points));
  if (leg) return leg.fact;
  const [only, ...more] = others;
  return only && !more.length ? only.fact : undefined;
}
