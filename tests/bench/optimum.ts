import {
  actions,
  ahead,
  branches,
  has,
  members,
  minutes,
  nodeKey,
  type PlanAction,
  type PlanNode,
  type PlanWorld,
  rollout,
  standing,
} from '../../rules/engine/plan.ts';

/**
 * Least mean minutes to the end, by dynamic programming over every order the classes allow.
 * @returns undefined above `cap` states: not computed
 */
export function optimum(world: PlanWorld, start: PlanNode, cap = 5_000_000): { min: number; states: number } | undefined {
  const memo = new Map<string, number>();
  let over = false;
  const value = (node: PlanNode): number => {
    if (over) return 0;
    const key = nodeKey(world, node);
    const had = memo.get(key);
    if (had !== undefined) return had;
    let best = Number.POSITIVE_INFINITY;
    for (const a of actions(world, node)) {
      let sum = minutes(world, node, world.checks[a.check]!);
      for (const b of branches(world, node, a)) {
        if (sum >= best) break;
        sum += b.p * value(b.node);
      }
      if (sum < best) best = sum;
    }
    if (best === Number.POSITIVE_INFINITY) best = 0;
    memo.set(key, best);
    if (memo.size > cap) over = true;
    return best;
  };
  const min = value(start);
  return over ? undefined : { min, states: memo.size };
}

/** Ours: the engine's own policy, asked anew at every node. */
export function ours(world: PlanWorld, start: PlanNode): number {
  const shared = new Map();
  return ahead(world, start, (w, n) => rollout(w, n, shared)?.action).min;
}

/**
 * The fixed order a person without a plan keeps: one own check a part, classes in order, covers from the quickest to the slowest,
 * inside a cover along the current path (the order of the knowledge); stop at the confirmed part.
 */
export function fixed(world: PlanWorld, start: PlanNode): number {
  const coverMinutes = (mask: number) => world.covers.reduce((sum, m, i) => (mask & (1 << i) ? sum + m : sum), 0);
  const own = new Set<number>();
  world.suspects.forEach((_, s) => {
    const c = world.checks.findIndex((check) => check.confirms[s]);
    if (c < 0) return;
    for (const a of world.checks[c]!.after[s]!) own.add(a);
    own.add(c);
  });
  const list = [...own].sort((a, b) => {
    const x = world.checks[a]!;
    const y = world.checks[b]!;
    return x.rank - y.rank || coverMinutes(x.covers) - coverMinutes(y.covers) || a - b;
  });
  const policy = (w: PlanWorld, n: PlanNode): PlanAction | undefined => {
    const at = standing(w, n);
    if (at === 'confirmed') return undefined;
    // No looking ahead: the part is read again once its own check has found it, not because the rest is ruled out.
    if (at === 'confirm' && w.checks.some((c, i) => has(n.done, i) && members(n.live).some((s) => c.confirms[s])))
      return actions(w, n)[0];
    const next = list.find((c) => !has(n.done, c));
    return next === undefined ? actions(w, n)[0] : { check: next, repeat: false, why: 'worth' };
  };
  return ahead(world, start, policy).min;
}
