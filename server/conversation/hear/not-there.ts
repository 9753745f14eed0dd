import type { AnswerInput } from '../../conversation-port.ts';
import type { Meaning } from '../../types.ts';
import { safeChoice } from '../stand/danger-ask.ts';
import { dangerNow } from '../stand/dangers.ts';
import { newest } from '../stand/standing.ts';
import type { Doorway } from './door.ts';

/**
 * "No gas smell": what a denied danger answers. A danger that stands is put right (and read back before it counts); one nobody told
 * is noted as not there, where the words deny all there is to it. A bare name denied ("it was not gas") may only put right.
 * @returns undefined = nothing to store
 */
export function notThere({ k, at }: Doorway, act: Extract<Meaning, { is: 'denied' }>): AnswerInput | undefined {
  const value = safeChoice(k, act.fact);
  if (value === undefined) return undefined;
  if (dangerNow(k, at.facts, act.fact)) return { fact: act.fact, value };
  const { danger, unsureIs } = k.facts.get(act.fact) ?? {};
  const all = danger?.length === 1 || unsureIs !== undefined;
  return act.sure && all && !newest(at.facts, act.fact) ? { fact: act.fact, value } : undefined;
}
