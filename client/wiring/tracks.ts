import type { Row, Rows } from './rows.ts';
import type { WiringBranch } from './types.ts';

export interface Tracks {
  /** Point -> its track, counted from the left. */
  of: Map<string, number>;
  count: number;
}
interface Span {
  from: number;
  to: number;
}

/**
 * Each point is a line from the first row it is met in to the last, on a track of its own while it lasts. The first leg keeps
 * the left, the other conductors the right; what lies between takes the leftmost track that is free, and the track of the
 * point before it where that one ends: a string of parts then runs straight down.
 */
export function tracksOf({ rows, posts, chains }: Rows): Tracks {
  const spans = spansOf(rows);
  const lanes: Span[][] = [];
  const of = new Map<string, number>();
  const place = (node: string, lane: number): void => {
    of.set(node, lane);
    lanes[lane] = [...(lanes[lane] ?? []), spans.get(node)!];
  };
  const free = (node: string, from: number): number => {
    const { from: first, to } = spans.get(node)!;
    let lane = from;
    while (lanes[lane]?.some((s) => s.from <= to && s.to >= first)) lane++;
    return lane;
  };
  const [left, ...right] = posts;
  const fixed = new Set(right.flatMap((post) => chains.get(post) ?? [post]));
  if (left) for (const node of chains.get(left) ?? [left]) if (spans.has(node) && !of.has(node)) place(node, 0);
  for (const [at, row] of rows.entries()) {
    if (row.is !== 'branch') continue;
    const { a, b } = row.branch;
    for (const [node, other] of [
      [a, b],
      [b, a],
    ] as const) {
      if (of.has(node) || fixed.has(node)) continue;
      const before = of.get(other);
      const goesOn = before !== undefined && spans.get(other)!.to === at && spans.get(node)!.from === at;
      place(node, goesOn ? before : free(node, before === undefined ? 0 : before + 1));
    }
  }
  const count = Math.max(1, lanes.length);
  for (const [i, post] of right.entries())
    for (const node of chains.get(post) ?? [post]) if (!of.has(node)) of.set(node, count + i);
  return { of, count: count + right.length };
}

export const endsOf = (row: Row): string[] => {
  const both = (b: WiringBranch) => [b.a, b.b];
  switch (row.is) {
    case 'stage':
      return row.branches.flatMap(both);
    case 'branch':
      return both(row.branch);
    case 'posts':
      return row.nodes;
    case 'call':
      return [row.node];
    case 'head':
      return [];
  }
};

function spansOf(rows: readonly Row[]): Map<string, Span> {
  const out = new Map<string, Span>();
  for (const [at, row] of rows.entries())
    for (const node of endsOf(row)) out.set(node, { from: out.get(node)?.from ?? at, to: at });
  return out;
}
