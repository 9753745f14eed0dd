import { knowledge } from '../../rules/index.ts';
import type { Unit } from '../../rules/types.ts';
import { factsOfSupply, type Listed, listedAs, listedPlaces } from '../place/listed.ts';
import type { Ask, Meaning } from '../types.ts';
import { parting } from './across.ts';
import { align, isName, type Role } from './align.ts';
import { type Context, denied, evidence, groupHits, inside, type Span } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import { type StateName, statesOf, turned } from './states-said.ts';
import { acrossSaid, toldAcross } from './told-across.ts';
import type { Quantity, What } from './units.ts';

type Read = Ask['reads'][number];
type Reading = Extract<Meaning, { is: 'reading' }>;

const WHAT: Partial<Record<Unit, What>> = {
  V: 'volts',
  Ω: 'ohms',
  A: 'amps',
  W: 'watts',
  '°C': 'temperature',
  min: 'minutes',
  Pa: 'pressure',
  'm/s': 'speed',
};
const TO_SI: Record<string, [unit: Unit, f: (x: number) => number]> = {
  '°F': ['°C', (x) => ((x - 32) * 5) / 9],
  fpm: ['m/s', (x) => x * 0.00508],
  mph: ['m/s', (x) => x * 0.44704],
  'km/h': ['m/s', (x) => x / 3.6],
  inH2O: ['Pa', (x) => x * 249.089],
  mmH2O: ['Pa', (x) => x * 9.80665],
  mbar: ['Pa', (x) => x * 100],
};
const tidy = (n: number): number => Number(n.toPrecision(6));

/** What the open question asks to be measured. */
export function asked(ask: Ask | undefined): What | undefined {
  const read = ask?.kind === 'readings' ? ask.reads[0] : undefined;
  if (!read) return undefined;
  if (/_ft$|length/.test(read.fact)) return 'length';
  return WHAT[read.unit];
}

const asListed = (fact: string | undefined): Listed => listedAs(listedPlaces(knowledge()), fact);
const roleOf = (fact: string): Role => asListed(fact).role;

/**
 * The numbers of one utterance as readings of the open question. Where two readings of the same words would differ it asks back.
 * `quantities`: those no other meaning (plate, duration, count) has taken.
 */
export function findReadings(c: Context, ask: Ask | undefined, all: Quantity[]): Meaning[] {
  const reads = ask?.kind === 'readings' ? ask.reads : [];
  const quantities = all.filter((q) => q.what !== undefined || !isName(c, reads, q));
  const { told, left, rest } = toldAcross(c, reads, quantities, openPlaces(c, []), said(c));
  const others = notAcross(rest, ask, left);
  return told.length > 0 ? [...told, ...others.filter((m) => m.is !== 'ambiguous' || left.some(electric))] : others;
}
const electric = (q: Quantity): boolean => q.what === undefined || ELECTRIC.includes(q.what);

function notAcross(c: Context, ask: Ask | undefined, quantities: Quantity[]): Meaning[] {
  const reads = ask?.kind === 'readings' ? ask.reads : [];
  const what = asked(ask);
  const other = what ? quantities.filter((q) => q.what !== undefined && q.what !== what && ELECTRIC.includes(q.what)) : [];
  const byTheWay = other.length > 0 ? volunteered(c, other, {}) : [];
  const answered = toAsked(c, ask, reads, what, other.length > 0 ? quantities.filter((q) => !other.includes(q)) : quantities);
  // what was told by the way is no doubt about the question
  return byTheWay.length > 0 ? [...answered.filter((m) => m.is !== 'ambiguous'), ...byTheWay] : answered;
}
const ELECTRIC: readonly What[] = ['volts', 'ohms', 'amps'];

function toAsked(c: Context, ask: Ask | undefined, reads: Read[], what: What | undefined, quantities: Quantity[]): Meaning[] {
  const words = withoutNumber(c, reads, what, quantities);
  if (words) return words;
  let mine = quantities.filter((q) => !what || !q.what || q.what === what || (q.what === 'ohms' && what === 'ohms'));
  const open = what === 'ohms' && reads.length > 1 ? openPlaces(c, mine) : [];
  if (mine.length === 0 && open.length === 0) return [];
  const aside = takeAside(c, mine, what);
  mine = corrected(c, aside.left);
  if (mine.length === 0 && open.length === 0) return [];
  const dial = dialPrefix(c, mine, what);
  mine = dial.left;
  const extra = { ...aside.extra, ...said(c) };
  const at = what === 'ohms' ? quantities.find((q) => q.what === 'temperature' && q.unit !== '?') : undefined;
  if (at) extra.at_c = at.unit === '°F' ? tidy(((at.value - 32) * 5) / 9) : at.value;

  if (!ask || reads.length === 0) return volunteered(c, mine, extra);
  if (reads.length === 1 && reads[0]) return single(c, reads[0], mine, extra, dial.times);
  return several(c, reads, mine, open, extra, dial.times);
}

