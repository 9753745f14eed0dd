import type { Found, Knowledge, StopSign, Trace } from '../types.ts';
import { over } from './permits.ts';
import { evaluateSet, type Flat } from './run-rules.ts';

/** What the stop rules say: the stops that hold, most urgent first, and what else follows from them. */
export interface StopSigns {
  stops: StopSign[];
  /** Signs that hold and were made safe: dead work goes on. */
  madeSafe: string[];
  /** All that must not be said or asked now. */
  silenced: string[];
  /** Checks that would tell whether a stop may be lifted. */
  asks: string[];
  trace: Trace[];
}

/** The stop signs of a case by its flat facts; `found` tells from which readings one follows that nobody told in words. */
export async function stopSigns(k: Knowledge, flat: Flat, found: readonly Found[]): Promise<StopSigns> {
  const all = await evaluateSet(over(k, 'stops', 'case'), flat);
  const run = all.filter((x) => x.truth === 'holds');
  const asks = all.flatMap((x) => (x.truth === 'unknown' ? (x.rule.then.asks ?? []) : []));
  const lifts = new Set<string>(run.flatMap((x) => x.rule.then.lifts ?? []));
  const silenced = new Set<string>();
  const stops: StopSign[] = [];
  const madeSafe: string[] = [];
  const trace: Trace[] = [];
  for (const x of run) {
    trace.push({ set: 'stops', rule: x.rule.id, truth: 'holds', saw: x.saw });
    for (const t of x.rule.then.silence ?? []) silenced.add(t);
    const stop = x.rule.then.stop ? k.stops.get(x.rule.then.stop) : undefined;
    if (!stop) continue;
    if (lifts.has(stop.standsUntil)) {
      madeSafe.push(stop.id);
      continue;
    }
    const readings = found.flatMap((y) => (y.finding in x.saw ? y.readings : []));
    stops.push({
      sign: stop.id,
      rule: x.rule.id,
      standsUntil: stop.standsUntil,
      suppresses: stop.suppresses,
      ...(readings.length && { readings }),
    });
    for (const t of stop.suppresses) silenced.add(t);
  }
  stops.sort((a, b) => k.stops.get(a.sign)!.precedence - k.stops.get(b.sign)!.precedence);
  return { stops, silenced: [...silenced].sort(), madeSafe, asks, trace };
}
