import { fitsCircuit, forMachine } from '../../../rules/index.ts';
import type { Knowledge } from '../../../rules/types.ts';
import type { Meaning } from '../../types.ts';
import type { Doorway } from './door.ts';

type Reading = Extract<Meaning, { is: 'reading' }>;
type Pair = readonly [string, string];

const same = (a: Pair, b: Pair): boolean => (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);

/** Do these two points read what was named? By the supply's own lists of pairs, not by the names of the points. */
function named(k: Knowledge, said: string, points: Pair): boolean {
  const { legPairs, scalePairs } = k.supply;
  switch (said) {
    case 'leg to leg':
      return legPairs.some((p) => same(p, points));
    case 'L1 to neutral':
      return scalePairs.some((p) => same(p, points));
    case 'L2 to neutral':
      return scalePairs.some(([motor, neutral]) =>
        legPairs.some((p) => p.includes(motor) && same([p[0] === motor ? p[1] : p[0], neutral], points)),
      );
    default:
      return false;
  }
}

/**
 * The facts that the points and the state told with a reading name, for a reading told beside the question.
 * The open question's own come alone where no state was told. undefined = neither points nor state were told.
 */
export function whereRead({ k, at, ask }: Doorway, act: Reading): string[] | undefined {
  const { pointsSaid, state } = act;
  if (pointsSaid === undefined && act.plugged === undefined && (state === undefined || !k.states.has(state))) return undefined;
  const machine = at.hand.circuits[0];
  const facts = [...k.checks.values()]
    .filter((c) => c.kind !== 'proof' && at.p.circuits.some((m) => fitsCircuit(c, m.attributes)))
    .filter((c) => state === undefined || c.state === state)
    .filter((c) => act.plugged === undefined || k.states.get(c.state)?.plugged === act.plugged)
    .flatMap((c) => c.measure?.reads ?? [])
    .filter((r) => k.facts.get(r.fact)?.unit === act.unit)
    .filter((r) => {
      const points = forMachine(r.points, machine);
      return points !== undefined && (pointsSaid === undefined || named(k, pointsSaid, points));
    })
    .map((r) => r.fact);
  const asked = state === undefined ? facts.filter((f) => ask?.reads.some((r) => r.fact === f)) : [];
  return [...new Set(asked.length > 0 ? asked : facts)];
}
