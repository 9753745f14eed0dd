import type { Check } from './check.ts';
import type { Cover } from './cover.ts';
import type { Fact } from './fact.ts';
import type { Family } from './family.ts';
import type { Fault } from './fault.ts';
import type { Finding } from './finding.ts';
import type { Limit } from './limit.ts';
import type { Circuit } from './machine.ts';
import type { Meter } from './meter.ts';
import type { Caution } from './need.ts';
import type { Repair } from './repair.ts';
import type { Rule, RuleSet } from './rule.ts';
import type { MachineState } from './state.ts';
import type { Stop } from './stop.ts';
import type { StopAct, StopQuestion } from './stop-question.ts';
import type { SupplyModel } from './supply.ts';
import type { Likely, Trade } from './words.ts';

/** All that the program knows, read and held against itself once; frozen. */
export interface Knowledge {
  /** Hash of the content. */
  version: string;
  facts: Map<string, Fact>;
  limits: Map<string, Limit>;
  likely: Record<Likely, number>;
  faults: Map<string, Fault>;
  repairs: Map<string, Repair>;
  checks: Map<string, Check>;
  stops: Map<string, Stop>;
  stopQuestions: Map<string, StopQuestion>;
  stopActs: Map<string, StopAct>;
  /** Trades that are nobody to book: they are left out where an answer names who is needed. */
  stopLeaveOut: readonly Trade[];
  findings: Map<string, Finding>;
  families: Map<string, Family>;
  machines: Map<string, Circuit>;
  supply: SupplyModel;
  states: Map<string, MachineState>;
  covers: Map<string, Cover>;
  meters: Map<string, Meter>;
  cautions: Map<string, Caution>;
  /** Name in a sentence ({emergency}) -> region or 'default' -> the number or words to call. */
  numbers?: Record<string, Record<string, string>>;
  rules: { [S in RuleSet]: Rule<S>[] };
}
