/**
 * The door of types. Those of the knowledge are made from the shapes its files are read by (rules/knowledge); frozen after load.
 * Units stand in names: _v V rms, _ohm Ω, _a A rms, _min minutes, _c °C. Share, weight and truth have none.
 * Ids: facts are snake_case (they are fact names in the rules), everything else is kebab-case.
 */
import type { Unit } from './knowledge/types.ts';

export type {
  Answer,
  CaseSettings,
  Note,
  NoteKind,
  Settings,
  Taken,
  Told,
  Unanswered,
  Undone,
  WhyUnanswered,
} from './engine/answer.ts';
export type { CaseFacts, Reading } from './engine/case-facts.ts';
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