/** Places where OL stands, a lone 1 at the left edge included; the numbers inside them are not readings. */
function openPlaces(c: Context, numbers: Quantity[]): Span[] {
  const hits = [...groupHits(c, 'r.open')].sort((a, b) => a.from - b.from || b.to - a.to);
  const out: Span[] = [];
  for (const h of hits) {
    const last = out.at(-1);
    if (last && h.from < last.to) continue;
    if (denied(c, h) && !turned(c, h)) continue;
    out.push({ from: h.from, to: h.to });
  }
  for (const o of out)
    for (let i = numbers.length - 1; i >= 0; i--) {
      const q = numbers[i];
      if (q && q.from >= o.from && q.to <= o.to) numbers.splice(i, 1);
    }
  return out;
}

function said(c: Context): Partial<Reading> {
  const out: Partial<Reading> = {};
  if (groupHits(c, 'r.lowZ').length > 0) out.lowImpedance = true;
  if (groupHits(c, 'r.inCircuit').length > 0) out.lifted = false;
  else if (groupHits(c, 'r.lifted').length > 0) out.lifted = true;
  return out;
}

/** Answers without a number: OL, a beep, "nothing", "good". */
function withoutNumber(c: Context, reads: Read[], what: What | undefined, quantities: Quantity[]): Meaning[] | undefined {
  const read = reads[0];
  if (!read || !what) return undefined;
  const open = groupHits(c, 'r.open')[0];
  const fits = quantities.filter((q) => !q.what || q.what === what);
  const back = (words: string, options: Meaning[] = []) => [ask(c, words, options)];
  if (what === 'ohms') {
    const closed = asListed(read.fact).closedPath;
    if (open && reads.length > 1) return undefined;
    if (open && fits.every((q) => q.found.raw === '1' || (q.from >= open.from && q.to <= open.to)))
      return [reading(c, read, 'open', open)];
    if (fits.length > 0) {
      const q = fits[0];
      if (q && fits.length === 1 && /^(1\.?|one)$/.test(q.found.raw) && !q.what)
        return back('openOrOne', [reading(c, read, 'open', q), reading(c, read, 1, q)]);
      return groupHits(c, 'r.unstable').length > 0 && fits.length > 1 ? back('unstable') : undefined;
    }
    const quiet = groupHits(c, 'r.noBeep')[0];
    const beep = groupHits(c, 'r.beep')[0];
    if (quiet) return closed ? [reading(c, read, 'no-beep', quiet)] : back('beep', [reading(c, read, 'no-beep', quiet)]);
    if (beep) return closed ? [reading(c, read, 'beep', beep)] : back('beep', [reading(c, read, 'beep', beep)]);
    const short = groupHits(c, 'r.short')[0];
    if (short) return closed ? [reading(c, read, 'beep', short)] : back('judged', [reading(c, read, 0, short)]);
    if (groupHits(c, 'r.unstable').length > 0) return back('unstable');
    if (c.tokens.some((t) => /^[mk]$/.test(t.text)) && c.tokens.length < 6 && c.tokens.length > 1) return back('prefix');
  } else if (fits.length === 0) {
    if (open && what === 'volts')
      return groupHits(c, 'r.device').length > 0
        ? [{ is: 'reading', what: 'ohms', value: 'open', unit: 'Ω', evidence: evidence(c, { from: 0, to: c.tokens.length }) }]
        : back('dial');
    if (groupHits(c, 'r.unstable').length > 0) return back('unstable');
    const atOnce = groupHits(c, 'r.atOnce')[0];
    if (what === 'minutes' && atOnce) return [reading(c, read, 0, atOnce, { approx: true })];
    if (what === 'minutes' && groupHits(c, 'r.vague').length > 0) return back('minutes');
  }
  if (fits.length > 0) return undefined;
  // "no clue" tells nothing of the display
  const clueless = c.hits.filter((h) => h.of.kind === 'talk' && h.of.entry.talk === 'unsure');
  const nothing = groupHits(c, 'r.noReading').find((h) => !clueless.some((u) => u.to - u.from > h.to - h.from && inside(h, u)));
  if (nothing && (what === 'volts' || what === 'ohms' || what === 'amps') && c.tokens.length < 9)
    return back('blank', what === 'ohms' ? [reading(c, read, 'open', nothing)] : [reading(c, read, 0, nothing)]);
  if (
    groupHits(c, 'r.judged').length > 0 &&
    c.tokens.filter((t) => t.kind === 'word').length < 6 &&
    !groupHits(c, 'yes').some((h) => h.to > 20)
  )
    return back('judged');
  return undefined;
}

