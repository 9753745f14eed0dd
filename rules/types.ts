import type { ConclusionWord } from './engine/consultation.ts';
import type { MachineInHand } from './engine/machine.ts';
import type { VerdictWord } from './engine/verdict.ts';
import type { Touch } from './knowledge/touches.ts';

export type {
  ConclusionWord,
  Consultation,
  FollowUp,
  Found,
  NextCheck,
  Referral,
  StopSign,
  Trace,
} from './engine/consultation.ts';
export type { MachineInHand } from './engine/machine.ts';
export type { Expected, MeterSetting, Prepared } from './engine/prepared.ts';
export type { Suspect } from './engine/suspect.ts';
export type { Verdict, VerdictWord } from './engine/verdict.ts';

/**
 * The shapes everything else is made of. Frozen after load.
 * Units stand in names: _v V rms, _ohm Ω, _a A rms, _min minutes, _c °C. Share, weight and truth have none.
 * Ids: facts are snake_case (they are fact names in the rules), everything else is kebab-case.
 */
export type Audience = 'homeowner' | 'agent' | 'technician';
export type Level = 0 | 1 | 2 | 3 | 4 | 5;
export type Trade = 'owner' | 'appliance' | 'electrician' | 'utility' | 'gas' | 'duct' | 'emergency' | 'landlord' | 'maker';
export type Unit = 'V' | 'Ω' | 'A' | 'W' | '°C' | 'min' | 'Pa' | 'm/s' | '1';
export type Truth = 'holds' | 'fails' | 'unknown';
export type MayUse = 'yes' | 'limited' | 'no';
export type Priority = 0 | 1 | 2 | 3 | 4;
/** Words for how likely a sign is, likeliest first; their numbers stand once, in limits.json (`likely`). */
export const LIKELY = ['always', 'usual', 'maybe', 'rare', 'never'] as const;
export type Likely = (typeof LIKELY)[number];
export type Basis = 'standard' | 'handbook' | 'computed' | 'common practice' | 'from memory';
export const RULE_SETS = ['stops', 'verdicts', 'permits', 'order', 'conclusions', 'referrals', 'follow-through'] as const;
export type RuleSet = (typeof RULE_SETS)[number];

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

export interface Fact {
  id: string;
  kind: 'choice' | 'quantity';
  choices?: string[];
  unit?: Unit;
  /** What a parser may accept at all. Wide: plausibility is for slips of unit, verdicts are the rules' job. */
  possible?: { lo: number; hi: number };
  /** The answers of a machine whose fault says nothing about this fact; an answer not named is `never`. */
  silent?: Record<string, Likely>;
  /** Family -> the same under that complaint, where the complaint itself changes it (a cold dryer blows cold). Empty = says nothing there. */
  silentIn?: Record<string, Record<string, Likely>>;
  /** A choice that says nothing ("unsure", "not-tried", "cannot-see"): recorded, never evidence. */
  noEvidence?: string[];
  whoCanTell: Audience[];
  /** 'renewed': its choices are repair ids, done by somebody before. 'repair': its first choice told ends a round of the case; what was read before was read before the repair. Told again it is a new event. */
  event?: 'repair' | 'renewed';
  /** What an answer says of the covers: those that are off now; none of them = all are on. An answer not named says nothing. */
  covers?: Record<string, string[]>;
  /** A quantity that may be read between any two points: each pair of points in each state is a reading of its own. */
  anywhere?: boolean;
  /** Choices that say the complaint comes and goes: then a good reading clears nothing. */
  comesAndGoes?: string[];
  /** Told, never asked. */
  volunteered?: boolean;
  /** Stop facts only: what "not sure" counts as (a choice), where it counts as yes. */
  unsureIs?: string;
  /** Stop facts only: the choices that are a danger. */
  danger?: string[];
  basis: Basis;
  note?: string;
}

