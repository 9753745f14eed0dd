/**
 * The planner's world: suspects × checks, ends and minutes, and nothing of the trade.
 * Sets are bit words (Uint32Array), so that pairs of faults fit as well as single ones.
 */
export interface PlanSuspect {
  weight: number;
  /** Which end it leads to (repair, or trade for a supply fault); two suspects with one key need not be told apart. */
  key: number;
}
export interface PlanCheck {
  id: string;
  /** Order class: only the first class that holds a check able to split is used. */
  rank: number;
  /** Index into `states`; -1 = any state will do (a question). */
  state: number;
  /** Bit mask over `covers`, the ones in front included. */
  covers: number;
  /** Bit mask of covers that are put back on for it. */
  shuts: number;
  min: number;
  /** For each suspect: what the check shows if it is the truth; equal numbers = the same result. */
  shows: Int32Array;
  /** For each result number: the suspects that survive it. */
  survivors: Uint32Array[];
  /** For each suspect: its own confirming check? */
  confirms: boolean[];
  /** For each suspect: checks (indexes) that must have been done for that confirmation to count. */
  after: number[][];
  /** May it be done once more now? */
  repeatable: boolean;
  /** For each suspect: its confirming result is the repair itself, seen to work; no second reading is wanted. */
  alone: boolean[];
  /** For each suspect: does the result speak for it (not what a healthy machine shows)? */
  backs: boolean[];
}
export interface PlanWorld {
  suspects: PlanSuspect[];
  checks: PlanCheck[];
  /** Minutes to take off and put back each cover. */
  covers: number[];
  states: { to: number[] }[];
}
export interface PlanNode {
  live: Uint32Array;
  done: Uint32Array;
  twice: Uint32Array;
  covers: number;
  state: number;
}
/** What to do next: a check for the first time, or once more. */
export interface PlanAction {
  check: number;
  repeat: boolean;
  why: 'worth' | 'confirm';
}
export interface PlanBranch {
  p: number;
  /** Result number of the check; -1 for a repeat. */
  result: number;
  node: PlanNode;
}

export const words = (n: number) => Math.max(1, Math.ceil(n / 32));
export const has = (set: Uint32Array, i: number) => (set[i >>> 5]! & (1 << (i & 31))) !== 0;
export const put = (set: Uint32Array, i: number) => {
  set[i >>> 5] = (set[i >>> 5]! | (1 << (i & 31))) >>> 0;
};
export const withBit = (set: Uint32Array, i: number): Uint32Array => {
  const out = set.slice();
  put(out, i);
  return out;
};
const and = (a: Uint32Array, b: Uint32Array): Uint32Array => {
  const out = new Uint32Array(a.length);
  for (let i = 0; i < a.length; i++) out[i] = (a[i]! & b[i]!) >>> 0;
  return out;
};
const meet = (a: Uint32Array, b: Uint32Array): boolean => {
  for (let i = 0; i < a.length; i++) if (a[i]! & b[i]!) return true;
  return false;
};
const within = (a: Uint32Array, b: Uint32Array): boolean => {
  for (let i = 0; i < a.length; i++) if (a[i]! & ~b[i]!) return false;
  return true;
};
export function members(set: Uint32Array): number[] {
  const out: number[] = [];
  for (let w = 0; w < set.length; w++)
    for (let x = set[w]!; x; x = (x & (x - 1)) >>> 0) out.push(w * 32 + 31 - Math.clz32(x & -x));
  return out;
}

/** What the hot loops ask of a world again and again, laid out once. */
interface Laid {
  /** For each end: the suspects that lead to it. */
  keys: Uint32Array[];
  /** For each check: result numbers that occur, with who shows each. */
  results: { result: number; shownBy: Uint32Array }[][];
  /** For each suspect: the checks its proof hangs on. */
  relevant: Uint32Array[];
  weight: Float64Array;
  key: Int32Array;
  /** Room to add up weights by end, emptied after use. */
  byKey: Float64Array;
}
const laidOut = new WeakMap<PlanWorld, Laid>();
function lay(world: PlanWorld): Laid {
  const had = laidOut.get(world);
  if (had) return had;
  const n = world.suspects.length;
  const keys: Uint32Array[] = [];
  world.suspects.forEach((x, s) => {
    keys[x.key] ??= new Uint32Array(words(n));
    put(keys[x.key]!, s);
  });
  const results = world.checks.map((check) => {
    const by = new Map<number, Uint32Array>();
    for (let s = 0; s < n; s++) {
      const set = by.get(check.shows[s]!) ?? new Uint32Array(words(n));
      put(set, s);
      by.set(check.shows[s]!, set);
    }
    return [...by].map(([result, shownBy]) => ({ result, shownBy }));
  });
  const relevant = world.suspects.map((_, s) => {
    const set = new Uint32Array(words(world.checks.length));
    world.checks.forEach((check, c) => {
      if (check.confirms[s]) for (const a of check.after[s]!) put(set, a);
      if (check.confirms[s] || check.backs[s]) put(set, c);
    });
    return set;
  });
  const laid: Laid = {
    keys: keys.filter(Boolean),
    results,
    relevant,
    weight: Float64Array.from(world.suspects, (x) => x.weight),
    key: Int32Array.from(world.suspects, (x) => x.key),
    byKey: new Float64Array(keys.length + 1),
  };
  laidOut.set(world, laid);
  return laid;
}

