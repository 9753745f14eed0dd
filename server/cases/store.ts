import type { Answer, CaseSettings } from '../../rules/types.ts';
import type { CaseRecord } from '../types.ts';

export interface Append {
  /** Numbered on from the last stored answer; may be empty. */
  answers: Answer[];
  settings: CaseSettings;
  /** The caller's own key for this turn, and a digest of what was asked under it. */
  turn?: { key: string; asked: string };
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
  close(): Promise<void>;
}

/** Names the place, never the content: this goes to the log, and people's words do not. */
export class UnreadableCase extends Error {
  override name = 'UnreadableCase';
}
