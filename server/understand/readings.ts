import type { Unit } from '../../rules/types.ts';
import type { Ask, Meaning } from '../types.ts';
import { type Context, evidence, groupHits, type Span } from './context.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import type { Quantity, What } from './units.ts';

type Read = Ask['reads'][number];
type Reading = Extract<Meaning, { is: 'reading' }>;
type Role = 'across' | 'legA' | 'legB' | 'neutral' | undefined;

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

function roleOf(fact: string): Role {
  for (const role of ['across', 'legA', 'legB'] as const) if (kinds.between[role].includes(fact)) return role;
  return undefined;
}

/**
 * The numbers of one utterance as readings of the open question. Where two readings of the same words would differ it asks back.
 * `quantities`: those no other meaning (plate, duration, count) has taken.
 */
export function findReadings(c: Context, ask: Ask | undefined, quantities: Quantity[]): Meaning[] {
  const reads = ask?.kind === 'readings' ? ask.reads : [];
  const what = asked(ask);
  const words = withoutNumber(c, reads, what, quantities);
  if (words) return words;
  let mine = quantities.filter((q) => !what || !q.what || q.what === what || (q.what === 'ohms' && what === 'ohms'));
  if (mine.length === 0) return [];
  const aside = takeAside(c, mine, what);
  mine = corrected(c, aside.left);
  if (mine.length === 0) return [];
  const dial = dialPrefix(c, mine, what);
  mine = dial.left;
  const extra = { ...aside.extra, ...said(c) };
  const at = what === 'ohms' ? quantities.find((q) => q.what === 'temperature' && q.unit !== '?') : undefined;
  if (at) extra.at_c = at.unit === '°F' ? tidy(((at.value - 32) * 5) / 9) : at.value;

  if (!ask || reads.length === 0) return volunteered(c, mine, extra);
  if (reads.length === 1 && reads[0]) return single(c, reads[0], mine, extra, dial.times);
  return several(c, reads, mine, extra, dial.times);
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
    const closed = kinds.closedPath.includes(read.fact);
    if (open && fits.every((q) => q.found.raw === '1' || (q.from >= open.from && q.to <= open.to)))
      return reads.length > 1 && groupHits(c, 'r.each').length > 0
        ? reads.map((r) => reading(c, r, 'open', open))
        : [reading(c, read, 'open', open)];
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
    if (open && what === 'volts') return back('dial');
    if (groupHits(c, 'r.unstable').length > 0) return back('unstable');
    if (what === 'minutes' && groupHits(c, 'r.vague').length > 0) return back('minutes');
  }
  if (fits.length > 0) return undefined;
  const nothing = groupHits(c, 'r.noReading')[0];
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
    const small = [...left].filter((q) => q.value <= 2 && near('r.leads', q, 3, 2)).sort((a, b) => a.value - b.value)[0];
    if (small) {
      left = left.filter((q) => q !== small);
      const net = groupHits(c, 'r.net').length > 0;
      const first = left[0];
      extra.leadsTakenOff = small.value;
      if (first && net && left.length > 1) left = [first];
      else if (first && !net) left[0] = { ...first, value: Number((first.value - small.value).toFixed(6)) };
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
  const before = c.tokens[b.from - 1]?.text ?? '';
  const between = c.tokens.slice(a.to, b.from).filter((t) => t.kind !== 'mark');
  if (between.length > 0 && between.length <= 3 && between.every((t) => t.text === 'not')) return [a];
  if (before === 'not') return [a];
  if (c.tokens[a.from - 1]?.text === 'not') return [b];
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
    if (q.value < limits.lo || q.value > limits.hi) return [ask(c, 'impossible', [plain])];
  }
  if (
    what === 'amps' &&
    kinds.breakerSizes.includes(q.value) &&
    q.value >= 30 &&
    !q.found.approx &&
    c.tokens.filter((t) => t.kind === 'word').length < 3
  )
    return [ask(c, 'breaker', [plain, { is: 'noted', fact: 'breaker_amps', value: q.value, evidence: plain.evidence }])];
  if (what === 'ohms' && !q.what && dialTimes === 1 && kinds.kiloOhms.includes(read.fact) && q.value > 0 && q.value < 200)
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
  const joined =
    between.length === 1 && (between[0] === 'to' || between[0] === '-' || between[0] === 'or' || (between[0] === 'and' && led));
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
      const comma = c.tokens
        .slice(Math.min(h.to, q.to), Math.max(h.from, q.from))
        .some((t) => t.text === ',' || t.text === 'and');
      const far = (before ? q.from - h.to : h.from - q.to + 0.5) + (comma ? 4 : 0) - (h.to - h.from) * 0.3;
      if (!best || far < best.far) best = { role, far };
    }
  return best && best.far < 5 ? best.role : undefined;
}