function ask(c: Context, words: string, options: Meaning[] = []): Meaning {
  return {
    is: 'ambiguous',
    question: c.lexicon.data.askBack[words] ?? '',
    options: options.map((meaning) => ({
      label: 'value' in meaning ? `${meaning.value}${'unit' in meaning && meaning.unit ? ` ${meaning.unit}` : ''}` : '',
      meaning,
    })),
  };
}

function reading(c: Context, read: Read | undefined, value: Reading['value'], span: Span, more: Partial<Reading> = {}): Reading {
  const what = read ? (WHAT[read.unit] ?? 'length') : 'volts';
  return {
    is: 'reading',
    what: what === 'watts' || what === 'count' ? 'length' : what,
    value,
    ...(read ? { unit: read.unit, fact: read.fact } : {}),
    ...(read && acrossSaid(c, span)),
    ...more,
    evidence: evidence(c, span),
  };
}

/** Numbers that qualify the reading and are not one: leads, the temperature it was read at, a starting peak. */
function takeAside(c: Context, list: Quantity[], what: What | undefined): { left: Quantity[]; extra: Partial<Reading> } {
  const extra: Partial<Reading> = {};
  const near = (group: string, q: Quantity, before: number, after: number) =>
    groupHits(c, group).some((h) => (h.to <= q.from && q.from - h.to <= before) || (h.from >= q.to && h.from - q.to <= after));
  let left = [...list];
  if (what === 'ohms' && left.length > 1) {
    const small = [...left]
      .filter((q) => Math.abs(q.value) <= 2 && near('r.leads', q, 3, 2))
      .sort((a, b) => a.value - b.value)[0];
    if (small) {
      left = left.filter((q) => q !== small);
      const net = groupHits(c, 'r.net').length > 0;
      const first = left[0];
      // "10.6 minus .3": the minus takes off, it is no sign
      const leads = Math.abs(small.value);
      extra.leadsTakenOff = leads;
      if (first && net && left.length > 1) left = [first];
      else if (first && !net) left[0] = { ...first, value: Number((first.value - leads).toFixed(6)) };
    }
  }
  if (what === 'amps' && left.length === 2 && groupHits(c, 'r.peak').length > 0) {
    const [a, b] = left;
    if (a && b && near('r.peak', a, 2, 2) && b.value < a.value) {
      extra.peak = a.value;
      left = [b];
    } else if (a && b && near('r.peak', b, 3, 3) && a.value < b.value) {
      extra.peak = b.value;
      left = [a];
    }
  }
  return { left, extra };
}

/** "12 no wait 11.8", "I meant 12 not 120": the number that was meant. */
function corrected(c: Context, list: Quantity[]): Quantity[] {
  const words = groupHits(c, 'r.correction');
  if (list.length !== 2) return list;
  const [a, b] = list;
  if (!a || !b) return list;
  const not = (text: string) => c.lexicon.data.grammar.denials[0] === text;
  const before = c.tokens[b.from - 1]?.text ?? '';
  const between = c.tokens.slice(a.to, b.from).filter((t) => t.kind !== 'mark');
  if (between.length > 0 && between.length <= 3 && between.every((t) => not(t.text))) return [a];
  if (not(before)) return [a];
  if (not(c.tokens[a.from - 1]?.text ?? '')) return [b];
  return words.some((h) => h.from >= a.to && h.to <= b.from) ? [b] : list;
}

