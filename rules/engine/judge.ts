import { limit } from '../knowledge/needed-limits.ts';
import type {
  Band,
  CaseFacts,
  Check,
  Expected,
  Knowledge,
  Measured,
  Prepared,
  Reading,
  Rule,
  Trace,
  Value,
  Verdict,
} from '../types.ts';
import { anywhere, expectedAsTaken, type HowTaken } from './as-taken.ts';
import { classOf, inside, onlyOpen } from './bands.ts';
import { placeOf } from './case.ts';
import { legSets, legsRead } from './legs.ts';
import { readLine } from './line.ts';
import { evaluateSet, type Flat } from './run-rules.ts';
import { temperatureUntold } from './temperature.ts';
import { pointsOn } from './variants.ts';

/** A reading, judged alone. */
export interface Judged {
  verdict: Verdict;
  /** What this reading says of the whole case (findings.json), by the rules that hold. */
  finds: string[];
  /** A check whose answer it wants before it can be judged. */
  asks?: string;
  /** Does it speak for or against anything yet? */
  counts: boolean;
  /** This machine's healthy readings, one per circuit it may be. */
  healthy: Expected[];
  trace: Trace[];
}

/** How a check measures one of its facts; undefined where the fact is asked or looked at. */
export const measuredAs = (check: Check | undefined, fact: string): Measured | undefined =>
  check?.measure?.reads.find((r) => r.fact === fact);

/**
 * What a healthy machine shows for one fact, one entry per circuit in hand; empty where it is not read on any, or the motor would not run.
 * @param scale  measured leg over nominal leg; undefined = the whole range of a service
 */
export function healthyOf(p: Prepared, check: string, fact: string, scale?: number): Expected[] {
  return p
    .expected(check, [], scale)
    .filter((x): x is Expected[] => x !== 'will-not-run')
    .flatMap((list) => list.filter((e) => e.fact === fact));
}

/** The healthy readings of one reading as it was taken, one per circuit in hand. */
export const healthyAsTaken = (p: Prepared, r: HowTaken, scale?: number): Expected[] =>
  expectedAsTaken(p, r, [], scale).filter((x): x is Expected => typeof x === 'object');

/**
 * The class of a value among its check's classes, on the likeliest circuit in hand; `odd` where it lies in none, undefined where the
 * check does not measure the fact.
 * @param line_v  leg to leg in this case, V rms: what "full" is measured against
 */
export function readingClass(
  p: Prepared,
  check: Check,
  fact: string,
  value: Value,
  line_v: number,
  scale?: number,
): string | undefined {
  const m = measuredAs(check, fact);
  if (!m) return undefined;
  const healthy = healthyOf(p, check.id, fact, scale)[0];
  return classOf(p.knowledge, m.classes, value, healthy ? { healthy, line_v } : { line_v });
}

/**
 * Judges one reading against what this machine should show. The rules of the set "verdicts" decide; the first that holds names the verdict,
 * and each that holds may find something about the case. A reading in words, or of a fact nothing measures, is "noted" and counts.
 * A verdict is not evidence: full volts with no current is "good" and still condemns the coil.
 * @param line_v  leg to leg in this case, V rms
 * @param scale  measured leg over nominal leg; undefined while none was read
 * @param beside  all readings of the case, in the order told: which of them stands beside another tells more than either
 */
export async function judge(
  p: Prepared,
  r: Reading,
  line_v: number,
  scale?: number,
  beside: Pick<CaseFacts, 'readings'> = { readings: [r] },
): Promise<Judged> {
  const k = p.knowledge;
  const check = r.check ? k.checks.get(r.check) : undefined;
  const m = measuredAs(check, r.fact);
  const seq = r.seq;
  const what = check?.measure && m ? check.measure.what : anywhere(p, r.fact);
  if (!what || (typeof r.value !== 'number' && r.value !== 'open'))
    return {
      verdict: { seq, is: 'noted', standing: 'single', rule: '', sources: [] },
      finds: [],
      counts: true,
      healthy: [],
      trace: [],
    };
  const healthy = healthyAsTaken(p, r, scale);
  const first = healthy[0];
  const cls = m && classOf(k, m.classes, r.value, first ? { healthy: first, line_v } : { line_v });
  const flat: Flat = {
    ...readingFlat(k, what, r, healthy, cls, check),
    ...placeFlat(p, r, what, healthy, line_v, beside),
    ...legsFlat(p, r, scale, beside),
  };
  const holds = (await evaluateSet(k.rules.verdicts, flat)).filter((x) => x.truth === 'holds');
  const by = holds.find((x) => x.rule.then.is !== undefined);
  const verdict: Verdict = {
    seq,
    is: by?.rule.then.is ?? 'noted',
    standing: 'single',
    rule: by?.rule.id ?? '',
    sources: by?.rule.sources ?? [],
  };
  if (cls) verdict.class = cls;
  const band = closest(healthy, r.value);
  if (band) verdict.healthy = band;
  const asking = holds.find((x) => x.rule.then.asks !== undefined);
  const finding = holds.filter((x) => x.rule.then.finds !== undefined);
  return {
    verdict,
    finds: finding.map((x) => String(x.rule.then.finds)),
    counts: by?.rule.then.counts !== 'no',
    ...(asking && { asks: String(asking.rule.then.asks) }),
    healthy,
    trace: [...new Set(by ? [by, ...finding] : finding)].map((x) => traceOf(x.rule, x.saw, String(seq))),
  };
}