export interface Limit {
  id: string;
  lo: number;
  hi: number;
  unit: Unit;
  /** absolute: lo..hi as printed. line: times the leg-to-leg volts of this case. healthy: times the healthy value of that reading. */
  of: 'absolute' | 'line' | 'healthy';
  /** Over range (OL) counts as inside. */
  open?: boolean;
  source: string;
  basis: Basis;
}

/** One fault is one or more of these; an effect on a branch or node the machine does not have is void. */
export type Effect =
  | { branch: string; ohm: number | 'open' | 'closed' }
  | { add: [from: string, to: string, ohm: number] }
  | { join: [from: string, to: string] }
  /** A branch that has so many times its own ohms, whatever those are at the time (a sensor that drifted). */
  | { scale: [branch: string, times: number] }
  /** A branch touches another point through `ohm`, `at` of the way from its first end to its second (0 to 1). */
  | { touch: [branch: string, at: number, to: string, ohm: number] }
  | { supply: string }
  | { contact: string; staysIn: string[] };

export interface Fault {
  id: string;
  part: string;
  /** Machine attributes, all of which must hold; one that is not known yet keeps the fault in. */
  fits: string[];
  /** supply ends at the receptacle face. */
  side: 'supply' | 'machine' | 'duct' | 'use';
  /** family -> machine id or '*' -> weight. Renormalised over the faults that fit. */
  weight: Record<string, Record<string, number>>;
  effects: Effect[];
  /** What else the same fault may come to, each a whole list of effects: where a coil touches, how a lost neutral splits the house. A reading between what two of them show fits as well; one that does nothing on a machine is void there. */
  members?: Effect[][];
  shows: 'always' | 'when-hot' | 'now-and-then';
  /** fact -> answer -> how likely; an answer not named under a named fact is `never`. */
  signs: Record<string, Record<string, Likely>>;
  /** Family -> its signs under that complaint, in place of `signs`: one fault shows in other ways when it is further gone. */
  signsIn?: Record<string, Record<string, Record<string, Likely>>>;
  end: { repair: string; trades: Trade[]; parts: string[]; mayUse: MayUse; priority: Priority; visit_min?: number };
  causes: { fault: string; share: number }[];
  basis: Basis;
  note?: string;
}

/** A repair's name in plain words, and what proves it (check ids of kind proof). Two faults with one repair need not be told apart. */
export interface Repair {
  id: string;
  text: string;
  proofs: string[];
}

export interface Measured {
  fact: string;
  /** machine id (or '*') -> the two points, first the red lead. Absent machine = not read there. */
  points: Record<string, [string, string]>;
  /** amps only: machine id (or '*') -> the branch the clamp goes round. */
  branch?: Record<string, string>;
  /** class name -> limit id, or 'healthy' = this machine's own computed healthy band. A value in none of them is `odd`. */
  classes: Record<string, string>;
}

export interface Outcome {
  id: string;
  /** Holds when every named fact's class (measured) or choice (looked at, asked) is among those listed. */
  when: Record<string, string[]>;
}