/** "on 20k it says 9.87": a manual dial shows in its own prefix. */
function dialPrefix(c: Context, list: Quantity[], what: What | undefined): { left: Quantity[]; times: number } {
  if (what !== 'ohms' || list.length < 2) return { left: list, times: 1 };
  const dial = list.find(
    (q) =>
      /^(2|20|200|2000)$/.test(q.found.raw) &&
      groupHits(c, 'r.ofDial').some((h) => (h.to <= q.from && q.from - h.to <= 1) || (h.from >= q.to && h.from - q.to <= 1)),
  );
  if (!dial) return { left: list, times: 1 };
  const times = dial.value / dial.found.value;
  return { left: list.filter((q) => q !== dial), times };
}

function single(c: Context, read: Read, list: Quantity[], extra: Partial<Reading>, dialTimes: number): Meaning[] {
  const role = roleOf(read.fact);
  const what = WHAT[read.unit];
  if (what === 'volts' || what === 'amps') {
    const states = statesOf(c, list);
    const away = list.filter((q) => {
      const state = states.get(q);
      return state !== undefined && clashes(state, read.fact);
    });
    if (away.length > 0) {
      const here = list.filter((q) => !away.includes(q));
      return [
        ...(here.length > 0 ? single(c, read, here, extra, dialTimes) : []),
        ...away.map((q) => atOtherState(c, q, list, read, states.get(q) as StateName, extra)),
      ];
    }
    // one number for other points than those asked
    const [only] = list;
    const other = list.length === 1 && only ? roleNear(c, only, list) : undefined;
    if (only && role && other && other !== role && other !== 'neutral' && !namedIn(c, read))
      return [reading(c, undefined, only.value, only, { what: 'volts', unit: 'V', pointsSaid: pointsSaid(other), ...extra })];
  }
  const named = list.map((q) => ({ q, role: roleNear(c, q, list) }));
  let mine = role && named.some((n) => n.role === role) ? named.filter((n) => n.role === role).map((n) => n.q) : list;
  // the same number over and over, or one for each conductor
  if (mine.length > 3 && mine.every((q) => q.value === mine[0]?.value)) mine = mine.slice(0, 1);
  const first = mine[0];
  if (!first) return [];
  if (mine.length > 1) {
    const range = rangeOf(c, mine, what === 'minutes');
    if (range !== undefined)
      return [take(c, read, { ...first, value: range, to: mine[1]?.to ?? first.to }, { ...extra, approx: true }, dialTimes)];
    if (what === 'temperature' && mine.length === 2) return mine.flatMap((q) => one(c, read, q, extra, dialTimes));
    if (mine.length === 2 && what === 'volts' && named.some((n) => n.role && n.role !== role))
      return named.map((n) =>
        n.role === role || !n.role
          ? take(c, read, n.q, extra, 1)
          : reading(c, undefined, n.q.value, n.q, { what: 'volts', unit: 'V', pointsSaid: pointsSaid(n.role), ...extra }),
      );
    const vals = mine.map((q) => take(c, read, q, extra, dialTimes));
    return [ask(c, 'whichSide', vals)];
  }
  return one(c, read, first, extra, dialTimes);
}

/** Were most words of the question's own name said? */
function namedIn(c: Context, read: Read): boolean {
  const own = read.label.toLowerCase().match(/[\p{L}\d]{3,}/gu) ?? [];
  return own.length > 0 && own.filter((w) => c.tokens.some((t) => t.text === w)).length * 2 > own.length;
}
const pointsSaid = (role: Role): string =>
  ({ across: 'leg to leg', legA: 'L1 to neutral', legB: 'L2 to neutral', neutral: 'neutral' })[role ?? 'neutral'];

