import { factIn, isTold } from '../../../rules/index.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Meaning, Talk } from '../../types.ts';
import { type Draft, isNoteOf, note, type ToldDraft } from '../stand/notes.ts';
import type { Option } from '../stand/option.ts';
import type { Wrong } from '../stand/plate.ts';
import { type Doorway, type Entered, enter, type Manner } from './door.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };

/** What one utterance comes to, before anything is stored. */
export interface Heard {
  drafts: Draft[];
  /** A correction that would lift a stop and waits for "yes". */
  liftsStop?: ToldDraft;
  wrong: Wrong[];
  /** Talk that is answered and not stored, in the order said. */
  talk: { what: Talk; of?: string }[];
  which?: { question: string | undefined; options: Option[] };
  /** A reading whose place on this machine is not known: kept in words, judged by nothing. */
  notPlaced?: boolean;
  /** A complaint nobody knows. */
  unknownFamily?: string;
  /** Dangers that words may have told, each worth one short question; the first is asked. */
  suspects: string[];
}

/** One utterance while its acts are taken one by one. */
export interface Hearing {
  d: Doorway;
  said: string;
  acts: readonly Meaning[];
  /** It says that something told before was wrong. */
  correcting: boolean;
  /** Facts it has told so far. */
  told: Set<string>;
  heard: Heard;
}

export type Act<Is extends Meaning['is']> = Extract<Meaning, { is: Is }>;

export const hearing = (d: Doorway, acts: readonly Meaning[], said: string): Hearing => ({
  d,
  said,
  acts,
  correcting: acts.some((a) => a.is === 'talk' && a.what === 'correct'),
  told: new Set(acts.flatMap((a) => ('fact' in a && a.fact && a.is !== 'denied' ? [a.fact] : []))),
  heard: { drafts: [], wrong: [], talk: [], suspects: [] },
});

/** What is only ever said on purpose. */
export const STATEMENTS: ReadonlySet<string> = new Set([talkFacts.saysOf.qualified.fact, talkFacts.saysOf['made-safe'].fact]);

/** Takes one answer through the door, and what comes of it into what was heard. */
export function take(h: Hearing, input: AnswerInput, manner: Manner = {}): void {
  const { heard } = h;
  const entered: Entered = enter(h.d, input, h.said, manner);
  // What is not this person's to state, and was only let fall, is kept for the job sheet.
  if ('wrong' in entered && entered.wrong.code === 'not-yours' && !STATEMENTS.has(String(entered.wrong.put.fact))) keepWords(h);
  else if ('wrong' in entered) heard.wrong.push(entered.wrong);
  else if (entered.liftsStop) heard.liftsStop ??= entered.liftsStop;
  // One sentence may be taken two ways that come to the same.
  else heard.drafts.push(...entered.drafts.filter((draft) => !heard.drafts.some((had) => sameTold(had, draft))));
}

const sameTold = (a: Draft, b: Draft): boolean =>
  factIn(a) !== undefined &&
  factIn(a) === factIn(b) &&
  a.act === b.act &&
  (!isTold(a) || !isTold(b) || (a.value === b.value && typeof a.value !== 'number'));

/** The words for the job sheet, once an utterance. */
export function keepWords({ heard, said }: Hearing): void {
  if (!heard.drafts.some((draft) => isNoteOf(draft, 'noted'))) heard.drafts.push(note('noted', said));
}
