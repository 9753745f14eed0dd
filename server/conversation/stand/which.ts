import type { Ask } from '../../types.ts';
import type { Option } from './option.ts';
import type { Saying } from './said.ts';
import { shortAsk } from './short-ask.ts';
import { wayLabel } from './way-label.ts';

/** A sentence asked back: what was meant? */
export interface Which {
  question: string | undefined;
  options: readonly Option[];
  /** Not for the first time. */
  again?: boolean;
}

export const WHICH = 'which';

export function whichAsk({ s }: Saying, which: Which | undefined): Ask | undefined {
  if (!which) return undefined;
  const choices = which.options.map((o, i) => ({ id: String(i + 1), label: o.label, fact: WHICH }));
  const asked = which.question ?? s.problem('which-reading');
  const text = which.again ? s.say('ask-back-to', { ask: asked }) : asked;
  return shortAsk(WHICH, text, s.say('which-why'), choices);
}

/** The options in words, as this person reads them. */
export function labelled(x: Saying, which: Which): Which {
  const { k, s } = x;
  const options = which.options.map((o): Option => {
    if (o.label === '') return { ...o, label: wayLabel(x, o, which.options) };
    if (k.facts.has(o.label)) return { ...o, label: s.fact(o.label) };
    return k.checks.has(o.label) ? { ...o, label: s.checkName(o.label) } : o;
  });
  return { ...which, options };
}
