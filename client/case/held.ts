import type { CaseView } from '../../server/types.ts';
import { api, type Failure } from '../api.ts';
import { keep } from '../kept.ts';
import type { Opened } from '../types.ts';
import { troubleWords } from '../words.ts';
import { afterReply, type TalkState } from './talk.ts';

/** A case in the page's hands: what is shown of it, who looks on, and what is on its way. */
export interface Held {
  id: string;
  state: TalkState;
  listeners: Set<() => void>;
  /** The sheet's field that is on its way. */
  filling: Promise<boolean>;
  /** The same request after a failure goes out under the same key: if the first one did arrive, nothing is added twice. */
  pending?: { what: string; key: string };
  /** How many turns the last thing done here was: the readings of one visit are entered together, and taken back together. */
  together: number;
}

export const newlyHeld = (id: string): Held => ({
  id,
  state: { id, notes: {}, seen: {}, outcome: [], busy: false, gone: false, turns: 0 },
  listeners: new Set(),
  filling: Promise.resolve(true),
  together: 1,
});

export function set(held: Held, change: Partial<TalkState>): void {
  held.state = { ...held.state, ...change };
  for (const listener of held.listeners) listener();
}

/** The case as it stands now, from the server. `said`: the words that brought it; `before`: how it stood, absent on opening. */
export interface Taking {
  opened: Opened;
  said?: string;
  before?: CaseView;
}
export function take(held: Held, { opened, said, before }: Taking, more: Partial<TalkState> = {}): void {
  const after = afterReply(held.state, opened, said, before);
  keep('case', { id: after.view.id, rev: after.view.rev });
  set(held, { ...after, ...more });
}

/** Tells what went wrong. A case that was added to elsewhere is shown as it is there. */
export async function fail(held: Held, failure: Failure): Promise<void> {
  const trouble = troubleWords(failure);
  if (failure.is === 'stale') {
    const now = await api.look(held.id);
    if (now.ok) return take(held, { opened: now.value, before: held.state.view }, { busy: false, trouble });
  }
  set(held, { busy: false, trouble, gone: failure.is === 'gone' });
}