function one(c: Context, read: Read, q: Quantity, extra: Partial<Reading>, dialTimes: number): Meaning[] {
  const what = WHAT[read.unit];
  const plain = take(c, read, q, extra, dialTimes);
  // "120 each side" is no answer to leg to leg
  if (what === 'volts' && roleOf(read.fact) === 'across' && groupHits(c, 'r.each').length > 0 && q.value > 20 && q.value < 160)
    return [ask(c, 'whichSide', [plain])];
  if (q.found.split && what === 'volts') {
    const joined = q.value * 10;
    return [ask(c, 'split', [take(c, read, { ...q, value: joined }, extra, 1), plain])];
  }
  if (what === 'volts' || what === 'amps') {
    const role = roleOf(read.fact);
    const limits =
      what === 'amps' ? kinds.plausible.amps : role && role !== 'neutral' ? kinds.plausible[role] : kinds.plausible.volts;
    // a bare 12 between two legs is more likely 120 with a key missed than a reading
    const slip =
      what === 'volts' && role && role !== 'neutral' && !q.what && kinds.slipVolts.lo <= q.value && q.value <= kinds.slipVolts.hi;
    if (q.value < limits.lo || q.value > limits.hi || (slip && Number.isInteger(q.value))) return [ask(c, 'impossible', [plain])];
  }
  if (
    what === 'amps' &&
    kinds.breakerSizes.includes(q.value) &&
    q.value >= 30 &&
    !q.found.approx &&
    c.tokens.filter((t) => t.kind === 'word').length < 3
  )
    return [ask(c, 'breaker', [plain, { is: 'noted', fact: 'breaker_amps', value: q.value, evidence: plain.evidence }])];
  if (what === 'ohms' && !q.what && dialTimes === 1 && asListed(read.fact).kiloOhms && q.value > 0 && q.value < 200)
    return [ask(c, 'prefix', [take(c, read, { ...q, value: q.value * 1000 }, extra, 1), plain])];
  if (what === 'temperature' && (!q.unit || q.unit === '?')) {
    const [c0, f0] = [q.value, ((q.value - 32) * 5) / 9];
    const lo = /room|ambient/.test(read.fact) ? -20 : 15;
    const hi = /room|ambient/.test(read.fact) ? 45 : 110;
    const [canC, canF] = [c0 >= lo && c0 <= hi, f0 >= lo && f0 <= hi];
    const asF = take(c, read, { ...q, unit: '°F', what: 'temperature' }, { ...extra, unitInferred: true }, 1);
    const asC = take(c, read, { ...q, unit: '°C', what: 'temperature' }, { ...extra, unitInferred: true }, 1);
    if (canC && canF) return [ask(c, 'scale', [asF, asC])];
    return [canC ? asC : asF];
  }
  if (what === 'speed' && !q.unit) {
    const fast = q.value > 45;
    return fast || q.value < 15
      ? [take(c, read, { ...q, unit: fast ? 'fpm' : 'm/s', what: 'speed' }, { ...extra, unitInferred: true }, 1)]
      : [ask(c, 'unit', [])];
  }
  if (what === 'pressure' && !q.unit) {
    if (q.value > 0 && q.value < 3)
      return [take(c, read, { ...q, unit: 'inH2O', what: 'pressure' }, { ...extra, unitInferred: true }, 1)];
    return q.value >= 50
      ? [take(c, read, { ...q, unit: 'Pa', what: 'pressure' }, { ...extra, unitInferred: true }, 1)]
      : [ask(c, 'unit', [])];
  }
  return [plain];
}

function take(c: Context, read: Read, q: Quantity, extra: Partial<Reading>, dialTimes: number): Reading {
  const si = q.unit ? TO_SI[q.unit] : undefined;
  const value = si ? tidy(si[1](q.value)) : Number((q.value * (q.what ? 1 : dialTimes)).toPrecision(12));
  const out = reading(c, read, value, q, { ...extra });
  if (si) Object.assign(out, { unit: si[0] });
  if (q.unit && q.unit !== '?' && (si || q.what === 'length')) Object.assign(out, { saidValue: q.value, saidUnit: q.unit });
  if (q.unit === '°C' || q.unit === 'Pa' || q.unit === 'm/s') Object.assign(out, { saidValue: q.value, saidUnit: q.unit });
  if (q.found.approx) out.approx = true;
  return out;
}

/** "118 to 121", "between 118 and 121": the middle, as an approximate value. */
function rangeOf(c: Context, list: Quantity[], wide: boolean): number | undefined {
  const [a, b] = list;
  if (!a || !b || list.length !== 2) return undefined;
  const between = c.tokens.slice(a.to, b.from).map((t) => t.text);
  const led = groupHits(c, 'r.between').some((h) => h.to === a.from);
  const { grammar, numbers } = c.lexicon.data;
  const word = between[0] ?? '';
  const joined =
    between.length === 1 && (grammar.until.includes(word) || grammar.or.includes(word) || (numbers.and.includes(word) && led));
  const close = Math.abs(a.value - b.value) <= (wide ? 0.5 : 0.15) * Math.max(a.value, b.value);
  return joined && close ? tidy((a.value + b.value) / 2) : undefined;
}

