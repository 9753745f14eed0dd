import type { AnswerInput } from '../../server/conversation-port.ts';
import { api, newTurnKey, type Result } from '../api.ts';
import type { TurnTaken } from '../types.ts';
import { fail, type Held, set, take } from './held.ts';

/** One thing told to the server about a case. */
interface Turn {
  /** What it is, so that the same one sent again is known. */
  what: readonly unknown[];
  send: (rev: number, key: string) => Promise<Result<TurnTaken>>;
  /** The words, where it was told in words. */
  said?: string;
}

/** @returns whether it was taken; if not, `trouble` says why, and what a broken line kept back can be sent again */
async function takeTurn(held: Held, turn: Turn): Promise<boolean> {
  const before = held.state.view;
  if (!before || held.state.busy) return false;
  const key = turnKey(held, turn);
  set(held, { busy: true, trouble: undefined, unsent: undefined });
  // What is being written on the sheet goes first: both count on the revision before.
  await held.filling;
  const result = await turn.send(held.state.view?.rev ?? before.rev, key);
  if (result.ok) {
    held.pending = undefined;
    take(held, { opened: result.value, said: turn.said, before }, { busy: false, turns: held.state.turns + 1 });
    return true;
  }
  const offline = result.failure.is === 'offline';
  if (!offline) held.pending = undefined;
  await fail(held, result.failure);
  if (offline) set(held, { unsent: { again: () => takeTurn(held, turn), ...(turn.said && { said: turn.said }), now: false } });
  return false;
}

function turnKey(held: Held, { what }: Turn): string {
  const asText = JSON.stringify(what);
  const key = held.pending?.what === asText ? held.pending.key : newTurnKey();
  held.pending = { what: asText, key };
  return key;
}

/** A turn that is taken back by itself. */
export async function takeAlone(held: Held, turn: Turn): Promise<boolean> {
  const taken = await takeTurn(held, turn);
  if (taken) held.together = 1;
  return taken;
}

/** Answers of one visit, one after the other, each on the revision the one before left. What did not get through can be sent again. */
export async function answerAll(held: Held, answers: readonly AnswerInput[]): Promise<boolean> {
  const sendFrom = async (at: number): Promise<boolean> => {
    const answer = answers[at];
    if (!answer) return true;
    const send: Turn['send'] = (rev, key) => api.answer(held.id, rev, key, answer);
    if (await takeTurn(held, { what: ['answer', answer], send })) {
      held.together = at + 1;
      return sendFrom(at + 1);
    }
    const { unsent } = held.state;
    if (unsent) set(held, { unsent: { ...unsent, again: () => sendFrom(at) } });
    return false;
  };
  return sendFrom(0);
}

/** Takes back the last thing done here, turn by turn. */
export async function undoTogether(held: Held): Promise<boolean> {
  const send: Turn['send'] = (rev, key) => api.undo(held.id, rev, key);
  do if (!(await takeTurn(held, { what: ['undo'], send }))) return false;
  while (--held.together > 0);
  held.together = 1;
  return true;
}
