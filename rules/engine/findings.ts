import type { CaseFacts, Consultation, Knowledge } from '../types.ts';
import { latest } from './case.ts';
import type { Judged } from './judge.ts';
import type { Flat } from './run-rules.ts';

/**
 * What the readings of a case say of it as a whole, by finding, with the readings it follows from. One that is cleared by a proof stands
 * until that proof is told good, later than the reading, and not on a reading that two others outvote; every other stands as long as its reading does.
 */
export function findings(
  k: Knowledge,
  f: CaseFacts,
  judged: readonly Judged[],
  slips: ReadonlySet<number>,
): Consultation['found'] {
  const out = new Map<string, number[]>();
  f.readings.forEach((r, i) => {
    for (const id of judged[i]!.finds) {
      const by = k.findings.get(id)?.clearedBy;
      if (by !== undefined && (slips.has(r.seq) || provedAfter(k, f, by, r.seq))) continue;
      out.set(id, [...(out.get(id) ?? []), r.seq]);
    }
  });
  return [...out].map(([finding, readings]) => ({ finding, readings })).sort((a, b) => a.finding.localeCompare(b.finding));
}

/** As flat facts of the case: every finding is there or not. */
export const findingsFlat = (k: Knowledge, found: Consultation['found']): Flat =>
  Object.fromEntries([...k.findings.keys()].map((id) => [id, found.some((x) => x.finding === id) ? 'yes' : 'no']));

/** The first outcome of a proof is the good one. */
function provedAfter(k: Knowledge, f: CaseFacts, fact: string, seq: number): boolean {
  const good = [...k.checks.values()].find((c) => c.settles.includes(fact))?.outcomes[0]?.when[fact] ?? [];
  const proof = latest(f.readings).get(fact);
  return proof !== undefined && proof.seq > seq && good.includes(String(proof.value));
}