/** The point words nearest to a number: before it, or right after it, not past another number. */
function roleNear(c: Context, q: Quantity, list: Quantity[]): Role {
  const prev = Math.max(0, ...list.filter((o) => o.to <= q.from).map((o) => o.to));
  const next = Math.min(c.tokens.length, ...list.filter((o) => o.from >= q.to).map((o) => o.from));
  let best: { role: Role; far: number } | undefined;
  for (const role of ['across', 'legA', 'legB', 'neutral'] as const)
    for (const h of groupHits(c, `r.${role}`)) {
      const before = h.from >= prev && h.to <= q.from;
      const after = h.from >= q.to && h.to <= next;
      if (!before && !after) continue;
      const comma = c.tokens.slice(Math.min(h.to, q.to), Math.max(h.from, q.from)).some((t) => parting(c, t.text));
      // "L1 to neutral" names the leg; neutral is a point of its own only where no leg was named with it
      const toNeutral =
        role !== 'across' && role !== 'neutral'
          ? groupHits(c, 'r.neutral').find((n) => n.from >= h.to && n.from - h.to < 3)
          : undefined;
      const to = toNeutral && toNeutral.to <= (before ? q.from : next) ? toNeutral.to : h.to;
      const far = (before ? q.from - to : h.from - q.to + 0.5) + (comma ? 4 : 0) - (to - h.from) * 0.3;
      if (!best || far < best.far) best = { role, far };
    }
  return best && best.far < 5 ? best.role : undefined;
}

type Value = { value: number | 'open'; from: number; to: number; volts: boolean; q?: Quantity };

/** Several points in one sentence; each value to the reading its words speak for, and asked back where that is not certain. */
function several(
  c: Context,
  reads: Read[],
  list: Quantity[],
  open: Span[],
  extra: Partial<Reading>,
  dialTimes: number,
): Meaning[] {
  const volts = WHAT[reads[0]?.unit ?? 'V'] === 'volts';
  const elsewhere: Meaning[] = [];
  const states = statesOf(c, list);
  const values: Value[] = open.map((o) => ({ ...o, value: 'open' as const, volts: false }));
  for (const q of list) {
    const state = states.get(q);
    if (state !== undefined && clashes(state, reads[0]?.fact)) elsewhere.push(atOtherState(c, q, list, undefined, state, extra));
    else values.push({ value: q.value, from: q.from, to: q.to, volts, q });
  }
  const told = (r: Read, v: Value): Meaning[] => (v.q ? one(c, r, v.q, extra, dialTimes) : [reading(c, r, 'open', v, extra)]);
  const each = values.find((v) => values.length < reads.length && everyOne(c, v, values));
  const others = values.filter((v) => v !== each);
  const { pairs, unsure } = align(c, reads, others, roleOf, each ? [each] : []);
  const free = reads.filter((r) => !pairs.some(([p]) => p === r));
  if (each && unsure.length === 0) {
    const legs = free.filter((r) => roleOf(r.fact) !== 'across');
    const small = volts && each.value !== 'open' && each.value <= 160 && legs.length > 1;
    for (const r of small ? legs : free) pairs.push([r, each]);
  } else if (each) unsure.push(each);
  pairs.sort((a, b) => reads.indexOf(a[0]) - reads.indexOf(b[0]));
  const [legA, legB] = (['legA', 'legB'] as const).map((role) => pairs.find(([r]) => roleOf(r.fact) === role));
  if (sidesUnknown(c, reads, legA?.[1].value, legB?.[1].value)) {
    const both =
      legA && legB
        ? eitherWay(c, told(legA[0], legA[1]), told(legB[0], legA[1]), told(legA[0], legB[1]), told(legB[0], legB[1]))
        : undefined;
    const rest = pairs.filter((p) => p !== legA && p !== legB).flatMap(([r, v]) => told(r, v));
    return [...(both ? rest : []), ...elsewhere, both ?? ask(c, 'whichLeg')];
  }
  const first = unsure[0];
  return [
    ...pairs.flatMap(([r, v]) => told(r, v)),
    ...elsewhere,
    ...(first
      ? [
          ask(
            c,
            'whichSide',
            unsure.length > 1
              ? []
              : free.map((r) => (first.q ? take(c, r, first.q, extra, dialTimes) : reading(c, r, 'open', first, extra))),
          ),
        ]
      : []),
  ];
}