export interface Check {
  id: string;
  /** Only `worth` must be able to change the end. */
  kind: 'gate' | 'worth' | 'cause' | 'proof';
  fits: string[];
  /** All facts one visit gives. */
  settles: string[];
  measure?: {
    what: 'volts' | 'ohms' | 'amps';
    reads: Measured[];
    lowImpedance: boolean;
    /** machine id (or '*') -> id of the lead that must come off first. */
    lift?: Record<string, string>;
    /** Volts under load are judged against the idle leg volts of the same case (fact id), not a fixed band. */
    scaledBy?: string;
  };
  /** State id, or 'any': a question needs none. */
  state: string;
  level: Level;
  /** machine id (or '*') -> covers that must be off (cover ids; the tree adds what lies in front). */
  covers: Record<string, string[]>;
  min: number;
  tools: string[];
  /** Conditions of permit, as ids the permit rules know: "electric", "no-tingle", "supply-scale-known", "closing-allowed", ... */
  needs: string[];
  /** What doing it operates. A stop may silence these; what gives or uses power is never asked after one. */
  touches: Touch[];
  /** The need this check can clear: asked for its sake where nothing else is left to ask. */
  clears?: string;
  /** A supply reading is exempt from dead-before-live. */
  supplyReading?: boolean;
  outcomes: Outcome[];
  /** Outcome `outcome` confirms `fault` once every outcome under `after` was seen; a link to a check this machine lacks is dropped. `asCause`: behind a failed part it is enough alone. `alone`: the outcome is the repair itself, seen to work, and wants no second reading. A proof check passes on its first outcome. */
  confirms: {
    fault: string;
    outcome: string;
    after?: { check: string; outcome: string }[];
    asCause?: boolean;
    alone?: boolean;
  }[];
  /** Gates asked as one list: choice id -> the fact answers it gives; 'none' answers all. */
  choices?: Record<string, Record<string, string>>;
  /** Choices that stand under one line until that line is picked: group id -> choice ids. */
  groups?: Record<string, string[]>;
  /** Not itself planned: stands for a reading between any two points, which the model may find. */
  anywhere?: boolean;
  /** Of `choices` only one can be true: a single question that gives several answers; it has no 'none'. */
  oneOf?: boolean;
  /** Worded cautions that stand with the check (ids in the words). */
  cautions: string[];
  basis: Basis;
  note?: string;
}

/** One thing to do now. `touches`: what doing it operates. */
export interface StopLine {
  text: string;
  touches: Touch[];
  /** What is done once this is done (acts of stop-questions.json); then it need not be said again. */
  does?: string[];
  /** Acts after which it is said no more: "touch nothing on the way" once everyone is out. */
  until?: string[];
  /** Said instead while nobody has told whether there is a smell of gas. */
  gasUnknown?: string;
  /** Said instead where a danger that holds forbids the first wording for good. */
  otherwise?: string;
}
export interface Stop {
  id: string;
  /** Lower first; all that hold are shown. */
  precedence: number;
  class: string;
  sign: string;
  /** Region or 'default' -> the sentences of what to do now; `touches` lets the gas rule silence one. */
  sayNow: Record<string, StopLine[]>;
  thenWho: Trade[];
  mayUse: MayUse;
  priority: Priority;
  /** What lets dead work go on: a technician's word that it was made safe, where something on site makes it so; else help from outside, or for somebody not at ease their own wish. */
  standsUntil: 'outside help' | 'made safe' | 'their own wish';
  suppresses: Touch[];
  /** A hold: the talk goes on once the danger is out of the way (breaker off). */
  hold?: boolean;
}

/** Something a person may have done already while a stop stands. */
export interface StopAct {
  id: string;
  means: string;
  /** Acts this takes back. */
  undoes?: string[];
  /** Told while a danger forbids to stay near, it forbids these as well: nobody is sent back. */
  bars?: string[];
  /** Said without saying which: counts as the one of these that is asked for, where only one is. */
  oneOf?: string[];
}
/** A question that may be asked while a stop stands. The first answer that fits is given; the last one always fits. */
export interface StopQuestion {
  id: string;
  /** The question in plain words, for whoever edits the file. */
  asks: string;
  basis: Basis;
  answers: readonly StopAnswer[];
}
export interface StopAnswer {
  id: string;
  /** All that is named must be so, of each list any one. Absent = fits always. */
  when?: {
    /** One of these signs stands, or one of these classes. */
    stops?: string[];
    classes?: string[];
    /** One of these signs stands, and no other. */
    alone?: string[];
    /** A danger that stands forbids one of these for good. */
    bars?: string[];
    /** A sentence that is said of a stop asks for one of these acts. */
    lines?: string[];
    /** One of these acts was told. */
    done?: string[];
  };
  /** What the answer lets somebody do: never given where that is forbidden, and with an "if" while gas is not ruled out. */
  touches?: string[];
  /** Sentences of the stop that follow it, by their acts; absent or none left = its first ones. */
  then?: string[];
}

