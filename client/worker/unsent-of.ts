import type { AnswerInput } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';
import type { Unsent } from './messages.ts';

/** What is read of a turn's body: its key, and what it told. */
export interface TurnBody {
  turn?: string;
  text?: string;
  answer?: AnswerInput;
}

/** What a turn did, as it can be read: the answers it left; where it left none, what was said. @param before absent for a case opened by it */
export function unsentOf({ text, answer }: TurnBody, before: CaseView | undefined, after: CaseView): Unsent {
  const newest = Math.max(0, ...(before?.answers ?? []).map(({ seq }) => seq));
  const lines = after.answers
    .filter(({ seq }) => seq > newest)
    .map(({ label, shown, said, act }) => ({ label, shown: shown || act, said }));
  return {
    lines: lines.length > 0 || text === undefined ? lines : [{ label: '', shown: '', said: text }],
    ...(text !== undefined && { again: { text } }),
    ...(answer && { again: { answer } }),
  };
}
