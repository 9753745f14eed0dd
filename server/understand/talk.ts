import type { Meaning, Talk } from '../types.ts';
import { type Context, denied, evidence } from './context.ts';
import { heardOnlyInStop } from './in-stop.ts';

/** Turns about the talk itself, in the order said; each kind once, the longest phrase of it. */
export function findTalk(c: Context): Extract<Meaning, { is: 'talk' }>[] {
  const best = new Map<string, { from: number; to: number; of?: string }>();
  for (const h of c.hits) {
    if (h.of.kind !== 'talk') continue;
    const what = h.of.entry.talk ?? '';
    if (heardOnlyInStop(what)) continue;
    if ((what === 'done' || what === 'qualified' || what === 'made-safe') && denied(c, h)) continue;
    const old = best.get(what);
    if (!old || h.to - h.from > old.to - old.from || (h.of.entry.of && !old.of))
      best.set(what, { from: h.from, to: h.to, of: h.of.entry.of });
  }
  if (best.has('off-topic')) best.delete('what-is-that');
  // "are you a real person" asks for none
  const [robot, person] = [best.get('robot'), best.get('person')];
  if (robot && person && robot.from < person.to && person.from < robot.to) best.delete('person');
  // "can't do it now" is not now, not never
  const [later, declined] = [best.get('later'), best.get('declined')];
  if (later && declined && later.from < declined.to && declined.from < later.to && later.to >= declined.to)
    best.delete('declined');
  // "may I use it" asks whether it is safe in other words: one question, one answer
  const [safe, use] = [best.get('safe'), best.get('may-use')];
  if (safe && use && safe.of === undefined && safe.from < use.to && use.from < safe.to) best.delete('safe');
  // "I don't know what that is" asks what it is
  const [what, unsure] = [best.get('what-is-that'), best.get('unsure')];
  if (what && unsure && what.to > unsure.to && what.from <= unsure.from + 2) best.delete('unsure');
  return [...best]
    .sort((a, b) => a[1].from - b[1].from)
    .map(([what, s]) => ({ is: 'talk', what: what as Talk, ...(s.of ? { of: s.of } : {}), evidence: evidence(c, s) }));
}
