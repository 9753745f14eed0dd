/**
 * What the server says to a page or a program: one reply a turn. Words are ready to show; `text` of a part is Markdown of our own
 * (a person's own words stand only in fields named `said`, and are data, never markup).
 */
import type {
  Answer,
  Audience,
  Band,
  CaseSettings,
  Consultation,
  MachineInHand,
  Taken,
  Unit,
  Value,
  VerdictWord,
} from '../rules/types.ts';

export type PartKind = 'say' | 'ask' | 'caution' | 'stop' | 'refer' | 'conclude' | 'explain';
export interface Part {
  kind: PartKind;
  text: string;
}

/** The one question open now. */
export interface Ask {
  check: string;
  text: string;
  /** one: pick one. many: pick any, or "none". readings: one or more numbers. */
  kind: 'one' | 'many' | 'readings';
  choices: { id: string; label: string; fact?: string }[];
  /** Of a long list: choices that stand under one line until that line is picked. */
  groups?: { id: string; label: string; of: string[] }[];
  /** `points`: where the leads go; a number that is no reading (how warm it is) has none. */
  reads: { fact: string; label: string; unit: Unit; points?: [string, string]; pointWords: string }[];
  /** Set when a doubtful reading is asked again. */
  of?: number;
  why: string;
  cautions: string[];
  /** Estimated minutes for this check alone. */
  min: number;
  covers: string[];
  stateWords: string;
  /** A line for a call-centre agent to read aloud. */
  script?: string;
  /** Where dangers are asked: the facts that tell of them. Only a plain no clears such a question. */
  about?: { signs: string[] };
  /** Where a reading is asked: the circuit it is taken in. Never there for somebody who is not asked for it. */
  wiring?: Wiring;
}

/** A point of the drawn circuit. */
export interface WiringNode {
  id: string;
  name: string;
  /** What must be off to reach it, outermost first, in words. */
  covers: string[];
  /** Hangs on a leg in the state of the check, when all is sound. */
  live: boolean;
}
export interface WiringBranch {
  id: string;
  a: string;
  b: string;
  part: string;
  kind: 'lead' | 'contact' | 'coil' | 'resistor' | 'winding';
  /** As it stands in the state of the check, when all is sound. */
  closed: boolean;
  /** Should carry more current than the meter's error, when all is sound. */
  carries: boolean;
  /** Ends at the block: supply, receptacle and cord. */
  supply: boolean;
  /** Suspects that lie here, likeliest first. */
  suspects: { label: string; share: number }[];
}
/** The circuit as data; how it is drawn is the page's. */
export interface Wiring {
  machine: string;
  /** Ways this one is built otherwise, and drawn so. */
  otherwise?: string[];
  /** More than one kind of machine is still possible: the likeliest is drawn. */
  likeliest: boolean;
  nodes: WiringNode[];
  branches: WiringBranch[];
  /** Where the leads or the clamp go; a reading that is not taken on this machine has neither. */
  reads: { fact: string; label: string; points?: [red: string, black: string]; clamp?: string; words: string }[];
  /** The lead that comes off first: on which point, and the branches that opens. */
  lift?: { node: string; opens: string[]; what: string };
  covers: string[];
  stateWords: string;
  plugged: boolean;
  /** Not plugged: what parts the machine from the supply. All above it is live. */
  offAt?: 'plug' | 'breaker';
}

/** What the curves beside the readings are drawn from; each is there only where the open question or a reading concerns it. */
export interface Curves {
  thermistor?: {
    fact: string;
    label: string;
    /** Examples of the kind: go by the maker's sheet. */
    curves: {
      id: string;
      r25_ohm: number;
      beta_k: number;
      rows: [temperature_c: number, ohm: number][];
      source: string;
      basis: string;
    }[];
    /** The newest number read, and the °C it means on each curve (null = beyond the table). */
    reading?: { ohm: number; at_c: (number | null)[] };
  };
  /** At rest and with the heat on, each pair of points that was read or is asked. */
  supply?: {
    label: string;
    idle_v?: number;
    load_v?: number;
    /** A sound supply stays above this under load. */
    least_v?: number;
  }[];
  heat?: {
    /** The heater alone, at this voltage. */
    plate: { volts_v: number; watts_w: number; known: boolean };
    reading?: { label: string; volts_v: number; watts_w: number };
    expected?: Band;
  };
}

export interface EvidenceRow {
  seq: number;
  fact: string;
  label: string;
  value: Value;
  /** As shown, with unit: "118.6 V", "OL", "no heat". */
  shown: string;
  said: string;
  unit?: Unit;
  expected?: Band;
  expectedShown?: string;
  /** What the true value may be, given the error of the meter. */
  meter?: { lo: number; hi: number };
  verdict: VerdictWord;
  verdictWords: string;
  standing: 'single' | 'agreed' | 'doubted';
  because: string;
  sources: string[];
}
/** What the open check could show, and which suspects each outcome would leave. */
export interface Outlook {
  check: string;
  outcomes: {
    label: string;
    /** Likeliest first; none = every suspect of now would be out. */
    leaves: { label: string; share: number }[];
    /** How many more it would leave. */
    more: number;
  }[];
}
export interface SuspectRow {
  faults: string[];
  label: string;
  share: number;
  live: boolean;
  for: string[];
  against: string[];
  /** The same by reading: `would` is what that reading would be under this suspect, with unit. */
  speaks?: { seq: number; is: 'for' | 'against'; would?: string }[];
}
export interface Progress {
  suspectsLeft: number;
  minutesLeft: number;
  checksLeft: number;
}
export interface Reply {
  parts: Part[];
  ask?: Ask;
  evidence: EvidenceRow[];
  suspects: SuspectRow[];
  progress: Progress;
  curves?: Curves;
  outlook?: Outlook;
  consultation: Consultation;
}

