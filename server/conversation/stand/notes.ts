import type { Answer } from '../../../rules/types.ts';

/**
 * What the talk itself must remember between turns stands among the answers as a `set` that sets nothing: words nothing was
 * made of, things worth keeping that no fact stands for, a correction waiting for its "yes", a sentence that may mean two things, a
 * word that may tell of a danger, what was done already while a stop stands. The fold passes over them.
 */
export type NoteKind = 'not-understood' | 'read-back' | 'which' | 'danger' | 'now-only' | 'settled' | 'noted' | 'done';
export type Draft = Omit<Answer, 'seq' | 'turn' | 'by'>;

export const note = (kind: NoteKind, said: string, more: Partial<Pick<Answer, 'of' | 'fact' | 'value'>> = {}): Draft => ({
  act: 'set',
  check: kind,
  said,
  ...more,
});
export const isNote = (a: Answer): boolean => a.act === 'set' && a.set === undefined;

/** The note that waits for this turn's answer, if the last turn left one. */
export function waiting(standing: readonly Answer[], kind: NoteKind): Answer | undefined {
  const last = standing.at(-1);
  return last && isNote(last) && last.check === kind ? last : undefined;
}

/** How often in a row the person was not understood, or not in one sense only. */
export function timesLost(standing: readonly Answer[]): number {
  let n = 0;
  for (let i = standing.length - 1; i >= 0 && lost(standing[i]!); i--) n++;
  return n;
}

const lost = (a: Answer): boolean => isNote(a) && (a.check === 'not-understood' || a.check === 'which');

/** Turns to take back so that the last one that told something is gone, notes after it included; 0 = nothing to take back. */
export function turnsToUndo(standing: readonly Answer[]): { turns: number; told: Answer[] } {
  const turns = [...new Set(standing.map((a) => a.turn))].reverse();
  let n = 0;
  for (const turn of turns) {
    n++;
    const told = standing.filter((a) => a.turn === turn && !isNote(a));
    if (told.length) return { turns: n, told };
  }
  return { turns: 0, told: [] };
}

/** The answers of one turn, numbered on from the last of the case. */
export function numbered(answers: readonly Answer[], drafts: readonly Draft[], by: Answer['by']): Answer[] {
  const last = answers.at(-1);
  return drafts.map((d, i) => ({ ...d, seq: (last?.seq ?? 0) + 1 + i, turn: (last?.turn ?? 0) + 1, by }));
}