/** Several points in one sentence: by the words beside each number, else in the order asked, else by what can only be one of them. */
function several(c: Context, reads: Read[], list: Quantity[], extra: Partial<Reading>, dialTimes: number): Meaning[] {
  const each = groupHits(c, 'r.each').length > 0;
  const out = new Map<Read, Quantity>();
  const loose: Quantity[] = [];
  const volts = WHAT[reads[0]?.unit ?? 'V'] === 'volts';
  for (const q of list) {
    const role = roleNear(c, q, list);
    const read = role && reads.find((r) => roleOf(r.fact) === role && !out.has(r));
    const byLabel =
      read ??
      byWords(
        c,
        q,
        list,
        reads.filter((r) => !out.has(r)),
      );
    if (byLabel) out.set(byLabel, q);
    else loose.push(q);
  }
  const free = reads.filter((r) => !out.has(r));
  if (loose.length === 1 && loose[0] && each && free.length > 1) {
    const q = loose[0];
    const legs = free.filter((r) => roleOf(r.fact) !== 'across');
    for (const r of volts && q.value < 160 && legs.length > 1 ? legs : free) out.set(r, q);
  } else if (loose.length > 0 && loose.length === free.length) {
    // three plain numbers for three points: the one about twice the others is across the legs, wherever it was said
    const across = free.find((r) => roleOf(r.fact) === 'across');
    const big = loose.filter((q) => q.value > 160);
    if (across && big.length === 1 && big[0]) {
      out.set(across, big[0]);
      const rest = loose.filter((q) => q !== big[0]);
      free
        .filter((r) => r !== across)
        .forEach((r, i) => {
          const q = rest[i];
          if (q) out.set(r, q);
        });
    } else
      free.forEach((r, i) => {
        const q = loose[i];
        if (q) out.set(r, q);
      });
  } else if (loose.length > 0 && volts) {
    const across = free.find((r) => roleOf(r.fact) === 'across');
    const legs = free.filter((r) => roleOf(r.fact) !== 'across');
    const big = loose.filter((q) => q.value > 160);
    const small = loose.filter((q) => q.value <= 160);
    if (big.length === 1 && across && big[0]) out.set(across, big[0]);
    else if (big.length > 0) return [ask(c, 'whichSide')];
    if (small.length === legs.length)
      legs.forEach((r, i) => {
        const q = small[i];
        if (q) out.set(r, q);
      });
    else if (small.length > 0)
      return [
        ...fixed(c, out, extra, dialTimes),
        ask(
          c,
          'whichSide',
          free.map((r) => take(c, r, small[0] as Quantity, extra, 1)),
        ),
      ];
  } else if (loose.length > 0) {
    if (out.size === 0 || loose.length > free.length)
      return [
        ...fixed(c, out, extra, dialTimes),
        ask(
          c,
          'whichSide',
          free.slice(0, 2).map((r) => take(c, r, loose[0] as Quantity, extra, 1)),
        ),
      ];
    free.forEach((r, i) => {
      const q = loose[i];
      if (q) out.set(r, q);
    });
  }
  return fixed(c, out, extra, dialTimes, reads);
}

function fixed(
  c: Context,
  out: Map<Read, Quantity>,
  extra: Partial<Reading>,
  times: number,
  order: Read[] = [...out.keys()],
): Meaning[] {
  return order.flatMap((r) => {
    const q = out.get(r);
    return q ? one(c, r, q, extra, times) : [];
  });
}

/** The read whose label words stand nearest. */
function byWords(c: Context, q: Quantity, list: Quantity[], reads: Read[]): Read | undefined {
  const prev = Math.max(0, ...list.filter((o) => o.to <= q.from).map((o) => o.to));
  const next = Math.min(c.tokens.length, ...list.filter((o) => o.from >= q.to).map((o) => o.from));
  const around = c.tokens
    .slice(prev, q.from)
    .concat(c.tokens.slice(q.to, Math.min(next, q.to + 3)))
    .map((t) => t.text);
  const scored = reads.map((r) => {
    const own = `${r.label} ${r.pointWords}`.toLowerCase().match(/[\p{L}\d]+/gu) ?? [];
    const others = new Set(
      reads.filter((o) => o !== r).flatMap((o) => `${o.label} ${o.pointWords}`.toLowerCase().match(/[\p{L}\d]+/gu) ?? []),
    );
    return { r, n: own.filter((w) => w.length > 1 && !others.has(w) && around.includes(w)).length };
  });
  scored.sort((a, b) => b.n - a.n);
  return scored[0] && scored[0].n > 0 && scored[0].n > (scored[1]?.n ?? 0) ? scored[0].r : undefined;
}

/** A number nobody asked for is kept only with its unit. */
function volunteered(c: Context, list: Quantity[], extra: Partial<Reading>): Meaning[] {
  return list.flatMap((q): Meaning[] => {
    if (!q.what || q.what === 'watts' || q.what === 'count' || q.what === 'length' || q.unit === '?') return [];
    const role = q.what === 'volts' ? roleNear(c, q, list) : undefined;
    const si = q.unit ? TO_SI[q.unit] : undefined;
    return [
      {
        is: 'reading',
        what: q.what,
        value: si ? tidy(si[1](q.value)) : q.value,
        ...(si ? { unit: si[0], saidValue: q.value, saidUnit: q.unit } : { unit: q.unit as Unit }),
        ...(role ? { pointsSaid: pointsSaid(role) } : {}),
        ...extra,
        evidence: evidence(c, q),
      },
    ];
  });
}
