import { clearedBy } from '../stand/danger-ask.ts';
import { note } from '../stand/notes.ts';
import { newest } from '../stand/standing.ts';
import { type Act, type Hearing, take } from './hearing.ts';

/**
 * A plain no to a question about dangers. To all: what was asked is cleared, and nothing else. About people or about now: only
 * what that can clear, and the rest is asked. One that only looks like a no clears nothing.
 */
export function takePlainNo(h: Hearing, { of }: Act<'plain-no'>): void {
  const { k, ask, at } = h.d;
  if (!ask?.about || of === 'soft') {
    h.heard.drafts.push(note('not-understood', h.said));
    return;
  }
  const check = k.checks.get(ask.check);
  if (of === 'plain') {
    const none = ask.choices.find((c) => c.fact !== undefined && !k.facts.get(c.fact)?.danger?.includes(c.id));
    if (check) take(h, { fact: ask.check, value: 'none' });
    else if (none?.fact !== undefined) take(h, { fact: none.fact, value: none.id });
    return;
  }
  for (const fact of clearedBy(of)) {
    const value = check?.choices?.none?.[fact];
    if (value !== undefined && ask.about.signs.includes(fact) && !newest(at.facts, fact))
      take(h, { fact, value }, { wholeList: false });
  }
  h.heard.drafts.push(note(of === 'now' ? 'now-only' : 'not-understood', h.said));
}
