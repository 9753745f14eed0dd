import type { AnswerInput } from '../../server/conversation-port.ts';
import type { CaseView, Part, Reply } from '../../server/types.ts';
import type { Settings } from '../api.ts';
import type { Opened, Value } from '../types.ts';
import { shownOf } from '../words.ts';
import { inPlace } from './group.ts';

/** What was said in between, kept under the answer after which it stands. Typed words are data and shown as text. */
export interface Note {
  said?: string;
  parts: Part[];
}
export interface TalkState {
  id: string;
  view?: CaseView;
  reply?: Reply;
  /** Seq of the last answer then standing (0 = before the first) -> what was said. */
  notes: Record<number, Note[]>;
  /** Choices seen in this page's life: fact -> what may be picked. */
  seen: Record<string, { id: string; label: string }[]>;
  /** What the case came to, and who comes next: said once, and shown as long as it holds. */
  outcome: Part[];
  busy: boolean;
  trouble?: string;
  /** What a broken line kept back can be sent again; `now`: the line is there again. */
  unsent?: { again: () => Promise<boolean>; said?: string; now: boolean };
  gone: boolean;
  /** Goes up with every reply of a turn, so that focus can follow. */
  turns: number;
}

/**
 * One case as the page holds it. A turn either changes the state and answers true, or leaves what was typed to the
 * caller and answers false with `trouble` set.
 */
export interface Talk {
  id: string;
  /** Words a failed first turn left behind; the field starts with them. */
  draft: string;
  get: () => TalkState;
  /** @returns how to end that */
  subscribe: (listener: () => void) => () => void;
  /** Reads the case anew, e.g. after a reload. */
  load: () => Promise<void>;
  say: (text: string) => Promise<boolean>;
  /** One visit can give several answers; they go one after the other, each on the revision the one before left. */
  answer: (answers: AnswerInput[]) => Promise<boolean>;
  /** Takes back the last thing done here: all readings of one visit together. */
  undo: () => Promise<boolean>;
  change: (seq: number, value: Value) => Promise<boolean>;
  patch: (settings: Settings) => Promise<boolean>;
  /** Writes on the job sheet, by field. No turn of the talk: nothing is asked anew, and focus stays in the field. */
  fill: (job: Record<string, string>) => Promise<boolean>;
  /** What went wrong was read, and what a broken line kept back is given up. */
  quiet: () => void;
  /** The line is there again: what was kept back is offered, never sent unasked. */
  online: () => void;
}

/** What changes in a talk with a reply. @param said the words that brought it @param before the case as it stood, absent on opening */
export function afterReply(
  state: TalkState,
  { case: seen, reply }: Opened,
  said: string | undefined,
  before: CaseView | undefined,
): Partial<TalkState> & { view: CaseView } {
  const view = { ...seen, answers: inPlace(before?.answers ?? [], seen.answers) };
  const notes = notesAfter(state.notes, view, reply, said, before);
  const end = reply.parts.filter((part) => part.kind === 'conclude' || part.kind === 'refer');
  const outcome = end.length > 0 || !reply.conclusion ? end : state.outcome;
  return { view, reply, notes, outcome, seen: { ...state.seen, ...choicesOf(reply) }, gone: false };
}

const MOST_NOTES = 4;

/** What was said in between stands under the newest answer; words that became an answer stand in the record already. */
function notesAfter(
  notes: TalkState['notes'],
  view: CaseView,
  reply: Reply,
  said: string | undefined,
  before: CaseView | undefined,
): TalkState['notes'] {
  const last = newest(view);
  const parts = reply.parts.filter((part) => (part.kind === 'say' || part.kind === 'explain') && !echoes(part, view));
  const unplaced = said !== undefined && last <= newest(before) ? said : undefined;
  if (parts.length === 0 && unplaced === undefined) return notes;
  if (unplaced === undefined) return { ...notes, [last]: [{ parts }] };
  return { ...notes, [last]: [...(notes[last] ?? []), { parts, said: unplaced }].slice(-MOST_NOTES) };
}

const newest = (view: CaseView | undefined) => Math.max(0, ...(view?.answers ?? []).map((line) => line.seq));

/** The reply says back what it took; the line itself does that here. */
const echoes = ({ text }: Part, { answers }: CaseView) =>
  answers.some((line) =>
    [`${line.label}: ${shownOf(line)}.`, `${line.said}: noted.`].some((echo) => echo.toLowerCase() === text.trim().toLowerCase()),
  );

function choicesOf({ ask }: Reply): TalkState['seen'] {
  if (ask?.kind !== 'one') return {};
  const fact = ask.choices[0]?.fact;
  return fact && ask.choices.every((choice) => choice.fact === fact) ? { [fact]: ask.choices } : {};
}
