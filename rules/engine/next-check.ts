import { limit } from '../knowledge/needed-limits.ts';
import type { CaseFacts, Check, Knowledge, NextCheck, Prepared } from '../types.ts';
import { candidates, pairs } from './candidates.ts';
import { latest, placeOf, withCoversInFront } from './case.ts';
import { shutFor } from './covers.ts';
import { checkStanding } from './derive.ts';
import { fitsCircuit } from './fits.ts';
import { chance } from './likelihood.ts';
import { afterSeen, outcomeSeen } from './outcome.ts';
import type { Permitted } from './permits.ts';
import {
  type Ahead,
  branches,
  gainOf,
  members,
  minutes,
  notToldApart,
  type PlanCheck,
  type PlanNode,
  type PlanWorld,
  put,
  rollout,
  standing,
  startNode,
  words,
} from './plan.ts';
import { type CheckTable, checkTable, coversOf } from './table.ts';
import type { Weighed } from './weigh.ts';

export interface Looking {
  world: PlanWorld;
  node: PlanNode;
  /** Live candidates, in the order of the world's suspects. */
  live: Weighed[];
  /** Check -> result number -> its outcome in words of the knowledge. */
  names: (string | undefined)[][];
}

/** What a candidate leads to. A technician must tell repairs apart (a supply fault: trades); others only what happens next. */
export function endKey(k: Knowledge, faults: readonly string[], toThePart: boolean): string {
  const parts = faults.map((id) => {
    const f = k.faults.get(id)!;
    if (!toThePart) return `${f.end.trades[0]}|${f.end.mayUse}|${f.end.priority}`;
    return f.side === 'supply' ? `supply:${f.end.trades.join('>')}` : `repair:${f.end.repair}`;
  });
  return [...new Set(parts)].sort().join(' + ');
}

/** The planner's world for what is still live: checks that may be asked, and those already done. */
export function looking(
  p: Prepared,
  f: CaseFacts,
  weighed: readonly Weighed[],
  may: readonly Permitted[],
  line_v: number,
  scale?: number,
  twoAtOnce = false,
): Looking {
  const k = p.knowledge;
  const live = weighed.filter((x) => x.live);
  // In the order of the knowledge, not of the shares: the list itself is what the kept tables are known by.
  const all = [...candidates(p, f.families), ...(twoAtOnce ? pairs(p, f.families) : [])].map((c) => c.faults);
  const familyKey = `${f.families.join('+')}${twoAtOnce ? ' and pairs' : ''}`;
  const keyIds = new Map<string, number>();
  const suspects = live.map((x) => {
    const key = endKey(k, x.faults, true);
    if (!keyIds.has(key)) keyIds.set(key, keyIds.size);
    return { weight: x.share, key: keyIds.get(key)! };
  });
  const rank = new Map(may.map((m) => [m.check.id, m.rank]));
  const told = latest(f.readings);
  const seen = new Map<string, string>();
  const usable: { check: Check; done: boolean; rank: number }[] = [];
  for (const check of k.checks.values()) {
    if (check.anywhere) continue;
    const at = checkStanding(k, f, check);
    const o = outcomeSeen(p, f, check, line_v, scale);
    if (o) seen.set(check.id, o);
    if (at === 'done') usable.push({ check, done: true, rank: rank.get(check.id) ?? 99 });
    else if (at === 'open' && rank.has(check.id) && check.kind !== 'proof' && check.kind !== 'gate')
      usable.push({ check, done: false, rank: rank.get(check.id)! });
  }
  const index = new Map(usable.map((u, i) => [u.check.id, i]));
  const table = new Map<string, CheckTable>(
    usable.map((u) => [u.check.id, checkTable(p, u.check, all, familyKey, line_v, scale)]),
  );
  const coverIds = [...k.covers.keys()].filter((c) => c !== 'none');
  const maskOf = (covers: Iterable<string>) =>
    withCoversInFront(k, [...covers]).reduce((m, c) => m | (1 << coverIds.indexOf(c)), 0);
  const stateIds = [...k.states.keys()];
  const ids = live.map((x) => x.faults.join('+'));
  const groupsOf = (t: CheckTable) => ids.map((id) => t.groupOf.get(id)!);
  const checks: PlanCheck[] = usable.map(({ check, done, rank: r }) => {
    const t = table.get(check.id)!;
    const groups = groupsOf(t);
    // Only of what a live candidate can show; the other results cannot come.
    const members = new Map<number, Uint32Array>();
    groups.forEach((g, s) => {
      const set = members.get(g) ?? new Uint32Array(words(live.length));
      members.set(g, set);
      put(set, s);
    });
    const survivors: Uint32Array[] = [];
    for (const g of members.keys()) {
      const set = new Uint32Array(words(live.length));
      for (const [other, mine] of members) if (t.survives[g]![other]) for (let w = 0; w < set.length; w++) set[w]! |= mine[w]!;
      survivors[g] = set;
    }
    const confirms: boolean[] = [];
    const alone: boolean[] = [];
    const after: number[][] = [];
    live.forEach((x, s) => {
      confirms[s] = false;
      alone[s] = false;
      after[s] = [];
      for (const c of check.confirms) {
        if (!x.faults.includes(c.fault)) continue;
        const shown = done ? seen.get(check.id) : t.outcome[groups[s]!];
        if (shown !== c.outcome) continue;
        const links: number[] = [];
        const reachable = (c.after ?? []).every((a) => {
          if (seen.has(a.check)) return seen.get(a.check) === a.outcome;
          const other = k.checks.get(a.check);
          if (!other || !p.circuits.some((m) => fitsCircuit(other, m.attributes))) return true;
          const i = index.get(a.check);
          if (i === undefined) return false;
          const ot = table.get(a.check)!;
          if (ot.outcome[ot.groupOf.get(ids[s]!)!] !== a.outcome) return false;
          links.push(i);
          return true;
        });
        if (reachable) {
          confirms[s] = true;
          alone[s] = c.alone ?? false;
          after[s] = links;
          break;
        }
      }
    });
    const seqs = check.settles.map((fact) => told.get(fact)?.seq);
    const backs = live.map((x, s) => (done ? seqs.some((q) => q !== undefined && x.for.includes(q)) : t.backs[groups[s]!]!));
    return {
      id: check.id,
      rank: r,
      state: stateIds.indexOf(check.state),
      covers: maskOf(coversOf(p, check)),
      shuts: shutFor(k, check).reduce((m, c) => m | (1 << coverIds.indexOf(c)), 0),
      min: check.min,
      shows: Int32Array.from(groups),
      survivors,
      confirms,
      repeatable: rank.has(check.id),
      alone,
      after,
      backs,
    };
  });
  const world: PlanWorld = {
    suspects,
    checks,
    covers: coverIds.map((c) => k.covers.get(c)!.open_min + k.covers.get(c)!.close_min),
    states: stateIds.map((s) => ({ to: stateIds.map((t) => k.states.get(s)!.to[t] ?? 0) })),
  };
  const twice = usable.flatMap((u, i) => (u.done && readTwice(f, u.check) ? [i] : []));
  const node = startNode(world, {
    done: usable.flatMap((u, i) => (u.done ? [i] : [])),
    twice,
    covers: maskOf(f.coversOpen),
    state: Math.max(0, stateIds.indexOf(f.state)),
  });
  return { world, node, live, names: usable.map((u) => table.get(u.check.id)!.outcome) };
}

