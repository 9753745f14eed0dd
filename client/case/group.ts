import type { Line } from '../types.ts';

export interface Group {
  /** Number of the first line, counted from 1. */
  from: number;
  lines: Line[];
}
const MOST_APART = 3;

/**
 * Lines as they are shown: one answer to a list of signs gives many lines at once, and those fold into one entry.
 * What differs from the rest of its list ("yes" among "no") is what somebody wants to see.
 */
export function grouped(lines: Line[]): Group[] {
  const groups: Group[] = [];
  for (const [at, line] of lines.entries()) {
    const group = groups.at(-1);
    if (group?.lines[0]?.turn === line.turn) group.lines.push(line);
    else groups.push({ from: at + 1, lines: [line] });
  }
  return groups.flatMap((group) =>
    group.lines.length > MOST_APART ? [group] : group.lines.map((line, at) => ({ from: group.from + at, lines: [line] })),
  );
}

/**
 * A corrected answer comes last in what the server tells, since it was told last. Here it stays on the line it replaces,
 * among the answers of that turn; so does one that comes back when the correction is taken back.
 */
export function inPlace(before: readonly Line[], now: readonly Line[]): Line[] {
  const stands = new Set(now.map((line) => line.seq));
  const known = new Map(before.map((line, at) => [line.seq, at]));
  const left = new Map(before.flatMap((line, at) => (line.fact && !stands.has(line.seq) ? [[line.fact, at] as const] : [])));
  const placeOf = (line: Line) => known.get(line.seq) ?? left.get(line.fact ?? '');
  return now
    .map((line) => ({ line, at: placeOf(line) }))
    .toSorted((a, b) => (a.at ?? before.length) - (b.at ?? before.length))
    .map(({ line, at }) => (at === undefined ? line : { ...line, turn: before[at]!.turn }));
}

/** The commonest answer of a group, and the lines that say something else. */
export function summary({ lines }: Group): { usual: string; others: Line[] } {
  const counts = new Map<string, number>();
  for (const { shown } of lines) counts.set(shown, (counts.get(shown) ?? 0) + 1);
  const usual = [...counts].toSorted((a, b) => b[1] - a[1])[0]?.[0] ?? '';
  return { usual, others: lines.filter((line) => line.shown !== usual) };
}
