/**
 * What the routes need of the conversation, and nothing more. The routes own the case's id, its revision and its storage;
 * the conversation owns what words mean, what is asked next and how it is said. Every method is a pure function of its
 * arguments: the same record and the same words give the same turn, which is how a repeated request is answered again.
 */
import type {
  Answer,
  Audience,
  Band,
  CaseSettings,
  MachineInHand,
  Taken,
  Unit,
  Value,
  VerdictWord,
  WhyUnanswered,
} from '../rules/types.ts';
import type { Language } from './languages.ts';
import type { CaseRecord, CaseView, Reply, Understood } from './types.ts';

/** Readable but not possible: 422. `message` is one plain sentence that says what would be right. More keys may say more. */
export interface Problem {
  code: string;
  message: string;
  [more: string]: unknown;
}
export interface Refused {
  problem: Problem;
}

export interface OpenInput {
  audience: Audience;
  /** Absent = the first language. */
  language?: Language;
  units?: 'us' | 'metric';
  machine?: Partial<MachineInHand>;
}
export interface Opened {
  answers: Answer[];
  settings: CaseSettings;
  reply: Reply;
  /** Its id and rev are put in by the routes. */
  view: CaseView;
}

/** One structured answer, as a page or a program gives it instead of words. */
export interface AnswerInput extends Taken {
  fact: string;
  /** Absent only with an act that gives none (unsure, declined, later). */
  value?: Value;
  /** What the number was read in; absent = the fact's own unit. */
  unit?: Unit;
  act?: 'tell' | WhyUnanswered;
  /** The check it was asked under. */
  check?: string;
}
/** `qualified`: a technician states that they are qualified and permitted to take live readings. */
export type PatchInput = Pick<CaseSettings, 'audience' | 'units' | 'machine' | 'job'> & {
  qualified?: boolean;
  language?: Language;
};

export interface TakenTurn {
  /** New answers only, numbered on from the record's last. Empty = nothing to remember. */
  added: Answer[];
  /** Settings after this turn; absent = as in the record. */
  settings?: CaseSettings;
  understood: Understood;
  reply: Reply;
  view: CaseView;
}
export type Turn = TakenTurn | Refused;

export interface Sheet {
  title?: string;
  /** BCP 47 tag of what is written. */
  language?: string;
  json: object;
  /** Our own Markdown; what a person typed must be escaped in it (`escapeMarkdown` in markdown.ts). */
  markdown: string;
}

/** One reading judged without a case. Numbers in the unit given, or the fact's own. */
export interface ReadingInput extends Pick<Taken, 'lifted' | 'lowImpedance'> {
  check: string;
  /** Which of the check's readings; absent = its first. */
  fact?: string;
  value: Value;
  unit?: Unit;
  plate?: MachineInHand['plate'];
  machine?: string;
  meter?: string;
  hookup?: MachineInHand['hookup'];
  leads_ohm?: number;
}
export interface QuickReading {
  check: string;
  fact: string;
  label: string;
  verdict: VerdictWord;
  verdictWords: string;
  /** The reading as shown, with unit: "9.8 Ω". */
  shown: string;
  expected?: Band;
  expectedShown?: string;
  /** One or two sentences: why this verdict. */
  because: string;
  /** How the band came about, one line a step. */
  how: string[];
  /** Title, edition, table or section. */
  sources: string[];
  /** Cautions that stand with the check. */
  cautions?: string[];
}

/** What a page needs to offer quick readings, in words. */
export interface Catalogue {
  version: string;
  families: { id: string; title: string }[];
  /** `variants`: ways it may be built otherwise than its drawing. */
  machines: { id: string; title: string; variants: { id: string; title: string }[] }[];
  meters: { id: string; title: string }[];
  checks: CatalogueCheck[];
}
export interface CatalogueCheck {
  id: string;
  label: string;
  level: number;
  reads: {
    fact: string;
    label: string;
    unit: Unit /** machine id or '*' -> the two points, in words */;
    points: Record<string, string>;
    /** There only where it matters to the verdict whether the meter is on low impedance: how this check is read. */
    lowImpedance?: boolean;
  }[];
}

export interface Conversation {
  open(input: OpenInput): Promise<Opened | Refused>;
  say(record: CaseRecord, text: string): Promise<Turn>;
  answer(record: CaseRecord, answer: AnswerInput): Promise<Turn>;
  undo(record: CaseRecord): Promise<Turn>;
  change(record: CaseRecord, seq: number, value: Value): Promise<Turn>;
  patch(record: CaseRecord, settings: PatchInput): Promise<Turn>;
  /** The case as it stands: `added` is empty. */
  look(record: CaseRecord): Promise<Turn>;
  sheet(record: CaseRecord): Promise<Sheet>;
  reading(input: ReadingInput): Promise<QuickReading | Refused>;
  /** Only checks whose reading can be judged without a case. */
  catalogue(): Catalogue;
  /** Solves ahead what most cases need; `pause` is awaited between steps. Says nothing and changes nothing. */
  warm(pause: () => Promise<void>): Promise<void>;
}
