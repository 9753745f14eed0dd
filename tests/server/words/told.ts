import { knowledge } from '../../../rules/index.ts';
import type { Audience, Check } from '../../../rules/types.ts';
import { ourWords } from '../../../server/conversation/words/index.ts';
import { speaker } from '../../../server/conversation/words/speaker.ts';

/**
 * All that somebody is told when a check is asked: cautions, question, how, what is read to a caller, the state of a reading.
 * A caution that touches something is said only where that may be done, and is left out.
 */
export function toldOf(check: Check, audience: Audience, language = 'en'): string {
  const k = knowledge();
  const s = speaker(ourWords(k).find((w) => w.language === language)!, k, audience);
  const own = s.check(check.id)!;
  return [
    ...check.cautions.filter((c) => !k.cautions.get(c)?.touches).map((c) => s.of('cautions', c)),
    s.to(own.ask),
    own.how && s.to(own.how),
    audience === 'agent' ? own.script : undefined,
    check.measure && k.states.has(check.state) ? `${s.of('states', check.state)}.` : undefined,
  ]
    .filter(Boolean)
    .join(' ');
}