// Two ways to the same live suspects are one place, but for the checks their proof still hangs on.
export function nodeKey(world: PlanWorld, n: PlanNode): string {
  const { relevant } = lay(world);
  const counts = new Uint32Array(n.done.length);
  for (const s of members(n.live)) for (let i = 0; i < counts.length; i++) counts[i] = counts[i]! | relevant[s]![i]!;
  let key = `${n.covers}/${n.state}`;
  for (let i = 0; i < n.live.length; i++) key += `,${n.live[i]}`;
  for (let i = 0; i < counts.length; i++) key += `;${(counts[i]! & n.done[i]!) >>> 0}:${(counts[i]! & n.twice[i]!) >>> 0}`;
  return key;
}

export function startNode(
  world: PlanWorld,
  at: { done?: Iterable<number>; twice?: Iterable<number>; covers?: number; state?: number } = {},
): PlanNode {
  const live = new Uint32Array(words(world.suspects.length));
  for (let i = 0; i < world.suspects.length; i++) put(live, i);
  const done = new Uint32Array(words(world.checks.length));
  for (const c of at.done ?? []) put(done, c);
  const twice = new Uint32Array(words(world.checks.length));
  for (const c of at.twice ?? []) put(twice, c);
  return { live, done, twice, covers: at.covers ?? 0, state: at.state ?? 0 };
}

/** Minutes of one check from where things stand: covers still closed, plug and dial, measuring. */
export function minutes(world: PlanWorld, node: PlanNode, check: PlanCheck): number {
  let sum = check.min;
  const missing = check.covers & ~(node.covers & ~check.shuts);
  for (let i = 0; i < world.covers.length; i++) if (missing & (1 << i)) sum += world.covers[i]!;
  if (check.state >= 0 && check.state !== node.state) sum += world.states[node.state]!.to[check.state]!;
  return sum;
}

const coversAfter = (open: number, check: PlanCheck): number => (open & ~check.shuts) | check.covers;

/** Where things stand after a check, for each result it can have. */
export function branches(world: PlanWorld, node: PlanNode, a: PlanAction): PlanBranch[] {
  const check = world.checks[a.check]!;
  const covers = coversAfter(node.covers, check);
  const state = check.state < 0 ? node.state : check.state;
  const done = withBit(node.done, a.check);
  const twice = a.repeat ? withBit(node.twice, a.check) : node.twice;
  if (a.repeat) return [{ p: 1, result: -1, node: { live: node.live, done, twice, covers, state } }];
  const laid = lay(world);
  const all = weightOf(laid, node.live, node.live);
  const out: PlanBranch[] = [];
  for (const { result, shownBy } of laid.results[a.check]!) {
    const w = weightOf(laid, shownBy, node.live);
    if (w > 0)
      out.push({ p: w / all, result, node: { live: and(node.live, check.survivors[result]!), done, twice, covers, state } });
  }
  return out;
}

function keyCount(laid: Laid, live: Uint32Array): number {
  let n = 0;
  for (const k of laid.keys) if (meet(k, live)) n++;
  return n;
}

function confirmed(world: PlanWorld, node: PlanNode, s: number): boolean {
  for (let c = 0; c < world.checks.length; c++) {
    const check = world.checks[c]!;
    if (!check.confirms[s] || !has(node.done, c) || !check.after[s]!.every((a) => has(node.done, a))) continue;
    if (check.alone[s] || has(node.twice, c)) return true;
    for (let d = 0; d < world.checks.length; d++) if (d !== c && world.checks[d]!.backs[s] && has(node.done, d)) return true;
  }
  return false;
}

/** Checks not done yet that can still take an end off the list, in the first class that holds one. */
export function splitters(world: PlanWorld, node: PlanNode): number[] {
  const laid = lay(world);
  const keys = keyCount(laid, node.live);
  if (keys < 2) return [];
  let rank = Number.POSITIVE_INFINITY;
  let out: number[] = [];
  for (let c = 0; c < world.checks.length; c++) {
    const check = world.checks[c]!;
    if (check.rank > rank || has(node.done, c)) continue;
    let splits = false;
    for (const { result, shownBy } of laid.results[c]!) {
      const left = check.survivors[result]!;
      if (!meet(shownBy, node.live) || within(node.live, left)) continue;
      if (keyCount(laid, and(node.live, left)) < keys) {
        splits = true;
        break;
      }
    }
    if (!splits) continue;
    if (check.rank < rank) {
      rank = check.rank;
      out = [];
    }
    out.push(c);
  }
  return out;
}

