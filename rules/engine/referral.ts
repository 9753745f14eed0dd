import { limit } from '../knowledge/needed-limits.ts';
import type { Fault, Knowledge, MayUse, Priority, Referral, Rule, StopSign, Trace, Trade } from '../types.ts';
import { over } from './permits.ts';
import { evaluateSet, type Flat, type RuleOutcome } from './run-rules.ts';
import type { Weighed } from './weigh.ts';

const STRICT: Record<MayUse, number> = { no: 0, limited: 1, yes: 2 };
const USES = Object.keys(STRICT) as MayUse[];

/**
 * Who should come, in order; whether the machine may be used meanwhile; how soon; parts to carry.
 * Over all suspects still live, by share: the rules of the set "referrals" say what kind of end each is and which parts may be named.
 * @param flat  the case as those rules see it, with its conclusion
 * @param readings  seqs of what is written out for whoever comes
 */
export async function refer(
  k: Knowledge,
  live: readonly Weighed[],
  flat: Flat,
  readings: number[],
): Promise<{ referral?: Referral; trace: Trace[] }> {
  const total = live.reduce((sum, x) => sum + x.share, 0);
  if (!live.length || total <= 0) return { trace: [] };
  const ends = await endsOf(k, live, total, flat);
  const least = limit(k, 'lowest-trade-share').lo;
  const kind = kindOf(ends);
  const referral: Referral = {
    trades: tradesOf(ends, least),
    mayUse: useOf(k, live),
    // Many small suspects count together: the strictest answer that enough of the share stands behind.
    priority: strictest<Priority>(
      sharesBy(ends, (end) => [end.fault.end.priority]),
      [0, 1, 2, 3, 4],
      least,
    ),
    parts: partsOf(k, live, total, new Set(ends.flatMap((end) => end.parts))),
    visit_min: visitOf(k, live, total),
    readings,
    kind: kind?.kind ?? '',
    rule: kind?.rule ?? '',
  };
  const strict = await noFreer(k, referral, flat);
  return { referral: strict.referral, trace: [...kindsTraced(ends), ...strict.trace] };
}

/** One fault of one suspect, as the rules of the set "referrals" see its end. */
interface End {
  fault: Fault;
  share: number;
  /** The rule that says what kind of end it is. */
  by: RuleOutcome<Rule<'referrals'>> | undefined;
  /** Who comes first, then who may come after. */
  trades: Trade[];
  parts: string[];
}
async function endsOf(k: Knowledge, live: readonly Weighed[], total: number, flat: Flat): Promise<End[]> {
  const out: End[] = [];
  for (const suspect of live)
    for (const id of suspect.faults) {
      const fault = k.faults.get(id)!;
      const { trades, mayUse, priority, parts } = fault.end;
      const item: Flat = {
        ...flat,
        side: fault.side,
        first_trade: trades[0] ?? 'appliance',
        may_use: mayUse,
        priority,
        part_count: parts.length,
      };
      const holds = (await evaluateSet(over(k, 'referrals', 'suspect'), item)).filter((r) => r.truth === 'holds');
      out.push({
        fault,
        share: suspect.share / total,
        by: holds.find((r) => r.rule.then.kind !== undefined),
        trades: [...trades, ...holds.flatMap((r) => r.rule.then.alsoTrade ?? [])],
        parts: holds.some((r) => r.rule.then.parts === 'none') ? [] : parts,
      });
    }
  return out;
}

function sharesBy<T>(ends: readonly End[], of: (end: End) => readonly T[]): Map<T, number> {
  const out = new Map<T, number>();
  for (const end of ends) for (const x of of(end)) out.set(x, (out.get(x) ?? 0) + end.share);
  return out;
}

/** Whoever comes first for enough of the share, most likely first; then whoever may have to come after. */
function tradesOf(ends: readonly End[], least: number): Trade[] {
  const first = sharesBy(ends, (end) => end.trades.slice(0, 1));
  const later = sharesBy(ends, (end) => end.trades.slice(1));
  const order = [...first].filter(([, share]) => share >= least || first.size === 1).sort(bySize);
  const after = [...later].filter(([, share]) => share >= least).sort(bySize);
  return [...new Set([...order, ...after].map(([trade]) => trade))];
}

/** The kind of end that most of the share is, and the rule that said so first. */
function kindOf(ends: readonly End[]): { kind: string; rule: string } | undefined {
  const kind = [...sharesBy<string>(ends, (end) => (end.by?.rule.then.kind === undefined ? [] : [end.by.rule.then.kind]))].sort(
    bySize,
  )[0]?.[0];
  const by = ends.find((end) => end.by?.rule.then.kind === kind)?.by;
  return kind === undefined || !by ? undefined : { kind, rule: by.rule.id };
}

/** Each rule once, with the first fault it had a say on. */
function kindsTraced(ends: readonly End[]): Trace[] {
  const out = new Map<string, Trace>();
  for (const { by, fault } of ends)
    if (by && !out.has(by.rule.id))
      out.set(by.rule.id, { set: 'referrals', rule: by.rule.id, item: fault.id, truth: 'holds', saw: by.saw });
  return [...out.values()];
}

/** What to carry: part by part of the likeliest suspects, until enough of the share of those that need a part at all is covered. */
function partsOf(k: Knowledge, live: readonly Weighed[], total: number, named: ReadonlySet<string>): string[] {
  const covered = limit(k, 'parts-share').lo;
  const needing = live
    .map((x) => ({
      share: x.share / total,
      parts: x.faults.flatMap((id) => k.faults.get(id)!.end.parts).filter((part) => named.has(part)),
    }))
    .filter((x) => x.parts.length);
  const sumOf = (all: typeof needing) => all.reduce((sum, x) => sum + x.share, 0);
  const needed = sumOf(needing);
  const carry: string[] = [];
  let reached = 0;
  for (const { parts } of needing) {
    if (reached >= covered * needed - 1e-9) break;
    for (const part of parts) if (!carry.includes(part)) carry.push(part);
    reached = sumOf(needing.filter((x) => x.parts.every((part) => carry.includes(part))));
  }
  return carry;
}

/** Minutes of the visit, to the nearest five: of two faults at once the longer. */
function visitOf(k: Knowledge, live: readonly Weighed[], total: number): number {
  const usual = limit(k, 'visit-minutes').lo;
  const minutes = (x: Weighed) => Math.max(...x.faults.map((id) => k.faults.get(id)!.end.visit_min ?? usual));
  return Math.round(live.reduce((sum, x) => sum + (x.share / total) * minutes(x), 0) / 5) * 5;
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

/** The strictest of these that enough of the share stands behind, stricter ones counted in. */
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
export function referByStops(k: Knowledge, stops: readonly Pick<StopSign, 'sign' | 'rule'>[], readings: number[]): Referral {
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
