import type { Refused, TakenTurn, Turn } from '../conversation-port.ts';
import type { CaseRecord } from '../types.ts';
import type { CaseStore } from './store.ts';

/** A case that long is a program gone wrong; people need a few dozen answers. */
export const MOST_ANSWERS = 2000;

export interface Taking {
  /** The revision the caller saw; absent = whatever is current. */
  rev?: number | undefined;
  /** The caller's key for this turn: asked again under it, the same reply is given and nothing is added. */
  key?: string | undefined;
  /** Everything asked for, to notice a key used for two different things. */
  what: unknown;
}
export type Outcome =
  | { is: 'done'; rev: number; turn: TakenTurn }
  | { is: 'no-such-case' }
  | { is: 'stale'; rev: number }
  | { is: 'key-reused' }
  | { is: 'full' }
  | ({ is: 'refused' } & Refused);

/**
 * One turn of a case: read it, let the conversation take the turn, add what is new, all on one revision. If somebody else
 * was quicker nothing is added: the words were an answer to a question that may no longer be the open one.
 */
export async function takeTurn(
  store: CaseStore,
  id: string,
  { rev, key, what }: Taking,
  take: (record: CaseRecord) => Promise<Turn>,
): Promise<Outcome> {
  const asked = key === undefined ? '' : await digest(what);
  const again = key === undefined ? undefined : await replay(store, id, key, asked, take);
  if (again) return again;
  const record = await store.get(id);
  if (!record) return { is: 'no-such-case' };
  if (rev !== undefined && rev !== record.rev) return { is: 'stale', rev: record.rev };
  if (record.answers.length >= MOST_ANSWERS) return { is: 'full' };
  const turn = await take(record);
  if ('problem' in turn) return { is: 'refused', problem: turn.problem };
  // Nothing to remember, unless the key is: the same words may mean something else later.
  if (turn.added.length === 0 && turn.settings === undefined && key === undefined) return done(record.rev, turn);
  const made = await store.append(id, record.rev, {
    answers: turn.added,
    settings: turn.settings ?? record.settings,
    ...(key !== undefined && { turn: { key, asked } }),
  });
  if (typeof made === 'number') return done(made, turn);
  if (made === 'no-such-case') return { is: 'no-such-case' };
  // Two requests under one key at once: the slower one is the repeat.
  const sameKey = key === undefined ? undefined : await replay(store, id, key, asked, take);
  return sameKey ?? { is: 'stale', rev: (await store.get(id))?.rev ?? record.rev };
}

/** The conversation is a pure function of the record, so the earlier reply is had by asking it again about the case as it then was. */
async function replay(
  store: CaseStore,
  id: string,
  key: string,
  asked: string,
  take: (record: CaseRecord) => Promise<Turn>,
): Promise<Outcome | undefined> {
  const earlier = await store.turn(id, key);
  if (!earlier) return undefined;
  if (earlier.asked !== asked) return { is: 'key-reused' };
  const before = await store.get(id, earlier.rev - 1);
  if (!before) return { is: 'no-such-case' };
  const turn = await take(before);
  return 'problem' in turn ? { is: 'refused', problem: turn.problem } : done(earlier.rev, turn);
}

const done = (rev: number, turn: TakenTurn): Outcome => ({ is: 'done', rev, turn });

async function digest(what: unknown): Promise<string> {
  const hash = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(JSON.stringify(what)));
  return Array.from(new Uint8Array(hash), (b) => b.toString(16).padStart(2, '0')).join('');
}