interface Path {
  action: PlanAction;
  perMinute: number;
}
/** First steps of the ways to confirm what is left, best first; only the lowest class that holds such a way. */
function confirmPaths(world: PlanWorld, node: PlanNode): Path[] {
  const live = members(node.live);
  const total = live.reduce((sum, s) => sum + world.suspects[s]!.weight, 0);
  const paths: (Path & { rank: number })[] = [];
  for (let c = 0; c < world.checks.length; c++) {
    const check = world.checks[c]!;
    const bySteps = new Map<string, { steps: PlanAction[]; weight: number }>();
    for (const s of live) {
      if (!check.confirms[s]) continue;
      const before = check.after[s]!.filter((a) => !has(node.done, a));
      const steps: PlanAction[] = before.map((a) => ({ check: a, repeat: false, why: 'confirm' }));
      if (!has(node.done, c)) steps.push({ check: c, repeat: false, why: 'confirm' });
      const backed =
        check.alone[s] || world.checks.some((d, i) => i !== c && d.backs[s] && (has(node.done, i) || before.includes(i)));
      if (!backed && !has(node.twice, c)) {
        if (!check.repeatable) continue;
        steps.push({ check: c, repeat: true, why: 'confirm' });
      }
      if (!steps.length) continue;
      const id = steps.map((x) => `${x.check}${x.repeat ? 'r' : ''}`).join();
      const had = bySteps.get(id) ?? { steps, weight: 0 };
      had.weight += world.suspects[s]!.weight;
      bySteps.set(id, had);
    }
    for (const { steps, weight } of bySteps.values()) {
      let at = node;
      let min = 0;
      for (const step of steps) {
        const ch = world.checks[step.check]!;
        min += minutes(world, at, ch);
        at = { ...at, covers: coversAfter(at.covers, ch), state: ch.state < 0 ? at.state : ch.state };
      }
      paths.push({
        action: steps[0]!,
        perMinute: weight / total / Math.max(min, 0.1),
        rank: Math.max(...steps.map((x) => world.checks[x.check]!.rank)),
      });
    }
  }
  const first = Math.min(...paths.map((p) => p.rank));
  return paths.filter((p) => p.rank === first).sort((a, b) => b.perMinute - a.perMinute || a.action.check - b.action.check);
}

export type Standing = 'confirmed' | 'split' | 'confirm' | 'stuck';
/** confirmed: one end left and proved. split, confirm: there is something to do. stuck: nothing permitted tells more. */
export function standing(world: PlanWorld, node: PlanNode): Standing {
  if (keyCount(lay(world), node.live) < 2) {
    if (members(node.live).some((s) => confirmed(world, node, s))) return 'confirmed';
    return confirmPaths(world, node).length ? 'confirm' : 'stuck';
  }
  return splitters(world, node).length ? 'split' : 'stuck';
}

/** Candidates played on in a rollout; the rest are too far behind in information per minute to win (tests/bench holds it against the optimum). */
const PLAYED_ON = 6;

/** Everything that may be done next under the classes. */
export function actions(world: PlanWorld, node: PlanNode): PlanAction[] {
  const split = splitters(world, node);
  if (split.length) return split.map((check) => ({ check, repeat: false, why: 'worth' }));
  if (keyCount(lay(world), node.live) > 1 || members(node.live).some((s) => confirmed(world, node, s))) return [];
  const seen = new Set<string>();
  return confirmPaths(world, node)
    .map((p) => p.action)
    .filter((a) => {
      const id = `${a.check}${a.repeat}`;
      return !seen.has(id) && seen.add(id);
    });
}

/** Bits of doubt about the end among live ∩ left. */
function entropy(laid: Laid, live: Uint32Array, left?: Uint32Array): number {
  const { weight, key, byKey } = laid;
  let all = 0;
  for (let w = 0; w < live.length; w++) {
    for (let x = left ? (live[w]! & left[w]!) >>> 0 : live[w]!; x; x = (x & (x - 1)) >>> 0) {
      const s = w * 32 + 31 - Math.clz32(x & -x);
      byKey[key[s]!] = byKey[key[s]!]! + weight[s]!;
      all += weight[s]!;
    }
  }
  let h = 0;
  for (let i = 0; i < byKey.length; i++) {
    const w = byKey[i]!;
    if (w > 0) h -= (w / all) * Math.log2(w / all);
    byKey[i] = 0;
  }
  return h;
}
function weightOf(laid: Laid, a: Uint32Array, b: Uint32Array): number {
  let sum = 0;
  for (let w = 0; w < a.length; w++)
    for (let x = (a[w]! & b[w]!) >>> 0; x; x = (x & (x - 1)) >>> 0) sum += laid.weight[w * 32 + 31 - Math.clz32(x & -x)]!;
  return sum;
}

