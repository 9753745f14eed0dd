import { word } from '../say.ts';
import { strands } from './order.ts';
import type { Wiring, WiringBranch, WiringRead } from './types.ts';

/** What stands at a point: a meter lead, or the lead that comes off. */
export type CallKind = 'red' | 'black' | 'lift';
export type Row =
  | { is: 'head'; title: string }
  /** Conductors that run side by side, one branch each. */
  | { is: 'stage'; label: string; branches: WiringBranch[] }
  | { is: 'posts'; label: string; nodes: string[] }
  | { is: 'branch'; branch: WiringBranch; clamp: boolean; lifted: boolean }
  | { is: 'call'; kind: CallKind; node: string };

export interface Rows {
  rows: Row[];
  /** Ends of the supply's conductors in the machine, the first leg first. */
  posts: string[];
  /** Post -> the points of its conductor from the post upward. */
  chains: Map<string, string[]>;
}

/** The picture from top to bottom: supply stage by stage, the posts, then string after string, and what stands at a point. */
export function rowsOf(wiring: Wiring, read: WiringRead | undefined): Rows {
  const { posts, chains, stages } = conductors(wiring);
  const calls = callsOf(wiring, read);
  const rows: Row[] = [];
  const called = new Set<string>();
  const call = (node: string): void => {
    if (called.has(node)) return;
    called.add(node);
    for (const kind of calls.get(node) ?? []) rows.push({ is: 'call', kind, node });
  };
  if (stages.length > 0) rows.push({ is: 'head', title: word('wiring-supply') });
  for (const [at, branches] of stages.entries()) {
    rows.push({ is: 'stage', label: beforeComma(branches[0]!.part), branches });
    // Points between this stage and the next one; the last stage ends at the posts.
    if (at < stages.length - 1) for (const b of branches) lower(chains, b).forEach(call);
  }
  const names = posts.map((id) => wiring.nodes.find((n) => n.id === id)?.name ?? id);
  if (posts.length > 0) rows.push({ is: 'posts', label: beforeComma(names[0]!), nodes: posts });
  posts.forEach(call);
  const used = new Set(stages.flat());
  const rest = wiring.branches.filter((b) => !used.has(b) && (!b.supply || (posts.includes(b.a) && posts.includes(b.b))));
  for (const { branches } of strands(rest, posts)) {
    rows.push({ is: 'head', title: titleOf(branches) });
    for (const branch of branches) {
      const lifted = wiring.lift?.opens.includes(branch.id) ?? false;
      // The two ends of a string that starts at no post: the first comes before its first part.
      if (!touched(rows, branch.a) && !touched(rows, branch.b)) call(branch.a);
      rows.push({ is: 'branch', branch, clamp: read?.clamp === branch.id, lifted });
      call(branch.a);
      call(branch.b);
    }
  }
  return { rows: joined(rows), posts, chains };
}

const touched = (rows: readonly Row[], node: string): boolean =>
  rows.some(
    (row) =>
      (row.is === 'branch' && (row.branch.a === node || row.branch.b === node)) ||
      (row.is === 'posts' && row.nodes.includes(node)),
  );

/** Strings of one name that follow each other stand under one heading. */
const joined = (rows: readonly Row[]): Row[] => {
  let last = '';
  return rows.filter((row) => {
    if (row.is !== 'head') return true;
    const again = row.title === last;
    last = row.title;
    return !again;
  });
};

const titleOf = (branches: readonly WiringBranch[]): string => {
  if (branches.some((b) => b.kind === 'coil')) return word('wiring-heater');
  if (branches.some((b) => b.kind === 'winding')) return word('wiring-motor');
  return word('wiring-beside');
};

function callsOf(wiring: Wiring, read: WiringRead | undefined): Map<string, CallKind[]> {
  const out = new Map<string, CallKind[]>();
  const add = (node: string | undefined, kind: CallKind) => node && out.set(node, [...(out.get(node) ?? []), kind]);
  add(wiring.lift?.node, 'lift');
  add(read?.points?.[0], 'red');
  add(read?.points?.[1], 'black');
  return out;
}

/**
 * From each point where the supply meets the machine, the conductor upward: wires and contacts, never a load. Two that meet
 * end there. Stages are as many branches away from the posts, outermost first.
 */
function conductors({ branches }: Wiring): { posts: string[]; chains: Map<string, string[]>; stages: WiringBranch[][] } {
  const outside = branches.filter((b) => b.supply && (b.kind === 'lead' || b.kind === 'contact'));
  const inside = new Set(branches.filter((b) => !b.supply).flatMap((b) => [b.a, b.b]));
  const ends = outside.flatMap((b) => [b.a, b.b]);
  const loose = (n: string) => ends.filter((e) => e === n).length === 1;
  // A post that no part of the machine hangs on (the cabinet) is an end of its conductor all the same.
  const posts = [...new Set(outside.map((b) => b.b))].filter((n) => inside.has(n) || (loose(n) && depthOf(n) >= 2));
  const chains = new Map<string, string[]>(posts.map((p) => [p, [p]]));
  const stages: WiringBranch[][] = [];
  const seen = new Set(posts);
  let heads = posts.map((post) => ({ post, at: post }));
  while (heads.length > 0) {
    const stage: WiringBranch[] = [];
    const next: typeof heads = [];
    for (const { post, at } of heads) {
      const up =
        outside.find((b) => b.b === at && !posts.includes(b.a)) ??
        outside.find((b) => b.a === at && !seen.has(b.b) && !posts.includes(b.b));
      if (!up) continue;
      const to = up.b === at ? up.a : up.b;
      stage.push(up);
      chains.get(post)!.push(to);
      if (!seen.has(to)) next.push({ post, at: to });
      seen.add(to);
    }
    if (stage.length > 0) stages.unshift(stage);
    heads = next;
  }
  return { posts, chains, stages };

  function depthOf(node: string): number {
    let deep = 0;
    for (let at: string | undefined = node; at !== undefined && deep < outside.length; deep++)
      at = outside.find((b) => b.b === at)?.a;
    return deep - 1;
  }
}

/** The end of a branch nearer to the post. */
const lower = (chains: ReadonlyMap<string, string[]>, b: WiringBranch): string[] => {
  for (const chain of chains.values()) {
    const [a, z] = [chain.indexOf(b.a), chain.indexOf(b.b)];
    if (a >= 0 && z >= 0) return [a < z ? b.a : b.b];
  }
  return [];
};
const beforeComma = (text: string): string => (text.includes(',') ? text.slice(0, text.lastIndexOf(',')) : text);
