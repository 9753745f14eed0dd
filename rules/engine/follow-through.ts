import { usesPower } from '../knowledge/touches.ts';
import type { CaseFacts, Check, FollowUp, Knowledge, NextCheck, Prepared } from '../types.ts';
import { asNext } from './as-next.ts';
import { checkStanding } from './derive.ts';
import { explains } from './explains.ts';
import { fitsCircuit } from './fits.ts';
import { afterSeen, outcomeSeen, outcomesSeen } from './outcome.ts';
import type { Permitted } from './permits.ts';
import { joined } from './rounds.ts';

export interface FollowThrough {
  steps: FollowUp[];
  /** What the rules of the set "follow-through" see. */
  flat: Record<'causes_due' | 'repair_told' | 'proof_failed' | 'proofs_due' | 'dead_proofs_due', 'yes' | 'no'>;
  /** By the word a rule says: the check that comes then; absent = there is none this person may do. */
  next: Record<string, NextCheck | undefined>;
}

/** What a part that was found is followed through with. */
interface Following {
  p: Prepared;
  /** What was heard until the repair, and all that was heard until now. */
  before: CaseFacts;
  now: CaseFacts;
  /** What was told after the repair. */
  after: CaseFacts | undefined;
  faults: readonly string[];
  may: readonly Permitted[];
  line_v: number;
  scale: number | undefined;
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
  // What asks for power was left for after the repair: a cause is looked for in all that was told until now.
  const now = after ? { ...f, readings: joined(f.readings, after.readings) } : f;
  const at: Following = { p, before: f, now, after, faults, may, line_v, scale };
  const causes = causesBehind(at);
  const proofs = proofsOf(at);
  const steps = [...causes.steps, ...proofs.steps];
  const cause = causeCheck(at, causes.due);
  const due = proofs.next && asNext(proofs.next, 'proof');
  const failed = proofs.steps.some((s) => s.state === 'failed');
  const closed = after !== undefined && proofs.steps.every((s) => s.state === 'good');
  const say = (is: boolean) => (is ? 'yes' : 'no');
  return {
    steps: [...steps, { kind: 'close-out', item: 'close-out', state: closed ? 'good' : 'due' }],
    flat: {
      causes_due: say(cause !== undefined),
      repair_told: say(after !== undefined),
      proof_failed: say(failed),
      proofs_due: say(due !== undefined),
      dead_proofs_due: say(proofs.next !== undefined && !usesPower(proofs.next.touches)),
    },
    next: { cause, repair: askRepair(at), proof: due },
  };
}

/** The causes behind the part that this machine can have, and the share of each that is still due. */
function causesBehind(at: Following): { steps: FollowUp[]; due: Map<string, number> } {
  const { p, faults } = at;
  const k = p.knowledge;
  const seen = outcomesSeen(p, at.now, at.line_v, at.scale);
  const steps: FollowUp[] = [];
  const due = new Map<string, number>();
  for (const id of faults)
    for (const { fault, share } of k.faults.get(id)?.causes ?? []) {
      const cause = k.faults.get(fault);
      if (!cause || !p.circuits.some((m) => fitsCircuit(cause, m.attributes)) || steps.some((s) => s.item === fault)) continue;
      const state = causeState(at, fault, seen);
      steps.push({ kind: 'cause', item: fault, state });
      if (state === 'due') due.set(fault, share);
    }
  return { steps, due };
}

/** The proofs of the repair, and the one that is due first in order. */
function proofsOf(at: Following): { steps: FollowUp[]; next: Check | undefined } {
  const { p, after, faults } = at;
  const k = p.knowledge;
  const rank = new Map(at.may.map((m) => [m.check.id, m.rank]));
  const repairs = new Set(faults.map((id) => k.faults.get(id)!.end.repair));
  const ids = new Set([...repairs].flatMap((id) => k.repairs.get(id)?.proofs ?? []));
  const checks = [...ids]
    .flatMap((id) => k.checks.get(id) ?? [])
    .filter((check) => p.circuits.some((m) => fitsCircuit(check, m.attributes)));
  const steps = checks.map((check): FollowUp => ({ kind: 'proof', item: check.id, state: proofState(at, check) }));
  const askable = checks.filter(
    (check, i) => steps[i]!.state === 'due' && rank.has(check.id) && (!after || checkStanding(k, after, check) === 'open'),
  );
  const next = askable.reduce<Check | undefined>(
    (first, check) => (first && rank.get(first.id)! <= rank.get(check.id)! ? first : check),
    undefined,
  );
  return { steps, next };
}

