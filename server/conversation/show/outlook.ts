import type { Ask, Outlook } from '../../types.ts';
import type { Saying } from '../stand/said.ts';
import { alone, outcomeName } from './explain.ts';

const MOST_LEFT = 4;

/** What each outcome of the open check would leave of the suspects; nothing where it is not asked to tell them apart. */
export function outlookOf(x: Saying, ask: Ask | undefined): Outlook | undefined {
  const { k, s, at } = x;
  const { next } = at.c;
  const check = next && ask?.check === next.check ? k.checks.get(next.check) : undefined;
  if (!next || !check) return undefined;
  const shares = new Map(at.c.suspects.map((u) => [u.faults.join('+'), u.share]));
  // The planner tells apart readings that mean the same; for a person they are one outcome.
  const byOutcome = new Map<string, Map<string, string[]>>();
  for (const { outcome, leaves } of next.outcomes) {
    const all = byOutcome.get(outcome) ?? new Map<string, string[]>();
    for (const faults of leaves) all.set(faults.join('+'), faults);
    byOutcome.set(outcome, all);
  }
  const outcomes = [...byOutcome].flatMap(([outcome, leaves]) => {
    const label = outcomeName(x, check, outcome);
    if (!label) return [];
    const left = alone([...leaves.values()])
      .map((faults) => ({ label: s.faults(faults), share: shares.get(faults.join('+')) ?? 0 }))
      .sort((a, b) => b.share - a.share);
    return [{ label, leaves: left.slice(0, MOST_LEFT), more: Math.max(0, left.length - MOST_LEFT) }];
  });
  return outcomes.some((o) => o.leaves.length > 0) ? { check: s.checkName(check.id), outcomes } : undefined;
}
