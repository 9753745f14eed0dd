import { limit } from '../knowledge/needed-limits.ts';
import type { Knowledge, MayUse, Priority, Referral, Rule, Trace, Trade } from '../types.ts';
import { over } from './permits.ts';
import { evaluateSet, type Flat } from './run-rules.ts';
import type { Weighed } from './weigh.ts';

const STRICT: Record<MayUse, number> = { no: 0, limited: 1, yes: 2 };
const USES = Object.keys(STRICT) as MayUse[];

/**
 * Who should come, in order; whether the machine may be used meanwhile; how soon; parts to carry.
 * Over all suspects still live, by share: the rules of the set "referrals" say what kind of end each is and which parts may be named.
 */
export async function refer(
  k: Knowledge,
  live: readonly Weighed[],
  flat: Flat,
  readings: number[],
): Promise<{ referral?: Referral; trace: Trace[] }> {
  const total = live.reduce((sum, x) => sum + x.share, 0);
  if (!live.length || total <= 0) return { trace: [] };
  const least = limit(k, 'lowest-trade-share').lo;
  const covered = limit(k, 'parts-share').lo;
  const first = new Map<Trade, number>();
  const later = new Map<Trade, number>();
  const parts = new Map<string, number>();
  const kinds = new Map<string, { share: number; rule: string }>();
  const trace: Trace[] = [];
  const byPriority = new Map<Priority, number>();
  for (const x of live) {
    const share = x.share / total;
    for (const id of x.faults) {
      const fault = k.faults.get(id)!;
      const item: Flat = {
        ...flat,
        side: fault.side,
        first_trade: fault.end.trades[0] ?? 'appliance',
        may_use: fault.end.mayUse,
        priority: fault.end.priority,
        part_count: fault.end.parts.length,
      };
      const holds = (await evaluateSet(over(k, 'referrals', 'suspect'), item)).filter((r) => r.truth === 'holds');
      const kind = holds.find((r) => r.rule.then.kind !== undefined);
      if (kind?.rule.then.kind !== undefined) {
        const had = kinds.get(kind.rule.then.kind) ?? { share: 0, rule: kind.rule.id };
        kinds.set(kind.rule.then.kind, { share: had.share + share, rule: had.rule });
        if (!trace.some((t) => t.rule === kind.rule.id))
          trace.push({ set: 'referrals', rule: kind.rule.id, item: id, truth: 'holds', saw: kind.saw });
      }
      const trades = [...fault.end.trades, ...holds.flatMap((r) => r.rule.then.alsoTrade ?? [])];
      trades.forEach((t, i) => {
        const by = i === 0 ? first : later;
        by.set(t, (by.get(t) ?? 0) + share);
      });
      byPriority.set(fault.end.priority, (byPriority.get(fault.end.priority) ?? 0) + share);
      if (!holds.some((r) => r.rule.then.parts === 'none'))
        for (const part of fault.end.parts) parts.set(part, (parts.get(part) ?? 0) + share);
    }
  }
  // Many small suspects count together: the strictest answer that enough of the share stands behind.
  const mayUse = useOf(k, live);
  const priority = strictest<Priority>(byPriority, [0, 1, 2, 3, 4], least);
  const order = [...first]
    .filter(([, s]) => s >= least || first.size === 1)
    .sort(bySize)
    .map(([t]) => t);
  for (const [t, s] of [...later].sort(bySize)) if (s >= least && !order.includes(t)) order.push(t);
  const top = [...kinds].sort((a, b) => b[1].share - a[1].share || a[0].localeCompare(b[0]))[0];
  // Part by part of the likeliest faults, until four in five of those that need a part at all are covered.
  const carry: string[] = [];
  const needing = live
    .map((x) => ({
      share: x.share / total,
      parts: x.faults.flatMap((id) => k.faults.get(id)!.end.parts).filter((n) => parts.has(n)),
    }))
    .filter((x) => x.parts.length);
  const needed = needing.reduce((sum, x) => sum + x.share, 0);
  let reached = 0;
  for (const x of needing) {
    if (reached >= covered * needed - 1e-9) break;
    for (const part of x.parts) if (!carry.includes(part)) carry.push(part);
    reached = needing.filter((y) => y.parts.every((n) => carry.includes(n))).reduce((sum, y) => sum + y.share, 0);
  }
  const visit = live.reduce(
    (sum, x) =>
      sum +
      (x.share / total) * Math.max(...x.faults.map((id) => k.faults.get(id)!.end.visit_min ?? limit(k, 'visit-minutes').lo)),
    0,
  );
  const referral: Referral = {
    trades: order,
    mayUse,
    priority,
    parts: carry,
    visit_min: Math.round(visit / 5) * 5,
    readings,
    kind: top?.[0] ?? 'appliance-repair',
    rule: top?.[1].rule ?? '',
  };
  const strict = await noFreer(k, referral, flat);
  return { referral: strict.referral, trace: [...trace, ...strict.trace] };
}

