import type { ConclusionWord, MayUse, Priority, RuleSet, Stop, Trade, Truth } from '../types.ts';
import type { Suspect } from './suspect.ts';
import type { Verdict } from './verdict.ts';

/** Who should come, in order; whether the dryer may be used until then; how soon (0 = at once); what to carry; minutes of the visit. */
export interface Referral {
  trades: Trade[];
  mayUse: MayUse;
  priority: Priority;
  parts: string[];
  visit_min: number;
  /** Readings to write out for whoever comes. */
  readings: number[];
  /** e.g. "nothing-wrong", "supply-fault", "appliance-repair", "stop" */
  kind: string;
  rule: string;
}
/** What is to be done next and why; minutes from how the machine stands now; what each outcome would leave. */
export interface NextCheck {
  check: string;
  why: 'gate' | 'repeat' | 'worth' | 'confirm' | 'cause' | 'proof';
  /** repeat: the reading asked again. */
  of?: number;
  cost_min: number;
  outcomes: { outcome: string; leaves: string[][] }[];
  /** A reading found in the circuit: between which points, in which state. Its outcomes are the ohms shown. */
  points?: [string, string];
  state?: string;
}
/** A rule that had a say: the item it ran over (a check, a fault, a reading's seq), absent = the case; the facts it saw, null = not told. */
export interface Trace {
  set: RuleSet;
  rule: string;
  item?: string;
  truth: Truth;
  saw: Record<string, unknown>;
}
/** A stop sign that holds. `readings`: those it follows from, where it was not told in words. */
export interface StopSign {
  sign: string;
  rule: string;
  standsUntil: Stop['standsUntil'];
  suppresses: string[];
  readings?: number[];
}
/** What readings say of the case as a whole (findings.json), and the seqs of those that say so. */
export interface Found {
  finding: string;
  readings: number[];
}
/** One thing to do after a part is found: a cause behind it (fault id), a proof of its repair (check id), the close-out. */
export interface FollowUp {
  kind: 'cause' | 'proof' | 'close-out';
  item: string;
  state: 'due' | 'good' | 'failed';
}
/** What the engine has to say of a case as it stands. Without `next` and `conclusion` a stop holds, or nothing permitted is left. */
export interface Consultation {
  /** Version of the knowledge, and how many answers the case had. */
  knowledge: string;
  rev: number;
  stops: StopSign[];
  /** Stop signs that hold and were made safe: dead work goes on, power is not given back. */
  madeSafe: string[];
  found: Found[];
  /** Everything that must not be said or asked now: union over the stops that hold, plus gas-not-cleared. */
  silenced: string[];
  verdicts: Verdict[];
  suspects: Suspect[];
  /** Groups no permitted check can split. */
  notToldApart: string[][];
  next?: NextCheck;
  /** Estimated minutes and checks still ahead, under the policy. */
  ahead: { min: number; checks: number };
  referral?: Referral;
  conclusion?: { is: ConclusionWord; faults: string[] };
  followThrough: FollowUp[];
  trace: Trace[];
}
