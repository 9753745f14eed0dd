import { forMachine } from '../../../rules/index.ts';
import type { Reading } from '../../../rules/types.ts';
import { type Draft, takenAs } from '../stand/notes.ts';
import type { Doorway } from './door.ts';

type Pair = readonly [string, string];

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
  const machine = at.hand.circuits[0];
  const reads = (check?.measure?.reads ?? []).flatMap((r) => {
    const points = forMachine(r.points, machine);
    return points ? [{ fact: r.fact, points: points as Pair }] : [];
  });
  const own = reads.find((r) => r.fact === reading.fact);
  if (!own) return undefined;
  const others = reads.filter((r) => r.fact !== own.fact);
  const leg = others.find((r) => differsByLeg(k.supply.legPairs, own.points, r.points));
  if (leg) return leg.fact;
  const [only, ...more] = others;
  return only && !more.length ? only.fact : undefined;
}

function differsByLeg(legPairs: readonly Pair[], a: Pair, b: Pair): boolean {
  const [left, right] = [a.filter((p) => !b.includes(p)), b.filter((p) => !a.includes(p))];
  const [x, y] = [left[0], right[0]];
  return (
    left.length === 1 && right.length === 1 && legPairs.some((p) => (p[0] === x && p[1] === y) || (p[0] === y && p[1] === x))
  );
}