/** Was any fact of the check read a second time? */
export const readTwice = (f: CaseFacts, check: Check): boolean =>
  check.settles.some((fact) => f.readings.some((r) => r.fact === fact && r.repeats !== undefined));

/** The technician's next check: rollout inside the first class that can split, then the way to proof. */
export function planned(
  k: Knowledge,
  l: Looking,
): { next?: NextCheck; gain: number; ahead: Ahead; standing: ReturnType<typeof standing>; notToldApart: string[][] } {
  const at = standing(l.world, l.node);
  const groups = at === 'stuck' ? notToldApart(l.world, l.node).map((g) => g.map((s) => l.live[s]!.faults.join('+'))) : [];
  const best = rollout(l.world, l.node);
  if (!best || at === 'confirmed') return { gain: 0, ahead: { min: 0, checks: 0 }, standing: at, notToldApart: groups };
  const check = k.checks.get(l.world.checks[best.action.check]!.id)!;
  const table = l.world.checks[best.action.check]!;
  const outcomes = branches(l.world, l.node, best.action).map((b) => ({
    outcome: l.names[best.action.check]![b.result] ?? 'odd',
    leaves: members(b.node.live).map((s) => l.live[s]!.faults),
  }));
  const next: NextCheck = {
    check: check.id,
    why: best.action.why,
    cost_min: round(minutes(l.world, l.node, table), 2),
    outcomes: best.action.repeat ? [] : outcomes,
  };
  return {
    next,
    gain: best.action.repeat ? 0 : gainOf(l.world, l.node, best.action.check),
    ahead: { min: round(best.ahead.min, 1), checks: round(best.ahead.checks, 1) },
    standing: at,
    notToldApart: groups,
  };
}

export const round = (x: number, digits: number) => Math.round(x * 10 ** digits) / 10 ** digits;

/**
 * The next question for somebody who is not led to the part: the one that tells most about what happens next, per minute.
 * Answers are probable, not certain; a question whose every answer leaves the same disposition is not asked.
 */