/** Told "not yet" it is not asked again; whoever mended it says so. */
function askRepair({ p, before, may }: Following): NextCheck | undefined {
  const k = p.knowledge;
  const ask = may.find((m) => m.check.settles.some((id) => k.facts.get(id)?.event === 'repair'))?.check;
  return ask && checkStanding(k, before, ask) === 'open' ? asNext(ask, 'proof') : undefined;
}

function causeState(
  { p, now, after, faults, scale }: Following,
  cause: string,
  seen: ReadonlyMap<string, string>,
): FollowUp['state'] {
  const k = p.knowledge;
  const found = [...k.checks.values()].some((check) =>
    check.confirms.some(
      (x) =>
        x.fault === cause && seen.get(check.id) === x.outcome && afterSeen(p, x.asCause ? causesOf(k, x.after) : x.after, seen),
    ),
  );
  if (found) return 'failed';
  // Cleared only by a look or a reading meant for it: the part that failed in front of it changes everything else, until it is mended.
  const mended = new Set(after?.readings.map((r) => r.seq));
  for (const r of now.readings) {
    const check = r.check ? k.checks.get(r.check) : undefined;
    const behind = check?.measure && !mended.has(r.seq) ? [...faults, cause] : [cause];
    if (check && about(cause, check) && !explains(p, behind, r, scale)) return 'good';
  }
  return 'due';
}
/** Behind a failed part only the looks at causes among what has to be seen first count. */
const causesOf = (k: Knowledge, after: { check: string; outcome: string }[] | undefined) =>
  after?.filter((a) => k.checks.get(a.check)?.kind === 'cause');
/** Does this check tell whether the cause is there, whatever failed in front of it? The knowledge says so with `asCause`. */
const about = (cause: string, check: Check): boolean => check.confirms.some((x) => x.fault === cause && x.asCause);
/** Or must it be known before such a check counts (filter and wheel before the duct is blamed for weak air)? */
const leadsTo = (k: Knowledge, cause: string, check: Check): boolean =>
  check.kind === 'cause' &&
  [...k.checks.values()].some((c) =>
    c.confirms.some((x) => x.fault === cause && x.asCause && x.after?.some((a) => a.check === check.id)),
  );

/** The check that settles most of what is still due, a minute. */
function causeCheck({ p, now, may }: Following, due: ReadonlyMap<string, number>): NextCheck | undefined {
  const k = p.knowledge;
  let best: { check: Check; score: number; causes: string[] } | undefined;
  for (const { check } of may) {
    if ((check.kind !== 'cause' && check.kind !== 'worth') || checkStanding(k, now, check) !== 'open') continue;
    const causes = [...due.keys()].filter((cause) => about(cause, check) || leadsTo(k, cause, check));
    const settled = causes.reduce((sum, cause) => sum + due.get(cause)!, 0);
    if (!settled) continue;
    const score = Math.round((settled / Math.max(check.min, 0.1)) * 1e9) / 1e9;
    if (!best || score > best.score) best = { check, score, causes };
  }
  const leaves = best?.causes.map((cause) => [cause]);
  return best && { ...asNext(best.check, 'cause'), outcomes: [{ outcome: 'cause-found', leaves: leaves! }] };
}

/** The first outcome of a proof is the good one. */
function proofState({ p, after, line_v, scale }: Following, check: Check): FollowUp['state'] {
  if (!after || checkStanding(p.knowledge, after, check) !== 'done') return 'due';
  const outcome = outcomeSeen(p, after, check, line_v, scale);
  return outcome !== undefined && outcome === check.outcomes[0]?.id ? 'good' : 'failed';
}
