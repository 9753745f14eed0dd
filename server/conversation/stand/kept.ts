import type { Answer } from '../../../rules/types.ts';
import type { Moment } from './moment.ts';
import { type Grounds, groundsIn, type Mind, reason, type Standing, standingOf } from './standing.ts';

/** Cases under way at once; the one looked at longest ago is reasoned out anew. */
const MOST_KEPT = 64;

/**
 * Cases as they stood. Where one turn ends the next begins, so most are found here; what is found never differs from what would be
 * worked out. A turn that only leaves a note finds what was told reasoned out already.
 */
export function keptMoments(mind: Mind, moment: (at: Standing) => Moment): (record: Standing['record']) => Promise<Moment> {
  const kept: { moment: Moment; grounds: Grounds }[] = [];
  return async (record) => {
    const whole = kept.findIndex(({ moment: { at } }) => sameRecord(at.record, record));
    const [had] = whole < 0 ? [] : kept.splice(whole, 1);
    if (had) {
      kept.push(had);
      return had.moment;
    }
    const grounds = groundsIn(record);
    const reasoned = kept.findLast((one) => sameGrounds(one.grounds, grounds))?.moment.at ?? (await reason(mind, grounds));
    const made = moment(standingOf(record, reasoned));
    kept.push({ moment: made, grounds });
    if (kept.length > MOST_KEPT) kept.shift();
    return made;
  };
}

const sameRecord = (a: Standing['record'], b: Standing['record']): boolean =>
  a.audience === b.audience && sameAnswers(a.answers, b.answers) && same(a.settings, b.settings);
const sameGrounds = (a: Grounds, b: Grounds): boolean =>
  a.audience === b.audience && sameAnswers(a.answers, b.answers) && same(a.settings, b.settings);

/** From the end: two cases that differ do so in what was told last. */
function sameAnswers(a: readonly Answer[], b: readonly Answer[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = a.length - 1; i >= 0; i--) if (!same(a[i], b[i])) return false;
  return true;
}

/** Plain data, in any order of keys: the stores give back other objects than they were given. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length) return false;
  return keys.every((key) => same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]));
}
