import { takenOf } from '../../../rules/index.ts';
import type { Answer, Note, NoteKind, Reading, Told, Value } from '../../../rules/types.ts';

/** An answer before it is numbered. */
export type Draft = Drafted<Answer>;
export type ToldDraft = Drafted<Told>;
type Drafted<A> = A extends Answer ? Omit<A, 'seq' | 'turn' | 'by'> : never;

/** A note that is its words alone. The others (`danger`, `done`, and those with an item or a correction) are written out. */
export const note = (kind: Exclude<NoteKind, 'danger' | 'done'>, said: string): Draft => ({ act: 'note', note: kind, said });

export const isNote = <A extends Pick<Answer, 'act'>>(a: A): a is Extract<A, { act: 'note' }> => a.act === 'note';
export const isNoteOf = <Kind extends NoteKind>(a: Answer | Draft, kind: Kind): a is Extract<Note, { note: Kind }> =>
  isNote(a) && a.note === kind;

/** Told on the way and worth keeping, though no fact of the knowledge. */
export const noted = (name: string, value: Value, said: string): Draft => ({
  act: 'note',
  note: 'noted',
  item: { name, value },
  said,
});

/** The note that waits for this turn's answer, if the last turn left one. */
export function waiting<Kind extends NoteKind>(
  standing: readonly Answer[],
  kind: Kind,
): Extract<Note, { note: Kind }> | undefined {
  const last = standing.at(-1);
  return last && isNoteOf(last, kind) ? last : undefined;
}

/** How often in a row the person was not understood, or not in one sense only. */
export function timesLost(standing: readonly Answer[]): number {
  let n = 0;
  for (let i = standing.length - 1; i >= 0 && lost(standing[i]!); i--) n++;
  return n;
}

const lost = (a: Answer): boolean => isNoteOf(a, 'not-understood') || isNoteOf(a, 'which');

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

/** What of a reading a correction of it keeps: where and how it was taken, and in what. */
export function takenAs(reading: Reading): Pick<ToldDraft, 'unit' | 'taken'> {
  const taken = takenOf(reading);
  return { ...(reading.unit !== undefined && { unit: reading.unit }), ...(taken && { taken }) };
}

/** The answers of one turn, numbered on from the last of the case. */
export function numbered(answers: readonly Answer[], drafts: readonly Draft[], by: Answer['by']): Answer[] {
  const last = answers.at(-1);
  return drafts.map((d, i) => ({ ...d, seq: (last?.seq ?? 0) + 1 + i, turn: (last?.turn ?? 0) + 1, by }));
}