/** A referral no freer and no later than the case allows: what its rules forbid, its faults do not give back. */
export async function noFreer(k: Knowledge, referral: Referral, flat: Flat): Promise<{ referral: Referral; trace: Trace[] }> {
  const holds = (await evaluateSet(over(k, 'referrals', 'case'), flat)).filter((x) => x.truth === 'holds');
  const soon = [referral.priority, ...holds.flatMap((x) => x.rule.then.priority ?? [])];
  const uses = [referral.mayUse, ...holds.flatMap((x) => x.rule.then.mayUse ?? [])];
  return {
    referral: { ...referral, mayUse: USES.find((x) => uses.includes(x))!, priority: Math.min(...soon) as Priority },
    trace: holds.map((x) => ({ set: 'referrals', rule: x.rule.id, truth: 'holds', saw: x.saw })),
  };
}
/** What may be done with the dryer by all that is still possible: the strictest that enough of the share stands behind. */
export function useOf(k: Knowledge, live: readonly Weighed[]): MayUse {
  const total = live.reduce((sum, x) => sum + x.share, 0);
  const shares = new Map<MayUse, number>();
  for (const x of live)
    for (const id of x.faults) {
      const { mayUse } = k.faults.get(id)!.end;
      shares.set(mayUse, (shares.get(mayUse) ?? 0) + x.share / total);
    }
  return strictest(shares, USES, limit(k, 'lowest-trade-share').lo);
}
function strictest<T>(shares: ReadonlyMap<T, number>, strictFirst: readonly T[], least: number): T {
  let sum = 0;
  for (const x of strictFirst) {
    sum += shares.get(x) ?? 0;
    if (sum >= least) return x;
  }
  return strictFirst.at(-1)!;
}
const bySize = <T extends string>(a: [T, number], b: [T, number]) => b[1] - a[1] || a[0].localeCompare(b[0]);

/** What the stops that hold ask for: every trade once, most urgent first; the strictest use; the lowest priority number. */
export function referByStops(k: Knowledge, stops: readonly { sign: string; rule: string }[], readings: number[]): Referral {
  const trades: Trade[] = [];
  let mayUse: MayUse = 'yes';
  let priority: Priority = 4;
  for (const s of stops) {
    const stop = k.stops.get(s.sign)!;
    for (const t of stop.thenWho) if (!trades.includes(t)) trades.push(t);
    if (STRICT[stop.mayUse] < STRICT[mayUse]) mayUse = stop.mayUse;
    if (stop.priority < priority) priority = stop.priority;
  }
  return { trades, mayUse, priority, parts: [], visit_min: 0, readings, kind: 'stop', rule: stops[0]?.rule ?? '' };
}

/** A machine or fuel this knowledge does not cover: the rule names who should come. */
export function referBeyond({ id, then }: Rule<'conclusions'>, readings: number[]): Referral {
  return {
    trades: then.trade ? [then.trade] : [],
    mayUse: then.mayUse ?? 'no',
    priority: then.priority ?? 3,
    parts: [],
    visit_min: then.visit_min ?? 0,
    readings,
    kind: then.kind ?? '',
    rule: id,
  };
}