export interface CaseRecord {
  id: string;
  rev: number;
  opened: string;
  audience: Audience;
  settings: CaseSettings;
  answers: Answer[];
}
export interface CaseView {
  id: string;
  rev: number;
  audience: Audience;
  /** BCP 47 tag of the language this person is spoken to in. */
  language?: string;
  families: string[];
  units: 'us' | 'metric';
  machine: Partial<MachineInHand>;
  /** Every answer still standing, in order, with what was typed. */
  answers: {
    seq: number;
    turn: number;
    fact?: string;
    label: string;
    shown: string;
    said: string;
    act: Exclude<Answer['act'], 'note'>;
    /** What it can be changed to: the fact's own choices, or a number in this unit. Absent = told in words only. */
    choices?: { id: string; label: string }[];
    unit?: Unit;
  }[];
}

/** What one utterance meant. Several acts may come from one sentence; an empty list = nothing understood. */
export type Meaning =
  | { is: 'complaint'; family: string; evidence: string }
  | { is: 'hazard'; fact: string; value: string; sure: boolean; evidence: string }
  /** A word of danger that may mean one: worth one short question. */
  | { is: 'suspected'; fact: string; evidence: string }
  /** A plain no to a question about dangers: to all its lines, about people alone, about now alone; `soft` looks like one and is none. */
  | { is: 'plain-no'; of: 'plain' | 'people' | 'now' | 'soft'; evidence: string }
  /** Said not to be there. `sure: false` = only its name was denied ("it was not gas"): enough to ask about a stop, not to note it. */
  | { is: 'denied'; fact: string; value: string; sure: boolean; evidence: string }
  /** `sure: false` = hedged ("I think so"). */
  | { is: 'answer'; fact: string; value: Value; unit?: Unit; sure?: boolean; evidence: string }
  /** Told on the way and worth keeping, though no fact of the knowledge: an answer of the same shape, with its own fact names. */
  | { is: 'noted'; fact: string; value: Value; unit?: Unit; evidence: string }
  | ({
      is: 'reading';
      what: 'volts' | 'ohms' | 'amps' | 'temperature' | 'minutes' | 'speed' | 'pressure' | 'length';
      value: number | 'open' | 'beep' | 'no-beep';
      unit?: Unit;
      /** The fact it answers, when the question or the words say so. */
      fact?: string;
      pointsSaid?: string;
      /**
       * The parts the leads lay across, in line, each with all that its name can be. Empty = a part and a point elsewhere. Where it lies is for
       * the machine in hand to say. Without `unit` none was said.
       */
      across?: string[][];
      /** Whether the cord is in, where that alone was told (at the block; "plug out"): any of the states with it in, or out. */
      plugged?: boolean;
      /** Ω taken off for the leads. */
      leadsTakenOff?: number;
      /** As said, where the unit was another one: 135 and "°F". */
      saidValue?: number;
      saidUnit?: string;
      /** The unit was not said; only one was possible. */
      unitInferred?: boolean;
      approx?: boolean;
      /** Temperature of the part when it was read, °C. */
      at_c?: number;
      /** Starting peak that went before, in the same unit. */
      peak?: number;
      evidence: string;
    } & Taken)
  | { is: 'plate'; volts?: number; total_w?: number; heater_w?: number; amps?: number; evidence: string }
  | { is: 'machine'; fact: string; value: string; evidence: string }
  /** Of a variant of the drawing: this machine is built that way, is not, or may be. */
  | { is: 'built'; variant: string; has: 'has' | 'not' | 'maybe'; evidence: string }
  | { is: 'talk'; what: Talk; of?: string; evidence: string }
  /** `also`: what else was said with that meaning, taken with it. */
  | { is: 'ambiguous'; question: string; options: { label: string; meaning: Meaning; also?: Meaning[] }[] };
export type Talk =
  | 'yes'
  | 'no'
  | 'unsure'
  | 'declined'
  | 'later'
  | 'no-meter'
  | 'why'
  | 'what-is-that'
  | 'safe'
  | 'cost'
  | 'how-long'
  | 'undo'
  | 'correct'
  | 'repeat-question'
  | 'person'
  | 'restart'
  | 'may-use'
  | 'done'
  | 'made-safe'
  | 'qualified'
  | 'greeting'
  | 'not-a-dryer'
  | 'help'
  | 'wait'
  | 'in-progress'
  | 'stop'
  | 'thanks'
  | 'abuse'
  | 'off-topic'
  | 'robot'
  | 'language';
export interface Understood {
  acts: Meaning[];
  /** Spans of the text nothing was made of. */
  left: string[];
}
