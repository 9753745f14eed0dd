/**
 * What the routes need of the conversation, and nothing more. The routes own the case's id, its revision and its storage;
 * the conversation owns what words mean, what is asked next and how it is said. Every method is a pure function of its
 * arguments: the same record and the same words give the same turn, which is how a repeated request is answered again.
 */
import type { Answer, CaseSettings, Value } from '../rules/types.ts';
import type { AnswerInput, OpenInput, PatchInput, ReadingInput } from './shapes/input.ts';
import type { Catalogue, QuickReading } from './shapes/reading.ts';
import type { JobSheet } from './shapes/sheet.ts';
import type { CaseRecord, CaseView, Drawing, ExplainedReply, Understood } from './types.ts';

export type { AnswerInput, OpenInput, PatchInput, ReadingInput } from './shapes/input.ts';
export type { Catalogue, CatalogueCheck, QuickReading } from './shapes/reading.ts';

/** Readable but not possible: 422. `message` is one plain sentence that says what would be right. More keys may say more. */
export interface Problem {
  code: string;
  message: string;
  [more: string]: unknown;
}
export interface Refused {
  problem: Problem;
}

export interface Opened {
  answers: Answer[];
  settings: CaseSettings;
  reply: ExplainedReply;
  /** Its id and rev are put in by the routes. */
  view: CaseView;
}

export interface TakenTurn {
  /** New answers only, numbered on from the record's last. Empty = nothing to remember. */
  added: Answer[];
  /** Settings after this turn; absent = as in the record. */
  settings?: CaseSettings;
  understood: Understood;
  reply: ExplainedReply;
  view: CaseView;
}
export type Turn = TakenTurn | Refused;

export interface Sheet {
  title?: string;
  /** BCP 47 tag of what is written. */
  language?: string;
  json: JobSheet;
  /** Our own Markdown; what a person typed must be escaped in it (`escapeMarkdown` in markdown.ts). */
  markdown: string;
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
  /** Points and parts of the circuit in hand, as its readings are asked in; undefined = none is known. */
  drawing(record: CaseRecord): Promise<Drawing | undefined>;
  reading(input: ReadingInput): Promise<QuickReading | Refused>;
  /** Only checks whose reading can be judged without a case. */
  catalogue(): Catalogue;
  /** Solves ahead what most cases need; `pause` is awaited between steps. Says nothing and changes nothing. */
  warm(pause: () => Promise<void>): Promise<void>;
}