export interface Circuit {
  id: string;
  title: string;
  attributes: string[];
  /** What a person can tell that picks this machine: fact -> answer. */
  knownBy: Record<string, string>;
  prior: number;
  plate: { volts: number; heater_w: number };
  nodes: { id: string; name: string; covers: string[] }[];
  branches: Branch[];
  lifts: { id: string; node: string; opens: string[]; what: string }[];
  /** How a machine in hand may differ from this drawing. */
  variants?: Variant[];
  /** Of a redrawn one: the variants it carries, in order. */
  redrawn?: string[];
  /** Of a redrawn one: where the two points of a part went that was moved, "a|b" as drawn -> as it is. */
  moved?: Record<string, [string, string]>;
  /** Words of the families' branch and node ids that this machine calls something else. */
  aliases?: { branches: Record<string, string>; nodes: Record<string, string> };
}
/** One way a machine may be built otherwise than drawn. Applied to the circuit of the case alone; the drawing stays. */
export interface Variant {
  id: string;
  /** As a technician says it: "the high limit sits on the motor side of the coil". */
  title: string;
  /** Branches that end elsewhere: id -> its points. */
  rewire?: Record<string, [string, string]>;
  /** Branches that are not there; `joined` ones leave their two points as one. */
  drop?: string[];
  joined?: string[];
  add?: Branch[];
  nodes?: { id: string; name: string; covers: string[] }[];
  gains?: string[];
  loses?: string[];
  basis: Basis;
}
export interface Branch {
  id: string;
  a: string;
  b: string;
  part: string;
  kind: 'lead' | 'contact' | 'coil' | 'resistor' | 'winding';
  /** lead, contact (closed), resistor: as is. coil: share of the heater's hot ohms (1 = the whole plate coil). */
  ohm: number;
  /** coil only: its hot ohms = share × V²/P of the plate. */
  share?: number;
  /** States in which it conducts; absent = all. */
  closedIn?: string[];
  /** winding: running impedance at line frequency, and the states in which it applies. */
  z_ohm?: [re: number, im: number];
  acIn?: string[];
  /** winding seen by direct current only. */
  dcOnly?: boolean;
  /** contact the motor closes once it is up to speed: still open while it starts. */
  atSpeed?: boolean;
  /** A sensor: its ohms follow a temperature, by one of these curves; `at`: the fact that tells that temperature, °C. */
  follows?: { curves: string[]; at: string };
  /** Factors on the ohms from part to part (a sensor over room temperature, a bias heater by maker). */
  tolerance?: [lo: number, hi: number];
}
export interface MachineState {
  id: string;
  plugged: boolean;
  running: boolean;
  heatCalled: boolean;
  /** The contact table to use, where it is another state's. */
  contactsAs: string;
  /** Minutes to get to another state. */
  to: Record<string, number>;
}
export interface Cover {
  id: string;
  behind?: string;
  open_min: number;
  close_min: number;
  /** Nothing that uses power is done with this one off; a live reading may be, where it says so. */
  shutToRun?: 'always' | 'but-for-live-readings';
}
export interface SupplyModel {
  reference: string;
  /** The node of the cabinet metal, on every machine. */
  cabinet: string;
  /** Pairs of points that read leg to leg. */
  legPairs: [string, string][];
  /** Pairs of points that read the motor's leg against neutral: at rest they give the scale of the supply. */
  scalePairs: [string, string][];
  nodes: { id: string; name: string; covers: string[] }[];
  branches: Branch[];
  /** Phasors in V rms and degrees at the service transformer; the source nodes are SA0 and SB0, neutral is `reference`. */
  systems: { id: string; va: [number, number]; vb: [number, number]; note?: string }[];
  /** `knownBy`: fact -> the answers that tell this hook-up. */
  hookups: { id: 'three-wire' | 'four-wire'; drop: string[]; add: Branch[]; knownBy?: Record<string, string[]> }[];
  /**
   * Wired straight in, without a plug: the contacts of `shut` are always closed, and where a plug would be out the breaker is off
   * and those of `off` are open. `knownBy`: fact -> the answers that tell it.
   */
  wiredIn: { knownBy: Record<string, string[]>; shut: string[]; off: string[] };
}

