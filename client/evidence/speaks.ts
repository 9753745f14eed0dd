import type { EvidenceRow, SuspectRow } from '../../server/types.ts';

export interface Spoken {
  text: string;
  /** What the reading would have been under this suspect, with unit. */
  would?: string | undefined;
}

/** What speaks for or against a suspect: the reading with its number, and the number this suspect would have given. */
export function speaks(suspect: SuspectRow, evidence: readonly EvidenceRow[], is: 'for' | 'against'): Spoken[] {
  if (!suspect.speaks) return suspect[is].map((text) => ({ text }));
  return suspect.speaks
    .filter((one) => one.is === is)
    .flatMap(({ seq, would }) => {
      const row = evidence.find((r) => r.seq === seq);
      return row ? [{ text: `${row.label}: ${row.shown}`, would }] : [];
    });
}

/** No two suspects have one name. */
export const keyOf = ({ label }: SuspectRow): string => label;

export interface Moved {
  up: boolean;
  from: number;
}
/** Below this a bar has not moved for the eye. */
const SEEN = 0.02;

/** How a suspect's share moved since the reply before; undefined = not seen before, or as good as unmoved. */
export function moved(suspect: SuspectRow, before: readonly SuspectRow[] | undefined): Moved | undefined {
  const was = before?.find((one) => keyOf(one) === keyOf(suspect));
  if (!was?.live || Math.abs(was.share - suspect.share) < SEEN) return undefined;
  return { up: suspect.share > was.share, from: was.share };
}

/** Went out with the last answer. */
export const justOut = (suspect: SuspectRow, before: readonly SuspectRow[] | undefined): boolean =>
  before?.some((one) => one.live && keyOf(one) === keyOf(suspect)) ?? false;
