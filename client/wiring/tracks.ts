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

/** What is placed so far: the spans on each lane, and the lane of each point. */
interface Lanes {
  spans: ReadonlyMap<string, Span>;
  lanes: Span[][];
  of: Map<string, number>;
}

/**
 * Each point is a line from the first row it is met in to the last, on a track of its own while it lasts. The first leg keeps
 * the left, the other conductors the right; what lies between takes the leftmost track that is free, and the track of the
 * point before it where that one ends: a string of parts then runs straight down.
 */
export function tracksOf({ rows, posts, chains }: Rows): Tracks {
  const placed: Lanes = { spans: spansOf(rows), lanes: [], of: new Map() };
  const conductor = (post: string): string[] => chains.get(post) ?? [post];
  const [left, ...right] = posts;
  const outer = new Set(right.flatMap(conductor));
  if (left) for (const node of conductor(left)) if (placed.spans.has(node) && !placed.of.has(node)) place(placed, node, 0);
  for (const [at, row] of rows.entries()) if (row.is === 'branch') placeBranch(placed, row.branch, at, outer);
  const count = Math.max(1, placed.lanes.length);
  for (const [at, post] of right.entries())
    for (const node of conductor(post)) if (!placed.of.has(node)) placed.of.set(node, count + at);
  return { of: placed.of, count: count + right.length };
}

function place({ spans, lanes, of }: Lanes, node: string, lane: number): void {
  of.set(node, lane);
  lanes[lane] = [...(lanes[lane] ?? []), spans.get(node)!];
}

/** Places the ends of a branch that have no track yet; those of the outer conductors get theirs last. */
function placeBranch(placed: Lanes, { a, b }: WiringBranch, row: number, outer: ReadonlySet<string>): void {
  const { spans, of } = placed;
  for (const [node, other] of [
    [a, b],
    [b, a],
  ] as const) {
    if (of.has(node) || outer.has(node)) continue;
    const before = of.get(other);
    const goesOn = before !== undefined && spans.get(other)!.to === row && spans.get(node)!.from === row;
    place(placed, node, goesOn ? before : freeLane(placed, node, before === undefined ? 0 : before + 1));
  }
}

/** The leftmost lane from one on that nothing else takes while this point lasts. */
function freeLane({ spans, lanes }: Lanes, node: string, from: number): number {
  const { from: first, to } = spans.get(node)!;
  let lane = from;
  while (lanes[lane]?.some((span) => span.from <= to && span.to >= first)) lane++;
  return lane;
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