/** "120 each leg", "0.1 all three": one value for all that are left. */
function everyOne(c: Context, v: Value, values: Value[]): boolean {
  const prev = Math.max(0, ...values.filter((o) => o.to <= v.from).map((o) => o.to));
  const next = Math.min(c.tokens.length, ...values.filter((o) => o.from >= v.to).map((o) => o.from));
  return groupHits(c, 'r.each').some((h) => {
    const [from, to] = h.from >= v.to ? [v.to, h.from] : [h.to, v.from];
    if (h.from < prev || h.to > next || to - from > 3) return false;
    return !c.tokens.slice(from, to).some((t) => t.kind === 'mark' && t.text === ',');
  });
}

/** Left and right, one and the other name a slot, not the motor's leg: where the two differ it matters which is which. */
function sidesUnknown(c: Context, reads: Read[], a: number | 'open' | undefined, b: number | 'open' | undefined): boolean {
  const { sides } = c.lexicon.data.grammar;
  if (!c.tokens.some((t) => sides.includes(t.text)) && groupHits(c, 'r.oneSide').length === 0) return false;
  const names = reads.map((r) => `${r.label} ${r.pointWords}`.toLowerCase()).join(' ');
  if (sides.some((w) => names.includes(w))) return false;
  if (a === undefined && b === undefined) return false;
  return typeof a !== 'number' || typeof b !== 'number' || Math.abs(a - b) > ALIKE_V;
}
/** Two values and two legs: asked back with both ways round. */
function eitherWay(c: Context, a1: Meaning[], b1: Meaning[], a2: Meaning[], b2: Meaning[]): Meaning | undefined {
  const way = (a: Meaning | undefined, b: Meaning | undefined) => {
    if (a?.is !== 'reading' || b?.is !== 'reading') return undefined;
    const label = (c.lexicon.data.askBack.whichLegOption ?? '').replace('{a}', String(a.value)).replace('{b}', String(b.value));
    return { label, meaning: a, also: [b] };
  };
  const ways = [way(a1[0], b2[0]), way(a2[0], b1[0])];
  const [first, second] = ways;
  return first && second
    ? { is: 'ambiguous', question: c.lexicon.data.askBack.whichLeg ?? '', options: [first, second] }
    : undefined;
}
/** Two legs this close read alike, whichever is which. */
const ALIKE_V = 6;

/** A reading under load is none at rest, and the other way round. */
function clashes(state: StateName, fact: string | undefined): boolean {
  const own = asListed(fact).state;
  if (own === undefined || own === state) return false;
  const { states } = knowledge();
  return [own, state].some((id) => states.get(id)?.running);
}

/** A value told of another state than the one asked: its points and state are kept, the fact is for the case to find. */
function atOtherState(
  c: Context,
  q: Quantity,
  list: Quantity[],
  read: Read | undefined,
  state: StateName,
  extra: Partial<Reading>,
): Reading {
  const what = q.what === 'amps' || (read && WHAT[read.unit] === 'amps') ? 'amps' : 'volts';
  const role =
    what === 'volts' ? (roleNear(c, q, list) ?? roleOf(read?.fact ?? '') ?? (q.value > 160 ? 'across' : undefined)) : undefined;
  return {
    is: 'reading',
    what,
    value: q.value,
    unit: what === 'amps' ? 'A' : 'V',
    ...(role ? { pointsSaid: pointsSaid(role) } : {}),
    state,
    ...extra,
    evidence: evidence(c, q),
  };
}

/** The three ways to read a supply, for readings nobody asked for. */
const supplyReads = (): Read[] =>
  Object.values(factsOfSupply(listedPlaces(knowledge()))).map(([fact = '']) => ({
    fact,
    label: '',
    unit: 'V',
    pointWords: '',
  }));

