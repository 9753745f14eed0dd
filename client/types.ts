/** The shapes the page uses by name, all taken from what the server says it sends. */
import type { CaseView, EvidenceRow, Reply, Understood } from '../server/types.ts';

export type Audience = CaseView['audience'];
export type Units = CaseView['units'];
export type Value = EvidenceRow['value'];
export type Band = NonNullable<EvidenceRow['expected']>;
export type Unit = Band['unit'];
export type VerdictWord = EvidenceRow['verdict'];
export type Line = CaseView['answers'][number];

export interface Opened {
  case: CaseView;
  reply: Reply;
}
export interface TurnTaken extends Opened {
  understood: Understood;
}
/** One step of an invented talk: either words or a structured answer. */
export interface DemoStep {
  say?: string;
  answer?: { fact: string; value?: Value; [more: string]: unknown };
}
export interface Demo {
  name: string;
  title: string;
  scenario: string;
  audience: Audience;
  steps: DemoStep[];
}