/** Bits about the end that one check is worth from here. */
export function gainOf(world: PlanWorld, node: PlanNode, check: number): number {
  const laid = lay(world);
  const total = weightOf(laid, node.live, node.live);
  let gain = entropy(laid, node.live);
  for (const { result, shownBy } of laid.results[check]!) {
    const p = weightOf(laid, shownBy, node.live) / total;
    if (p > 0) gain -= p * entropy(laid, node.live, world.checks[check]!.survivors[result]!);
  }
  return gain;
}

/** Splitting checks by information per minute, best first; ties keep the order of the knowledge. */
function ranked(world: PlanWorld, node: PlanNode, split: readonly number[]): number[] {
  const laid = lay(world);
  const before = entropy(laid, node.live);
  const total = weightOf(laid, node.live, node.live);
  const score = split.map((c) => {
    const check = world.checks[c]!;
    let gain = before;
    for (const { result, shownBy } of laid.results[c]!) {
      const p = weightOf(laid, shownBy, node.live) / total;
      if (p > 0) gain -= p * entropy(laid, node.live, check.survivors[result]!);
    }
    return { c, score: Math.round((gain / Math.max(minutes(world, node, check), 0.1)) * 1e9) / 1e9 };
  });
  return score.sort((a, b) => b.score - a.score || a.c - b.c).map((x) => x.c);
}

/** Information per minute: the base policy the rollout plays on with. */
export function greedy(world: PlanWorld, node: PlanNode): PlanAction | undefined {
  const split = splitters(world, node);
  if (!split.length) return actions(world, node)[0];
  return { check: split.length === 1 ? split[0]! : ranked(world, node, split)[0]!, repeat: false, why: 'worth' };
}

export interface Ahead {
  min: number;
  checks: number;
}
/** Mean minutes and checks from a node to the end under a policy; exact over the tree of results. */
export function ahead(
  world: PlanWorld,
  node: PlanNode,
  policy: (w: PlanWorld, n: PlanNode) => PlanAction | undefined,
  memo = new Map<string, Ahead>(),
): Ahead {
  const id = nodeKey(world, node);
  const had = memo.get(id);
  if (had) return had;
  const a = policy(world, node);
  let out: Ahead = { min: 0, checks: 0 };
  if (a) {
    out = { min: minutes(world, node, world.checks[a.check]!), checks: 1 };
    for (const b of branches(world, node, a)) {
      const rest = ahead(world, b.node, policy, memo);
      out.min += b.p * rest.min;
      out.checks += b.p * rest.checks;
    }
  }
  memo.set(id, out);
  return out;
}

/** The next check by rollout: each candidate played on with information per minute. Ties go to the earlier check. */
export function rollout(
  world: PlanWorld,
  node: PlanNode,
  memo = new Map<string, Ahead>(),
): { action: PlanAction; ahead: Ahead } | undefined {
  let best: { action: PlanAction; ahead: Ahead } | undefined;
  const split = splitters(world, node);
  const candidates: PlanAction[] = split.length
    ? ranked(world, node, split)
        .slice(0, PLAYED_ON)
        .map((check) => ({ check, repeat: false, why: 'worth' }))
    : actions(world, node);
  for (const action of candidates) {
    const sum: Ahead = { min: minutes(world, node, world.checks[action.check]!), checks: 1 };
    for (const b of branches(world, node, action)) {
      const rest = ahead(world, b.node, greedy, memo);
      sum.min += b.p * rest.min;
      sum.checks += b.p * rest.checks;
    }
    sum.min = Math.round(sum.min * 1e6) / 1e6;
    if (!best || sum.min < best.ahead.min) best = { action, ahead: sum };
  }
  return best;
}

/** The groups of suspects no check left can tell apart by their ends. */
export function notToldApart(world: PlanWorld, node: PlanNode): number[][] {
  const live = members(node.live);
  const groups: number[][] = [];
  for (const s of live) {
    const home = groups.find((g) =>
      world.checks.every(
        (c, i) => has(node.done, i) || (has(c.survivors[c.shows[s]!]!, g[0]!) && has(c.survivors[c.shows[g[0]!]!]!, s)),
      ),
    );
    if (home) home.push(s);
    else groups.push([s]);
  }
  return groups.filter((g) => g.length > 1 && new Set(g.map((s) => world.suspects[s]!.key)).size > 1);
}
