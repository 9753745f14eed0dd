import type { Audience, MachineInHand, Unit, Value } from '../types.ts';
import type { Taken, WhyUnanswered } from './answer.ts';

/** A told value that stands, with how it was taken: what the fold makes of an answer. */
export interface Reading extends Taken {
  /** The number of the answer it comes from. */
  seq: number;
  fact: string;
  check?: string;
  value: Value;
  unit?: Unit;
  /** As told, else as its check says, else the state the machine was left in. */
  state: string;
  said: string;
  by: Audience;
  replaces?: number;
  /** Of a corrected reading: when it was first told. */
  first?: number;
  repeats?: number;
  /** Thought ahead: taken as its check says, its temperature told with it. */
  ahead?: boolean;
}

/** A case as its answers leave it. */
export interface CaseFacts {
  rev: number;
  audience: Audience;
  families: string[];
  units: 'us' | 'metric';
  machine: Partial<MachineInHand>;
  /** Replaced and undone ones already folded out; repeats kept. */
  readings: Reading[];
  /** fact or check id -> why there is no answer. */
  asked: Map<string, WhyUnanswered>;
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
