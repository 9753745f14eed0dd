import type { Meaning } from '../../../types.ts';
import type { Option } from '../../stand/option.ts';
import type { Doorway } from '../door.ts';
import { whereRead } from './where-read.ts';

type Reading = Extract<Meaning, { is: 'reading' }>;

/**
 * Readings told in one sentence were taken at one place. Where that place is not certain ("240 at the block, 120 each leg": at rest,
 * or with heat?) it is asked once, for all of them together.
 * @returns `rest`: the acts to take one by one; `which`: the places to choose from, each with all the readings
 */
export function togetherRead(
  d: Doorway,
  acts: readonly Meaning[],
): { rest: readonly Meaning[]; which?: { question: undefined; options: Option[] } } {
  const loose = acts.filter((a): a is Reading => a.is === 'reading' && a.fact === undefined && a.pointsSaid !== undefined);
  const [first] = loose;
  if (
    loose.length < 2 ||
    !first ||
    loose.some((a) => a.state !== undefined || (a.pointsSaid === first.pointsSaid && a !== first))
  )
    return { rest: acts };
  const places = loose.map((a) => whereRead(d, a) ?? []);
  const options: Option[] = [];
  for (const check of d.k.checks.values()) {
    const own = new Set(check.measure?.reads.map((r) => r.fact) ?? []);
    const facts = places.map((list) => list.find((f) => own.has(f)));
    if (facts.some((f) => f === undefined)) continue;
    const [meaning, ...also] = loose.map((a, i): Meaning => ({ ...a, fact: facts[i]! }));
    if (meaning && !options.some((o) => 'fact' in o.meaning && o.meaning.fact === facts[0]))
      options.push({ label: check.id, meaning, also });
  }
  const [one] = options;
  if (options.length === 0 || !one) return { rest: acts };
  const rest = acts.filter((a) => !loose.includes(a as Reading));
  if (options.length === 1) return { rest: [...rest, one.meaning, ...(one.also ?? [])] };
  return { rest, which: { question: undefined, options } };
}
