/**
 * The door of types. Those of the knowledge are made from the shapes its files are read by (rules/knowledge); frozen after load.
 * Units stand in names: _v V rms, _ohm Ω, _a A rms, _min minutes, _c °C. Share, weight and truth have none.
 * Ids: facts are snake_case (they are fact names in the rules), everything else is kebab-case.
 */
import type {
  Audience,
  Circuit,
  ConclusionWord,
  Knowledge,
  MayUse,
  Priority,
  RuleSet,
  Stop,
  Trade,
  Truth,
  Unit,
  VerdictWord,
} from './knowledge/types.ts';

export type * from './knowledge/types.ts';
export { LIKELY, RULE_SETS } from './knowledge/types.ts';

/** A closed range. `open` = over range (OL) also lies in it. `from`: limit ids, "plate", "meter", "supply", or a reading's seq. */
export interface Band {
  lo: number;
  hi: number;
  unit: Unit;
  open?: boolean;
  from: string[];
}
/** A reading's value in the unit of its fact; 'open' = over range (OL); a word = one of the fact's choices. */
export type Value = number | 'open' | (string & {});

/** What is known of the machine in hand; everything optional, unknown keeps every variant alive. */
export interface MachineInHand {
  /** Candidate machine ids; more than one = not known which. */
  circuits: string[];
  plate: { volts?: number; total_w?: number; heater_w?: number; amps?: number };
  hookup: 'three-wire' | 'four-wire' | 'unknown';
  meter: string;
  /** Lead resistance the person has measured or nulled, in Ω. */
  leads_ohm?: number;
  /** Supply systems that may be there; the healthy one first. */
  system: string;
  /** What was told of temperatures that parts follow: fact -> °C. */
  temperatures?: Record<string, number>;
  /** Variants of its circuit this machine has; and those it may have or not, which keeps both drawings alive. */
  variants?: string[];
  maybe?: string[];
  /** Ids of repairs somebody did before ("already replaced the coil"). */
  repaired?: string[];
}

/** One thing somebody told, in the order told. A case is nothing but the fold of these. */
export interface Answer {
  seq: number;
  /** Answers of one utterance share a turn; undo takes back a whole turn. */
  turn: number;
  act: 'tell' | 'correct' | 'repeat' | 'unsure' | 'declined' | 'later' | 'undo' | 'set';
  /** correct, repeat: the seq it replaces or repeats. */
  of?: number;
  fact?: string;
  check?: string;
  value?: Value;
  unit?: Unit;
  points?: [string, string];
  state?: string;
  lifted?: boolean;
  lowImpedance?: boolean;
  said: string;
  by: Audience;
  /** set only: what about the case changes. */
  set?: CaseSettings;
}
export interface CaseSettings {
  audience?: Audience;
  families?: string[];
  units?: 'us' | 'metric';
  /** BCP 47 tag of the language the case is talked in; absent = the first. Nothing is reasoned from it. */
  language?: string;
  machine?: Partial<MachineInHand>;
  /** What a person wrote on the job sheet, by field; nothing is reasoned from it. */
  job?: Record<string, string>;
}

export interface Reading {
  seq: number;
  fact: string;
  check?: string;
  value: Value;
  unit?: Unit;
  points?: [string, string];
  state: string;
  said: string;
  by: Audience;
  replaces?: number;
  /** Of a corrected reading: when it was first told. */
  first?: number;
  repeats?: number;
  lifted?: boolean;
  lowImpedance?: boolean;
  /** Thought ahead: taken as its check says, its temperature told with it. */
  ahead?: boolean;
}
export interface CaseFacts {
  rev: number;
  audience: Audience;
  families: string[];
  units: 'us' | 'metric';
  machine: Partial<MachineInHand>;
  /** Replaced and undone ones already folded out; repeats kept. */
  readings: Reading[];
  /** fact or check id -> why there is no answer. */
  asked: Map<string, 'unsure' | 'declined' | 'later'>;
  coversOpen: Set<string>;
  state: string;
  reclosings: number;
  /** Stop facts that were ever told as a danger in this case, even if corrected since. */
  everStopped: Set<string>;
  /** Readings that find a fault beside the one looked for: they count neither for nor against any. Worked out, never told. */
  beside?: ReadonlySet<number>;
  /** Repair ids done before this case began, or since: what they renew is less likely, never ruled out. */
  repaired: Set<string>;
}

export interface Verdict {
  seq: number;
  is: VerdictWord;
  healthy?: Band;
  /** Class of the reading among its check's classes, e.g. "dead", "full". */
  class?: string;
  standing: 'single' | 'agreed' | 'doubted';
  rule: string;
  sources: string[];
}
export interface Suspect {
  /** [] = "something not listed". */
  faults: string[];
  share: number;
  /** Readings it cannot explain. */
  misreads: number;
  live: boolean;
  for: number[];
  against: number[];
  confirmedBy: number[];
}
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
export interface Trace {
  set: RuleSet;
  rule: string;
  item?: string;
  truth: Truth;
  saw: Record<string, unknown>;
}
export interface Consultation {
  knowledge: string;
  rev: number;
  /** `readings`: those it follows from, where it was not told in words. */
  stops: { sign: string; rule: string; standsUntil: Stop['standsUntil']; suppresses: string[]; readings?: number[] }[];
  /** Stop signs that hold and were made safe: dead work goes on, power is not given back. */
  madeSafe: string[];
  /** What the readings say of the case as a whole, and which of them say so. */
  found: { finding: string; readings: number[] }[];
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
  followThrough: { kind: 'cause' | 'proof' | 'close-out'; item: string; state: 'due' | 'good' | 'failed' }[];
  trace: Trace[];
}

/** What one check would show under one suspect: a band per fact, or null where it is not read on this machine. */
export interface Expected {
  fact: string;
  /** Nominal reading: plate values, nominal supply, no meter error. */
  centre: number | 'open';
  /** Over rating corners, supply range (or measured supply), meter and leads. */
  band: Band;
}
export interface Prepared {
  knowledge: Knowledge;
  machine: MachineInHand;
  /** Fitting circuits; the first is the likeliest. */
  circuits: Circuit[];
  /**
   * Expected readings of a check under a set of faults ([] = healthy), one list per circuit those faults fit.
   * 'will-not-run' where the state needs a turning motor and it would not turn.
   * `scale` multiplies the nominal supply by a measured ratio; absent = the whole service range.
   */
  expected(check: string, faults: readonly string[], scale?: number): (Expected[] | 'will-not-run')[];
  /** The same for any two points in any state; amps are those in `branch`. */
  between(
    what: 'volts' | 'ohms' | 'amps',
    points: readonly [string, string],
    state: string,
    faults: readonly string[],
    how?: {
      lowImpedance?: boolean;
      lifted?: string;
      scale?: number;
      branch?: string;
      machine?: string;
      /** Nobody told how warm it was: whatever a sensor shows in any room. */
      anyTemperature?: boolean;
    },
  ): (Expected | 'will-not-run' | 'not-here')[];
}