const traceOf = (rule: Rule, saw: Flat, item: string): Trace => ({ set: 'verdicts', rule: rule.id, item, truth: 'holds', saw });

// Where the machine is one of several, the healthy band nearest the reading is the fair one to hold it against.
function closest(healthy: Expected[], value: Value): Band | undefined {
  const holding = healthy.find((h) => inside(value, h.band));
  return (holding ?? healthy[0])?.band;
}

/** One reading as flat facts, the only thing a rule `over: reading` sees. Words are yes/no; numbers are in the unit of the fact. */
function readingFlat(k: Knowledge, what: string, r: Reading, healthy: Expected[], cls: string | undefined, check?: Check): Flat {
  const flat: Flat = { what, is_open: r.value === 'open' ? 'yes' : 'no' };
  if (cls !== undefined) flat.class = cls;
  flat.low_impedance = (r.lowImpedance ?? check?.measure?.lowImpedance) ? 'yes' : 'no';
  const possible = k.facts.get(r.fact)?.possible;
  if (possible) flat.possible = typeof r.value !== 'number' || (r.value >= possible.lo && r.value <= possible.hi) ? 'yes' : 'no';
  if (typeof r.value === 'number') flat.value = r.value;
  if (healthy.length) {
    flat.in_healthy = healthy.some((h) => inside(r.value, h.band)) ? 'yes' : 'no';
    flat.healthy_open = healthy.every((h) => onlyOpen(h.band)) ? 'yes' : 'no';
    const finite = healthy.filter((h) => !onlyOpen(h.band));
    if (typeof r.value === 'number' && finite.length) {
      const value = r.value;
      flat.below_healthy = finite.every((h) => value < h.band.lo) ? 'yes' : 'no';
      flat.above_healthy = finite.every((h) => value > h.band.hi) ? 'yes' : 'no';
      const near = limit(k, 'close-call').hi;
      flat.close = finite.some((h) => value >= h.band.lo * (1 - near) && value <= h.band.hi * (1 + near)) ? 'yes' : 'no';
    }
  }
  return flat;
}

/** Where and how a reading was taken, as far as a danger hangs on it: on the cabinet, across a part that is closed when sound, under load. */
function placeFlat(
  p: Prepared,
  r: Reading,
  what: string,
  healthy: readonly Expected[],
  line_v: number,
  beside: Pick<CaseFacts, 'readings'>,
): Flat {
  const k = p.knowledge;
  const check = r.check ? k.checks.get(r.check) : undefined;
  const state = k.states.get(r.state) ?? (check && k.states.get(check.state));
  const m = measuredAs(check, r.fact);
  const points = r.points ?? (m && p.circuits[0] && pointsOn(p.circuits[0], m.points));
  const flat: Flat = {
    temperature_told: temperatureUntold(p, points, r.value) ? 'no' : 'yes',
    to_case: points?.includes(k.supply.cabinet) ? 'yes' : 'no',
    loaded: state?.running ? 'yes' : 'no',
    told_twice: beside.readings.filter((x) => placeOf(k, x) === placeOf(k, r)).length > 1 ? 'yes' : 'no',
  };
  if (what === 'ohms') flat.insulates = r.value === 'open' || Number(r.value) >= limit(k, 'ohm-case-clear').lo ? 'yes' : 'no';
  if (what === 'volts' && healthy.length) {
    const closed = limit(k, 'v-contact-closed').hi;
    flat.healthy_closed = healthy.every((h) => typeof h.centre === 'number' && h.centre <= closed) ? 'yes' : 'no';
    // Held against nominal volts, a full reading on a lower supply would look like a middle one.
    const full = limit(k, readLine(p, beside) === undefined ? 'v-full' : 'v-full-measured').lo * line_v;
    flat.middle = Number(r.value) > limit(k, 'v-contact-resistive').hi && Number(r.value) < full ? 'yes' : 'no';
  }
  return flat;
}

/** How the two legs stand to each other that this reading was taken with; nothing where it belongs to no such set. */
function legsFlat(p: Prepared, r: Reading, scale: number | undefined, beside: Pick<CaseFacts, 'readings'>): Flat {
  const k = p.knowledge;
  const sets = legSets(p, beside, r).map((s) => legsRead(k, s));
  // Of several rounds the one that looks most like a lost neutral: a good reading since then does not mend it.
  const worst = sets.find((s) => s.sums && s.apart && !s.dead) ?? sets[0];
  if (!worst) return {};
  const rest_v =
    scale === undefined ? limit(k, 'service-leg-a').hi : scale * limit(k, 'nominal-leg').lo * limit(k, 'leg-risen').lo;
  const say = (x: boolean) => (x ? 'yes' : 'no');
  return {
    legs_apart: say(worst.apart),
    legs_sum: say(worst.sums),
    leg_dead: say(worst.dead),
    leg_risen: say(worst.higher_v > rest_v),
  };
}
