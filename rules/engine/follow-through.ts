import { usesPower } from '../knowledge/touches.ts';
import type { CaseFacts, Check, Consultation, Knowledge, NextCheck, Prepared } from '../types.ts';
import { checkStanding } from './derive.ts';
import { explains } from './explains.ts';
import { fitsCircuit } from './fits.ts';
import { afterSeen, outcomeSeen, outcomesSeen } from './outcome.ts';
import type { Permitted } from './permits.ts';
import { joined } from './rounds.ts';

type Step = Consultation['followThrough'][number];

export interface FollowThrough {
  steps: Step[];
  /** What the rules of the set "follow-through" see. */
  flat: Record<'causes_due' | 'repair_told' | 'proof_failed' | 'proofs_due' | 'dead_proofs_due', 'yes' | 'no'>;
  /** By the word a rule says: the check that comes then; absent = there is none this person may do. */
  next: Record<string, NextCheck | undefined>;
}

/**
 * What comes after a confirmed part: the causes behind it, each due, found ("failed") or cleared ("good"); the repair; its proofs,
 * read from `after` it. The next cause check is the one that settles most of what is still due, per minute; proofs come in the order of
 * their class, and within one as the repair names them.
 */
export function followThrough(
  p: Prepared,
  f: CaseFacts,
  faults: readonly string[],
  may: readonly Permitted[],
  line_v: number,
  scale?: number,
  after?: CaseFacts,
): FollowThrough {
  const k = p.knowledge;
  const steps: Step[] = [];
  // What asks for power was left for after the repair: a cause is looked for in all that was told until now.
  const now = after ? { ...f, readings: joined(f.readings, after.readings) } : f;
  const due = new Map<string, number>();
  for (const id of faults) {
    for (const c of k.faults.get(id)?.causes ?? []) {
      const cause = k.faults.get(c.fault);
      if (!cause || !p.circuits.some((m) => fitsCircuit(cause, m.attributes)) || steps.some((s) => s.item === c.fault)) continue;
      const state = causeState(p, now, faults, c.fault, line_v, scale, after);
      steps.push({ kind: 'cause', item: c.fault, state });
      if (state === 'due') due.set(c.fault, c.share);
    }
  }
  const cause = causeCheck(p, now, due, may);
  const rank = new Map(may.map((m) => [m.check.id, m.rank]));
  let first: Check | undefined;
  for (const repair of new Set(faults.map((id) => k.faults.get(id)!.end.repair)))
    for (const id of k.repairs.get(repair)?.proofs ?? []) {
      const check = k.checks.get(id);
      if (!check || steps.some((s) => s.item === id) || !p.circuits.some((m) => fitsCircuit(check, m.attributes))) continue;
      const state = after ? proofState(p, after, check, line_v, scale) : 'due';
      steps.push({ kind: 'proof', item: id, state });
      const askable = state === 'due' && rank.has(id) && (!after || checkStanding(k, after, check) === 'open');
      if (askable && (!first || rank.get(id)! < rank.get(first.id)!)) first = check;
    }
  const proof = first && step(first, 'proof');
  const failed = steps.some((s) => s.kind === 'proof' && s.state === 'failed');
  const closed = after !== undefined && steps.every((s) => s.state !== 'due' || s.kind !== 'proof') && !failed;
  steps.push({ kind: 'close-out', item: 'close-out', state: closed ? 'good' : 'due' });
  const ask = may.find((m) => m.check.settles.some((id) => k.facts.get(id)?.event === 'repair'))?.check;
  // Told "not yet" it is not asked again; whoever mended it says so.
  const askRepair = ask && checkStanding(k, f, ask) === 'open' ? step(ask, 'proof') : undefined;
  return {
    steps,
    flat: {
      causes_due: cause ? 'yes' : 'no',
      repair_told: after ? 'yes' : 'no',
      proof_failed: failed ? 'yes' : 'no',
      proofs_due: proof ? 'yes' : 'no',
      dead_proofs_due: first && !usesPower(first.touches) ? 'yes' : 'no',
    },
    next: { cause, repair: askRepair, proof },
  };
}

const step = (check: Check, why: NextCheck['why']): NextCheck => ({ check: check.id, why, cost_min: check.min, outcomes: [] });

function causeState(
  p: Prepared,
  f: CaseFacts,
  faults: readonly string[],
  cause: string,
  line_v: number,
  scale?: number,
  after?: CaseFacts,
): Step['state'] {
  const k = p.knowledge;
  const seen = new Map<string, string>();
  for (const c of k.checks.values()) {
    const o = outcomeSeen(p, f, c, line_v, scale);
    if (o) seen.set(c.id, o);
  }
  for (const c of k.checks.values())
    for (const x of c.confirms)
      if (
        x.fault === cause &&
        seen.get(c.id) === x.outcome &&
        (x.asCause
          ? afterSeen(
              p,
              x.after?.filter((a) => looksAtCauses(k, a.check)),
              seen,
            )
          : afterSeen(p, x.after, seen))
      )
        return 'failed';
  // Cleared only by a look or a reading meant for it: the part that failed in front of it changes everything else, until it is mended.
  const mended = new Set(after?.readings.map((r) => r.seq));
  for (const r of f.readings) {
    const check = r.check ? k.checks.get(r.check) : undefined;
    const behind = check?.measure && !mended.has(r.seq) ? [...faults, cause] : [cause];
    if (check && about(cause, check) && !explains(p, behind, r, scale)) return 'good';
  }
  return 'due';
}
const looksAtCauses = (k: Knowledge, check: string): boolean => k.checks.get(check)?.kind === 'cause';
/** Does this check tell whether the cause is there, whatever failed in front of it? The knowledge says so with `asCause`. */
const about = (cause: string, check: Check): boolean => check.confirms.some((x) => x.fault === cause && x.asCause);
/** Or must it be known before such a check counts (filter and wheel before the duct is blamed for weak air)? */
const leadsTo = (k: Knowledge, cause: string, check: Check): boolean =>
  check.kind === 'cause' &&
  [...k.checks.values()].some((c) =>
    c.confirms.some((x) => x.fault === cause && x.asCause && x.after?.some((a) => a.check === check.id)),
  );

function causeCheck(
  p: Prepared,
  f: CaseFacts,
  due: ReadonlyMap<string, number>,
  may: readonly Permitted[],
): NextCheck | undefined {
  const k = p.knowledge;
  let best: { check: Check; score: number; leaves: string[][] } | undefined;
  for (const m of may) {
    if ((m.check.kind !== 'cause' && m.check.kind !== 'worth') || checkStanding(k, f, m.check) !== 'open') continue;
    let settled = 0;
    const settles: string[][] = [];
    for (const [cause, share] of due)
      if (about(cause, m.check) || leadsTo(k, cause, m.check)) {
        settled += share;
        settles.push([cause]);
      }
    if (!settled) continue;
    const score = Math.round((settled / Math.max(m.check.min, 0.1)) * 1e9) / 1e9;
    if (!best || score > best.score) best = { check: m.check, score, leaves: settles };
  }
  return best
    ? {
        check: best.check.id,
        why: 'cause',
        cost_min: best.check.min,
        outcomes: [{ outcome: 'cause-found', leaves: best.leaves }],
      }
    : undefined;
}

function proofState(p: Prepared, f: CaseFacts, check: Check, line_v: number, scale?: number): Step['state'] {
  if (checkStanding(p.knowledge, f, check) !== 'done') return 'due';
  const o = outcomeSeen(p, f, check, line_v, scale);
  return o !== undefined && o === check.outcomes[0]?.id ? 'good' : 'failed';
}
