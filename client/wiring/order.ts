import type { WiringBranch } from './types.ts';

/** Branches in the order they are drawn from top to bottom, in strings: each runs from a point already there to another. */
export interface Strand {
  branches: WiringBranch[];
}
/** A resistor to one side (a timer motor, a bias heater) is never the way a string is named after. */
const COST = { lead: 1, contact: 1, coil: 1, winding: 1, resistor: 20 };

interface Path {
  nodes: string[];
  branches: WiringBranch[];
  cost: number;
}

/**
 * Takes a network apart into strings. First the way between the first two posts, then, from every point already drawn, the
 * cheapest way through what is left to another point already drawn; what returns to its own string stays with it. What hangs
 * on one point only, and what hangs on none, comes last. Works on any network; the order of the data settles ties.
 */
export function strands(branches: readonly WiringBranch[], posts: readonly string[]): Strand[] {
  const left = new Set(branches);
  const drawn = new Set(posts);
  const out: Strand[] = [];
  const take = (path: Path): void => {
    for (const b of path.branches) left.delete(b);
    for (const n of path.nodes) drawn.add(n);
    out.push({ branches: withSides(path, left, drawn) });
  };
  const [first, second] = posts;
  const main = first && second ? cheapest(left, first, new Set([second]), drawn) : undefined;
  if (main) take(main);
  for (;;) {
    const next = [...drawn]
      .map((from) => cheapest(left, from, new Set([...drawn].filter((n) => n !== from)), drawn))
      .filter((path) => path !== undefined)
      .reduce<Path | undefined>((best, path) => (best && best.cost <= path.cost ? best : path), undefined);
    if (next) take(fromLeft(next, posts));
    else if (left.size > 0) take(hanging(left, drawn));
    else return out;
  }
}

/** A string starts on the first leg's side and ends at another conductor, whichever way it was found. */
function fromLeft(path: Path, posts: readonly string[]): Path {
  if (posts.indexOf(path.nodes[0]!) < 1 || posts.indexOf(path.nodes.at(-1)!) > 0) return path;
  return { ...path, nodes: path.nodes.toReversed(), branches: path.branches.toReversed() };
}

/** The way and all that leaves it and comes back to it, each put in where it comes back (where it leaves, if that is the end). */
function withSides(path: Path, left: Set<WiringBranch>, drawn: Set<string>): WiringBranch[] {
  const after = new Map<number, WiringBranch[]>();
  for (let from = 0; from < path.nodes.length; from++) {
    const own = new Set(path.nodes.slice(from + 1));
    for (let side = find(); side; side = find()) {
      const end = path.nodes.indexOf(side.nodes.at(-1)!);
      const at = end === path.nodes.length - 1 ? Math.max(from, 1) : end;
      after.set(at, [...(after.get(at) ?? []), ...side.branches]);
      for (const b of side.branches) left.delete(b);
      for (const n of side.nodes) drawn.add(n);
    }
    function find(): Path | undefined {
      return cheapest(left, path.nodes[from]!, own, drawn);
    }
  }
  return path.branches.flatMap((b, at) => [b, ...(after.get(at + 1) ?? [])]);
}

/** The cheapest way from a point to one of others, through points not drawn yet. */
function cheapest(left: ReadonlySet<WiringBranch>, from: string, to: ReadonlySet<string>, drawn: ReadonlySet<string>) {
  const best = new Map<string, Path>([[from, { nodes: [from], branches: [], cost: 0 }]]);
  const done = new Set<string>();
  for (;;) {
    let here: Path | undefined;
    for (const [node, path] of best) if (!done.has(node) && (!here || path.cost < here.cost)) here = path;
    if (!here) return undefined;
    const at = here.nodes.at(-1)!;
    if (at !== from && to.has(at)) return here;
    done.add(at);
    if (at !== from && drawn.has(at)) continue;
    for (const b of left) {
      const other = b.a === at ? b.b : b.b === at ? b.a : undefined;
      if (other === undefined || other === at || done.has(other)) continue;
      const cost = here.cost + COST[b.kind];
      if (cost < (best.get(other)?.cost ?? Number.POSITIVE_INFINITY))
        best.set(other, { nodes: [...here.nodes, other], branches: [...here.branches, b], cost });
    }
  }
}

/** One branch that leads nowhere known: from a drawn point if it can, else from its own first end. */
function hanging(left: ReadonlySet<WiringBranch>, drawn: ReadonlySet<string>): Path {
  const branch = [...left].find((b) => drawn.has(b.a) || drawn.has(b.b)) ?? [...left][0]!;
  const nodes = drawn.has(branch.b) && !drawn.has(branch.a) ? [branch.b, branch.a] : [branch.a, branch.b];
  return { nodes, branches: [branch], cost: 0 };
}
