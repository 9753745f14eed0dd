import type { Check } from '../../../rules/types.ts';
import type { Ask, Part, Talk } from '../../types.ts';
import { readingWords } from '../stand/ask.ts';
import type { Saying } from '../stand/said.ts';
import { fill, spokenTo } from '../words/speaker.ts';
import { because } from './evidence.ts';

/** Answers to what is said beside the question. One part each; nothing of it is stored. */
export function talkPart(x: Saying, { what, of }: { what: Talk; of?: string }, ask: Ask | undefined): Part {
  const { s, at } = x;
  const say = (text: string): Part => ({ kind: 'explain', text });
  switch (what) {
    case 'why':
      return say(why(x, ask));
    case 'what-is-that':
      return say((of && s.term(of)) || (ask && aboutAsk(x, ask)) || s.talk('what-is-that'));
    case 'how-long':
      return say(
        at.c.ahead.checks > 0
          ? s.talk('how-long', {
              min: Math.max(1, Math.round(at.c.ahead.min)),
              checks: Math.max(1, Math.round(at.c.ahead.checks)),
            })
          : s.talk('how-long-nothing'),
      );
    case 'may-use':
      if (at.c.madeSafe.length) return say(s.of('mayUse', 'no'));
      return say(at.c.referral ? s.of('mayUse', at.c.referral.mayUse) : s.talk('may-use-unknown'));
    case 'yes':
    case 'no':
      return say(s.talk('yes-no-lost'));
    case 'undo':
      return say(s.talk('undo-nothing'));
    case 'repeat-question':
      return say(ask ? example(x, ask) : s.talk('why-nothing'));
    case 'qualified':
    case 'made-safe':
      return say(s.problem('not-yours', { fact: what }));
    default:
      return say(s.talk(what));
  }
}

/** The question asked another way, with an example. */
export function example({ s }: Saying, ask: Ask): string {
  const words = s.check(ask.check);
  return words ? spokenTo(words.example, s.audience) : s.say('complaint-example');
}
function aboutAsk({ s }: Saying, ask: Ask): string | undefined {
  const words = s.check(ask.check);
  return words && (words.how ? spokenTo(words.how, s.audience) : spokenTo(words.example, s.audience));
}

/** Why this check, and what each of its outcomes would leave; with nothing to ask, why the last reading was judged so. */
export function why(x: Saying, ask: Ask | undefined): string {
  const { k, s, at } = x;
  const next = at.c.next;
  const check = next && ask?.check === next.check ? k.checks.get(next.check) : undefined;
  if (next && check) {
    const head = s.say('why-check', { why: ask!.why });
    const outcomes = next.outcomes.filter((o) => o.leaves.length || next.outcomes.length > 1).slice(0, MOST_OUTCOMES);
    const lines = outcomes.flatMap((o) => {
      const name = outcomeName(x, check, o.outcome);
      if (!name) return [];
      const leaves = o.leaves.length
        ? s.say('why-outcome-leaves', {
            list: s.listed(
              alone(o.leaves).map((f) => s.faults(f)),
              MOST_LEFT,
              (n) => s.say('and-more', { n }),
            ),
          })
        : s.say('why-leaves-none');
      return [`\n- ${s.say('why-outcome', { outcome: name, leaves })}`];
    });
    return head + (lines.length ? `\n${lines.join('')}` : '');
  }
  if (ask) return s.say('why-check', { why: ask.why });
  const last = at.facts.readings.findLast((r) => at.c.verdicts.some((v) => v.seq === r.seq && v.is !== 'noted'));
  const v = last && at.c.verdicts.find((w) => w.seq === last.seq);
  return last && v
    ? s.say('why-verdict', { reading: readingWords(x, last), because: because(x, last, v) })
    : s.talk('why-nothing');
}
// Two faults at once are named only where no single one is left.
export const alone = (leaves: string[][]): string[][] =>
  leaves.some((f) => f.length === 1) ? leaves.filter((f) => f.length === 1) : leaves;
const MOST_OUTCOMES = 5;
const MOST_LEFT = 3;

/** An outcome by what would be seen: "Air after five minutes: cold", or "between the legs: no voltage". */
export function outcomeName({ k, s }: Saying, check: Check, id: string): string | undefined {
  const known = check.outcomes.find((o) => o.id === id);
  const part = (fact: string, any: readonly string[]): string =>
    `${s.fact(fact)}: ${any
      .map((v) => (k.facts.get(fact)?.kind === 'choice' ? s.choice(fact, v) : fill(s.of('classes', v))))
      .join(' / ')}`;
  if (known) return s.listed(Object.entries(known.when).map(([fact, any]) => part(fact, any)));
  const fact = check.settles.find((f) => k.facts.get(f)?.choices?.includes(id));
  if (fact) return part(fact, [id]);
  return id === 'odd' ? s.of('classes', 'odd') : undefined;
}
