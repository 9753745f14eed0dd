/**
 * The door of types. Those of the knowledge are made from the shapes its files are read by (rules/knowledge); frozen after load.
 * Units stand in names: _v V rms, _ohm Ω, _a A rms, _min minutes, _c °C. Share, weight and truth have none.
 * Ids: facts are snake_case (they are fact names in the rules), everything else is kebab-case.
 */
import type { MachineInHand } from './engine/machine.ts';
import type { Audience, Unit } from './knowledge/types.ts';

export type { Consultation, FollowUp, Found, NextCheck, Referral, StopSign, Trace } from './engine/consultation.ts';
export type { MachineInHand } from './engine/machine.ts';
export type { Expected, MeterSetting, Prepared } from './engine/prepared.ts';
export type { Suspect } from './engine/suspect.ts';
export type { Verdict } from './engine/verdict.ts';
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
