import type { Answer, Audience, CaseSettings } from '../../rules/types.ts';
import type { CaseRecord } from '../types.ts';

export interface Append {
  /** Numbered on from the last stored answer; may be empty. */
  answers: Answer[];
  settings: CaseSettings;
  /** The caller's own key for this turn, and a digest of what was asked under it. */
  turn?: { key: string; asked: string };
}

/** One turn as it was stored: what it added, the settings after it, and the caller's key if there was one. */
export interface StoredTurn {
  rev: number;
  settings: CaseSettings;
  answers: Answer[];
  key?: string;
  asked?: string;
}
/** A case turn by turn, the opening first: all that another store needs to hold the very same case. */
export interface CaseHistory {
  id: string;
  opened: string;
  /** Of the opening; settings may have changed it since. */
  audience: Audience;
  turns: StoredTurn[];
}

/**
 * Where cases are kept. Append only: nothing stored is ever changed, so a case as it stood at any revision can be read again.
 * Once a method's promise is settled the change is on disk (where there is a disk).
 */
export interface CaseStore {
  /** Stores a new case with the answers it was opened with; throws if the id is taken. */
  create(record: CaseRecord): Promise<void>;
  /** The case now, or as it stood at `rev`. Throws `UnreadableCase` if what is stored cannot be understood. */
  get(id: string, rev?: number): Promise<CaseRecord | undefined>;
  /**
   * Adds one turn on top of revision `rev`. Of two at once, one wins.
   * @returns the new revision, or "conflict" if `rev` is not the current one or the turn's key was used, or "no-such-case"
   */
  append(id: string, rev: number, append: Append): Promise<number | 'conflict' | 'no-such-case'>;
  /** The revision a keyed turn made, and the digest of what was asked. */
  turn(id: string, key: string): Promise<{ rev: number; asked: string } | undefined>;
  /** The turns after revision `after` (0 = all, the opening among them), in order. Throws `UnreadableCase` like `get`. */
  history(id: string, after?: number): Promise<CaseHistory | undefined>;
  close(): Promise<void>;
}

/** Names the place, never the content: this goes to the log, and people's words do not. */
export class UnreadableCase extends Error {
  override name = 'UnreadableCase';
}