/** A number nobody asked for is kept only with its unit, or as volts where the points of the supply were told with it. */
function volunteered(c: Context, all: Quantity[], extra: Partial<Reading>): Meaning[] {
  const { list, roles } = asVolts(c, all);
  const states = statesOf(c, list);
  const outlet = groupHits(c, 'r.atOutlet').length > 0;
  const block = !outlet && groupHits(c, 'r.atBlock').length > 0;
  const told = (q: Quantity, role: Role): Meaning[] => {
    const { what } = q;
    if (!what || what === 'watts' || what === 'count' || what === 'length' || q.unit === '?') return [];
    const state = what === 'volts' || what === 'amps' ? (states.get(q) ?? (outlet ? 'unplugged-off' : undefined)) : undefined;
    const si = q.unit ? TO_SI[q.unit] : undefined;
    return [
      {
        is: 'reading',
        what,
        value: si ? tidy(si[1](q.value)) : q.value,
        ...(si ? { unit: si[0], saidValue: q.value, saidUnit: q.unit } : { unit: q.unit as Unit }),
        ...(role ? { pointsSaid: pointsSaid(role) } : {}),
        ...(state ? { state } : block && what === 'volts' ? { plugged: true } : {}),
        ...extra,
        evidence: evidence(c, q),
      },
    ];
  };
  const [legA, legB] = (['legA', 'legB'] as const).map((role) => list.find((q) => roles.get(q)?.includes(role)));
  if (legA && legB && legA !== legB && sidesUnknown(c, [], legA.value, legB.value)) {
    const both = eitherWay(c, told(legA, 'legA'), told(legA, 'legB'), told(legB, 'legA'), told(legB, 'legB'));
    return [...list.filter((q) => q !== legA && q !== legB).flatMap((q) => told(q, roles.get(q)?.[0])), ...(both ? [both] : [])];
  }
  return list.flatMap((q) => (roles.get(q) ?? [undefined]).flatMap((role) => told(q, role)));
}

type Roles = Map<Quantity, Role[]>;
/**
 * What each of several volts is of the supply, by the words around it: "240 leg to leg", "240 at the block, 120 each leg". Bare numbers
 * are volts where such words stand with them, or where three of them can be nothing else ("240 120 120"). One bare number stays a number.
 */
function asVolts(c: Context, all: Quantity[]): { list: Quantity[]; roles: Roles } {
  const roles: Roles = new Map();
  const bare = all.filter((q) => !q.what && q.value >= 0 && q.value <= kinds.plausible.across.hi && !q.found.split);
  const volts = all.filter((q) => q.what === 'volts' || bare.includes(q));
  const big = volts.filter((q) => q.value > ONE_LEG_V);
  const small = volts.filter((q) => q.value <= ONE_LEG_V);
  const [across] = big;
  const [a, b] = small;
  const words = c.tokens.filter((t) => t.kind === 'word' && !c.lexicon.data.numbers.and.includes(t.text) && t.text !== 'v');
  const each = groupHits(c, 'r.each')[0];
  const pointsTold = ['r.across', 'r.supplyPoints', 'r.neutral'].some((g) => groupHits(c, g).length > 0);
  if (
    big.length === 1 &&
    small.length === 2 &&
    across &&
    a &&
    b &&
    words.length === 0 &&
    Math.abs(a.value - b.value) <= ALIKE_V
  ) {
    roles.set(across, ['across']).set(a, ['legA']).set(b, ['legB']);
  } else if (big.length === 1 && small.length === 1 && across && a && each && each.from >= a.from - 2) {
    roles.set(across, ['across']).set(a, ['legA', 'legB']);
  } else if (volts.length === 1) {
    const [q] = volts;
    const role = q && roleNear(c, q, volts);
    if (q && role && (q.what === 'volts' || role === 'across' || pointsTold)) roles.set(q, [role]);
  } else if (volts.length > 1 && new Set(statesOf(c, volts).values()).size < 2) {
    const values = volts.map((q) => ({ value: q.value, from: q.from, to: q.to, volts: true, q }));
    for (const [r, v] of align(c, supplyReads(), values, roleOf).pairs) roles.set(v.q, [roleOf(r.fact)]);
    if (![...roles.keys()].some((q) => q.what === 'volts') && !pointsTold && big.length === 0) roles.clear();
  } else for (const q of volts) if (q.what === 'volts') roles.set(q, [roleNear(c, q, volts)]);
  const list = all.map((q) => (bare.includes(q) && roles.has(q) ? { ...q, what: 'volts' as const, unit: 'V' } : q));
  list.forEach((q, i) => {
    const was = all[i];
    const as = was && roles.get(was);
    if (as && was !== q) roles.set(q, as);
  });
  return { list, roles };
}
/** More than one leg to neutral can be, less than two legs. */
const ONE_LEG_V = 160;