export function asking(
  p: Prepared,
  f: CaseFacts,
  weighed: readonly Weighed[],
  may: readonly Permitted[],
): { next?: NextCheck; ahead: Ahead } {
  const k = p.knowledge;
  const live = weighed.filter((x) => x.live && x.share > 0);
  const keys = live.map((x) => endKey(k, x.faults, false));
  const total = live.reduce((sum, x) => sum + x.share, 0);
  const turn = limit(k, 'turn-minutes').lo;
  const leastGain = limit(k, 'least-telling').lo;
  const leastChange = limit(k, 'least-change').lo;
  const now = live.map((x) => x.share / total);
  const before = entropy(keys, now);
  const told = whatIsTold(k, live, now);
  let best: { check: Check; gain: number; score: number; rank: number } | undefined;
  let worthwhile = 0;
  let minutes = 0;
  const worth = may.filter((m) => m.check.kind === 'worth' && checkStanding(k, f, m.check) === 'open' && !m.check.measure);
  const first = Math.min(...worth.map((m) => m.rank));
  for (const m of worth) {
    if (m.rank !== first) continue;
    const fact = m.check.settles[0];
    if (!fact || before === 0) continue;
    const choices = (k.facts.get(fact)?.choices ?? []).filter((c) => !k.facts.get(fact)?.noEvidence?.includes(c));
    let after = 0;
    let changes = 0;
    for (const c of choices) {
      const posts = live.map((x, i) => now[i]! * chance(k, x.faults, fact, c));
      const pc = posts.reduce((a, b) => a + b, 0);
      if (pc <= 0) continue;
      const then = posts.map((x) => x / pc);
      after += pc * entropy(keys, then);
      if (whatIsTold(k, live, then) !== told) changes += pc;
    }
    // Asked only where an answer may change what the person is told, and often enough to be worth the turn.
    const gain = before - after;
    if (gain < leastGain || changes < leastChange) continue;
    worthwhile++;
    minutes += m.check.min;
    const score = round(gain / (m.check.min + turn), 9);
    if (!best || score > best.score) best = { check: m.check, gain, score, rank: m.rank };
  }
  if (!best) return proving(p, f, live, worth);
  const outcomes = outcomesOf(k, best.check, live);
  return {
    next: { check: best.check.id, why: 'worth', cost_min: best.check.min, outcomes },
    ahead: { min: round(minutes, 1), checks: worthwhile },
  };
}

/** What these shares come to for the person: who comes first, whether it may be used, how soon. The same thresholds as in the referral. */
function whatIsTold(k: Knowledge, live: readonly Weighed[], shares: readonly number[]): string {
  const least = limit(k, 'lowest-trade-share').lo;
  const trades = new Map<string, number>();
  const use = new Map<string, number>();
  const priority = new Map<string, number>();
  const add = (to: Map<string, number>, key: string, share: number) => to.set(key, (to.get(key) ?? 0) + share);
  live.forEach((x, i) => {
    for (const id of x.faults) {
      const { end } = k.faults.get(id)!;
      add(trades, end.trades[0] ?? 'appliance', shares[i]!);
      add(use, end.mayUse, shares[i]!);
      add(priority, String(end.priority), shares[i]!);
    }
  });
  const called = [...trades].filter(([, share]) => share >= least);
  const first = [...trades].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0]))[0]?.[0];
  const strictest = (of: ReadonlyMap<string, number>, order: readonly string[]) => {
    let sum = 0;
    return order.find((x) => {
      sum += of.get(x) ?? 0;
      return sum >= least;
    });
  };
  const listed = called.map(([trade]) => trade).sort();
  return `${first}|${listed}|${strictest(use, ['no', 'limited', 'yes'])}|${strictest(priority, ['0', '1', '2', '3', '4'])}`;
}

// One end is left: what proves it is still asked where this person may do it (a heated cycle tried, the breaker closed once).
function proving(
  p: Prepared,
  f: CaseFacts,
  live: readonly Weighed[],
  worth: readonly Permitted[],
): { next?: NextCheck; ahead: Ahead } {
  const k = p.knowledge;
  const none = { ahead: { min: 0, checks: 0 } };
  if (new Set(live.map((x) => endKey(k, x.faults, false))).size !== 1 || live.some((x) => x.confirmedBy.length)) return none;
  const seen = new Map<string, string>();
  for (const c of k.checks.values()) {
    const o = outcomeSeen(p, f, c, 0);
    if (o) seen.set(c.id, o);
  }
  const able = worth
    .map((m) => m.check)
    .filter((c) =>
      c.confirms.some(
        (x) =>
          live.some((l) => l.faults.includes(x.fault) && chance(k, l.faults, c.settles[0]!, x.outcome) > 0.05) &&
          afterSeen(p, x.after, seen),
      ),
    );
  const check = able.sort((a, b) => a.min - b.min)[0];
  if (!check) return none;
  return {
    next: { check: check.id, why: 'confirm', cost_min: check.min, outcomes: outcomesOf(k, check, live) },
    ahead: { min: check.min, checks: 1 },
  };
}