/** What readings may say of a case as a whole: a verdict rule finds it (`finds`), the other rules see it as yes or no under its id. */
export interface Finding {
  id: string;
  means: string;
  /** A proof's fact: told good later than the reading, the finding stands no more. */
  clearedBy?: string;
}

/** One condition tree of json-rules-engine, over flat facts; operators are checked at load. */
export type Condition =
  | { all: Condition[] }
  | { any: Condition[] }
  | { not: Condition }
  | { fact: string; operator: string; value: unknown };
/** What a rule of each set says; which of these go together is checked at load (knowledge/rule-shapes.ts). */
export interface Then {
  stops: { stop?: string; lifts?: 'made safe'; asks?: string; silence?: Touch[] };
  /** `finds`: what a reading says of the case as a whole. */
  /** `counts: no`: no evidence. `asks`: the check that tells what is still unknown. */
  verdicts: { is?: VerdictWord; finds?: string; counts?: 'no'; asks?: string };
  /** `until`: the need that lifts a "no"; checks that clear it are asked where nothing else is left. */
  permits: { permit?: 'yes' | 'no'; until?: string; meets?: string };
  order: { rank: number };
  /** With a trade it hands the case on as it is. */
  conclusions: {
    conclusion: ConclusionWord;
    /** Names what was proved alone, whatever else is possible behind it. */
    names?: 'proved' | undefined;
    trade?: Trade;
    mayUse?: MayUse;
    priority?: Priority;
    visit_min?: number;
    kind?: string;
  };
  /** `mayUse`: over the case, and stricter than its faults only. */
  referrals: { kind?: string; alsoTrade?: Trade; parts?: 'none'; mayUse?: MayUse; priority?: Priority };
  priority?: Priority | undefined;
  'follow-through': { next: 'cause' | 'repair' | 'proof' | 'reopen' | 'close-out' };
}
export interface Rule<S extends RuleSet = RuleSet> {
  id: string;
  over: 'case' | 'reading' | 'check' | 'suspect';
  when: Condition;
  then: Then[S];
  because: string;
  sources: string[];
  examples: { facts: Record<string, unknown>; truth: Truth; missing?: string[] }[];
}

export interface Family {
  id: string;
  title: string;
  /** Checks asked first, in this order, while they can still tell something. */
  gates: string[];
  /** A fact's answer that moves the talk to another family. */
  crossovers: { fact: string; is: string; to: string }[];
  /** Has no faults of its own here: recognised, made safe and referred. */
  referOnly?: boolean;
}

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
  /** Cautions that stand with a check; one that touches something is said only where that may be done. */
  cautions: Map<string, { id: string; means: string; touches?: Touch[] }>;
  /** Name in a sentence ({emergency}) -> region or 'default' -> the number or words to call. */
  numbers?: Record<string, Record<string, string>>;
  /** Single numbers the engine itself uses (slip rate, cut-offs), each a limit with its source. */
  rules: { [S in RuleSet]: Rule<S>[] };
}

/** Accuracy as ±(percent of reading + counts × resolution); input in Ω; buzzer threshold in Ω; leads in Ω. */
export interface Meter {
  id: string;
  title: string;
  volts: { percent: number; counts: number; resolution: number };
  ohms: { upTo: number; percent: number; counts: number; resolution: number }[];
  amps: { percent: number; counts: number; resolution: number };
  input_ohm: number;
  lowImpedance_ohm: number;
  buzzer_ohm: number;
  leads_ohm: { lo: number; hi: number };
  over_range_ohm: number;
  source: string;
  basis: Basis;
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