function outcomesOf(k: Knowledge, check: Check, live: readonly Weighed[]): { outcome: string; leaves: string[][] }[] {
  const fact = check.settles[0]!;
  return (k.facts.get(fact)?.choices ?? []).map((c) => ({
    outcome: c,
    leaves: live.filter((x) => chance(k, x.faults, fact, c) > 0.05).map((x) => x.faults),
  }));
}

function entropy(keys: readonly string[], shares: readonly number[]): number {
  const by = new Map<string, number>();
  keys.forEach((key, i) => {
    by.set(key, (by.get(key) ?? 0) + shares[i]!);
  });
  let h = 0;
  for (const x of by.values()) if (x > 0) h -= x * Math.log2(x);
  return round(h, 9);
}

/** The gates of the families in talk that nobody has answered yet, in order; those put off come last. */
export function openGates(k: Knowledge, f: CaseFacts, may: readonly Permitted[]): Check[] {
  const can = new Set(may.map((m) => m.check.id));
  const ids = [...new Set(f.families.flatMap((id) => k.families.get(id)?.gates ?? []))];
  const gates = ids.map((id) => k.checks.get(id)).filter((c): c is Check => c !== undefined && can.has(c.id));
  const open = gates.filter((c) => checkStanding(k, f, c) === 'open');
  return open.length ? open : gates.filter((c) => checkStanding(k, f, c) === 'later');
}

/**
 * A doubtful reading to ask again: one that floats, two of one point that disagree, or the one the likeliest candidates cannot explain.
 * Never a fourth time, and a third time only where the first two disagree.
 */
export function doubtful(
  p: Prepared,
  f: CaseFacts,
  weighed: readonly Weighed[],
  floating: ReadonlySet<number>,
  classes: ReadonlyMap<number, string>,
  allowed: ReadonlySet<string>,
): number | undefined {
  // A volunteered reading above this person's level is judged, never asked for again.
  const may = (seq: number) => {
    const r = f.readings.find((x) => x.seq === seq)!;
    return r.check !== undefined && allowed.has(r.check);
  };
  const same = (seq: number) => {
    const r = f.readings.find((x) => x.seq === seq)!;
    return f.readings.filter((x) => placeOf(p.knowledge, x) === placeOf(p.knowledge, r));
  };
  for (const r of f.readings) {
    const all = same(r.seq);
    if (
      p.knowledge.facts.get(r.fact)?.kind === 'quantity' &&
      may(r.seq) &&
      all.length === 2 &&
      all[0]!.seq === r.seq &&
      classes.get(all[0]!.seq) !== classes.get(all[1]!.seq)
    )
      return r.seq;
  }
  for (const seq of floating) if (may(seq) && same(seq).length < 2) return seq;
  const live = weighed.filter((x) => x.live);
  if (!live.length || live[0]!.against.length === 0) return undefined;
  const blame = new Map<number, number>();
  for (const x of live) for (const seq of x.against) blame.set(seq, (blame.get(seq) ?? 0) + x.share);
  const ranked = [...blame].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  for (const [seq] of ranked) {
    const r = f.readings.find((x) => x.seq === seq)!;
    const check = r.check ? p.knowledge.checks.get(r.check) : undefined;
    if (check && check.kind !== 'gate' && may(seq) && same(seq).length < 2) return seq;
  }
  return undefined;
}

/** Readings of one point that two others, alike, stand against: slips, and no evidence. */
export function outvoted(k: Knowledge, f: CaseFacts, classes: ReadonlyMap<number, string>): Set<number> {
  const out = new Set<number>();
  const byFact = new Map<string, number[]>();
  for (const r of f.readings) byFact.set(placeOf(k, r), [...(byFact.get(placeOf(k, r)) ?? []), r.seq]);
  for (const seqs of byFact.values()) {
    // Asked to look again, a person who says otherwise has looked better: what was seen first counts no more.
    const kind = k.facts.get(f.readings.find((r) => r.seq === seqs[0])!.fact)?.kind;
    if (kind === 'choice') for (const q of seqs.slice(0, -1)) if (classes.get(q) !== classes.get(seqs.at(-1)!)) out.add(q);
    if (kind === 'choice' || seqs.length < 3) continue;
    const count = new Map<string, number>();
    for (const q of seqs) count.set(classes.get(q) ?? '', (count.get(classes.get(q) ?? '') ?? 0) + 1);
    const [most, n] = [...count].sort((a, b) => b[1] - a[1])[0]!;
    if (n >= 2) for (const q of seqs) if ((classes.get(q) ?? '') !== most) out.add(q);
  }
  return out;
}
