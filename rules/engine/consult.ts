import { asFact } from '../knowledge/as-fact.ts';
import type { CaseFacts, Check, Consultation, Knowledge, MayUse, Prepared, Reading, Rule, Trace, Verdict } from '../types.ts';
import { RULE_SETS } from '../types.ts';
import { placeOf } from './case.ts';
import { caseFlat, checkStanding, NO_ANSWER, supplyScale } from './derive.ts';
import { findings, findingsFlat } from './findings.ts';
import { followThrough } from './follow-through.ts';
import { type Judged, judge } from './judge.ts';
import { lineVolts } from './line.ts';
import { lookAgain, oddOne, rivalled } from './look-again.ts';
import { asking, doubtful, endKey, looking, openGates, outvoted, planned, round } from './next-check.ts';
import { over, type Permitted, permitted } from './permits.ts';
import { refer, referBeyond, referByStops, useOf } from './referral.ts';
import { rounds } from './rounds.ts';
import { evaluateSet, type Flat, factsOf } from './run-rules.ts';
import { goesAndComes, inTalk } from './talk.ts';
import { twoPoints } from './two-points.ts';
import { candidates, explains, outcomeSeen, type Weighed, weigh } from './weigh.ts';

/**
 * The whole of the reasoning for one case as it stands: stops first, then verdicts, suspects, the next check or the end, and who should come.
 * Pure: no clock, no chance, no I/O; the same machine and the same facts give the same answer. A promise only because the engine is one.
 */
export async function consult(machine: Prepared, f: CaseFacts): Promise<Consultation> {
  const p = inTalk(machine, f.families, goesAndComes(machine.knowledge, f));
  return rounds(p, f, (counts, after) => oneRound(p, f, counts, after));
}

/**
 * One round of a case: from the complaint to a repair. Everything told is judged and can stop the talk;
 * only what `counts` holds is weighed, and proofs are read from `after` the repair (undefined while there was none).
 */
async function oneRound(p: Prepared, f: CaseFacts, counts: CaseFacts, after?: CaseFacts): Promise<Consultation> {
  const k = p.knowledge;
  const scale = supplyScale(k, f);
  const line_v = lineVolts(p, f, scale);
  const judged: Judged[] = [];
  for (const r of f.readings) judged.push(await judge(p, r, line_v, scale, f));
  const classes = new Map(judged.map((j, i) => [j.verdict.seq, j.verdict.class ?? String(f.readings[i]!.value)]));
  const slips = outvoted(k, counts, classes);
  const found = findings(k, f, judged, slips);
  const told: Flat = { ...caseFlat(k, f, p.machine), ...findingsFlat(k, found) };
  const { stops, silenced, madeSafe, asks, trace } = await stopSigns(k, told, found);
  const flat: Flat = { ...told, ...seenFlat(p, f, line_v, scale), stop_stood: stops.length + madeSafe.length ? 'yes' : 'no' };

  const may = await permitted(p, f, flat, new Set(silenced));
  trace.push(...may.trace);
  // What must not be used is not run for a cause, a repeat or a proof, until its repair is told.
  const whereUse = async (use: MayUse): Promise<Permitted[]> =>
    use === 'no' && !after ? (await permitted(p, f, { ...flat, must_not_run: 'yes' }, new Set(silenced))).checks : may.checks;

  const heard: CaseFacts = {
    ...counts,
    readings: slips.size ? counts.readings.filter((r) => !slips.has(r.seq)) : counts.readings,
    beside: new Set([...onItsOwn(p, f, found, scale), ...judged.flatMap((j) => (j.counts ? [] : [j.verdict.seq]))]),
  };
  // Two faults at once are thought of only when no single one explains what was read, and read again.
  const floating = new Set(
    judged.filter((j) => j.verdict.is === 'floating' || j.verdict.is === 'ask again').map((j) => j.verdict.seq),
  );
  const singly = weigh(p, heard, line_v, scale);
  const again = doubtful(p, counts, singly, floating, classes, repeatable(f, await whereUse(useOf(k, singly.filter(condemned)))));
  const twoAtOnce = again === undefined && singly.some((w) => w.live && w.against.length > 0);
  const weighed = twoAtOnce ? weigh(p, heard, line_v, scale, true) : singly;
  const verdicts = judged.map((j, i) => withStanding(k, j.verdict, f.readings[i]!, f, judged, weighed, slips));
  for (const j of judged) trace.push(...j.trace);

  const out: Consultation = {
    knowledge: k.version,
    rev: f.rev,
    stops,
    madeSafe,
    found,
    silenced,
    verdicts,
    suspects: weighed.map((w) => ({
      faults: w.faults,
      share: w.share,
      misreads: w.against.length,
      live: w.live,
      for: w.for,
      against: w.against,
      confirmedBy: w.confirmedBy,
    })),
    notToldApart: [],
    ahead: { min: 0, checks: 0 },
    followThrough: [],
    trace,
  };
  const toWriteOut = measuredSeqs(k, f);
  if (stops.length) {
    out.referral = referByStops(k, stops, toWriteOut);
    // A technician may say the danger was made safe; nobody else is asked, and no danger that needs help from outside is lifted so.
    const release = asks.map((id) => k.checks.get(id)!).find((c) => may.checks.some((m) => m.check.id === c.id));
    if (release && stops.every((s) => s.standsUntil === 'made safe') && checkStanding(k, f, release) === 'open') {
      out.next = { check: release.id, why: 'gate', cost_min: release.min, outcomes: [] };
      out.ahead = { min: release.min, checks: 1 };
    }
    return out;
  }

  const gates = openGates(k, f, may.checks);
  const live = weighed.filter((w) => w.live);
  const toThePart = may.checks.some((m) => m.check.kind === 'worth' && m.check.measure !== undefined);
  // Outside what is known here: danger signs are still asked first, then the case is handed on.
  const beyond = (await evaluateSet(over(k, 'conclusions', 'case'), flat)).find((x) => x.truth === 'holds' && x.rule.then.trade);
  const danger = gates.find((g) => g.settles.some((fact) => k.facts.get(fact)?.danger));
  if (beyond && !danger) {
    trace.push({ set: 'conclusions', rule: beyond.rule.id, truth: 'holds', saw: beyond.saw });
    out.conclusion = { is: 'out of scope', faults: [] };
    out.referral = referBeyond(beyond.rule, toWriteOut);
    return out;
  }
  if (gates.length) {
    const gate = (beyond && danger) || gates[0]!;
    out.next = { check: gate.id, why: 'gate', cost_min: gate.min, outcomes: [] };
    out.ahead = {
      min: round(
        gates.reduce((sum, g) => sum + g.min, 0),
        1,
      ),
      checks: gates.length,
    };
    return out;
  }
  if (again !== undefined) {
    const r = counts.readings.find((x) => x.seq === again)!;
    const check = k.checks.get(r.check!)!;
    out.next = onceMore(check, r);
    out.ahead = { min: check.min, checks: 1 };
    return out;
  }

  const wanted = judged.flatMap((j) => (j.asks && may.checks.some((m) => m.check.id === j.asks) ? [k.checks.get(j.asks)!] : []));
  const first = wanted.find((c) => checkStanding(k, f, c) === 'open');
  if (first) {
    out.next = { check: first.id, why: 'worth', cost_min: first.min, outcomes: [] };
    out.ahead = { min: first.min, checks: 1 };
    return out;
  }

  let standing: 'confirmed' | 'split' | 'confirm' | 'stuck' = 'stuck';
  // Whoever is not led to the part is first asked what tells whom to call; a homeowner who opted in goes on with the plug out from there.
  const ask = f.audience === 'technician' ? undefined : asking(p, counts, weighed, may.checks);
  if (ask?.next) {
    out.ahead = ask.ahead;
    standing = 'split';
    out.next = ask.next;
  } else if (toThePart) {
    const plan = planned(k, looking(p, heard, weighed, may.checks, line_v, scale, twoAtOnce));
    standing = plan.standing;
    out.ahead = plan.ahead;
    out.notToldApart = plan.notToldApart;
    if (plan.next) out.next = repeatOf(k, counts, plan.next);
    if (plan.next?.why === 'worth' && out.next?.of === undefined && !twoAtOnce)
      out.next = twoPoints(p, heard, weighed, may.checks, { next: plan.next, gain: plan.gain }, scale) ?? out.next;
  }
  const putOff = may.checks.find((m) => m.check.kind === 'worth' && checkStanding(k, counts, m.check) === 'later');
  if (!out.next && standing === 'stuck' && putOff)
    out.next = { check: putOff.check.id, why: 'worth', cost_min: putOff.check.min, outcomes: [] };

  // Nothing is left to ask but what waits for something to be cleared: then that is read, though by itself it parts nothing.
  const clearing = may.checks.find((m) => may.waitFor.has(m.check.clears ?? '') && checkStanding(k, counts, m.check) === 'open');
  if (!out.next && standing === 'stuck' && clearing)
    out.next = { check: clearing.check.id, why: 'worth', cost_min: clearing.check.min, outcomes: [] };

  // Before the case ends, the answer that fits worst with all the others is asked once more, if a slip there is likely enough.
  const allowed = out.next ? new Set<string>() : repeatable(f, await whereUse(useOf(k, live.filter(condemned))));
  const slip = out.next
    ? undefined
    : standing === 'confirmed'
      ? (rivalled(p, heard, weighed, allowed) ?? oddOne(k, heard, weighed, allowed))
      : lookAgain(p, heard, allowed, scale);
  if (slip !== undefined) {
    const r = counts.readings.find((x) => x.seq === slip)!;
    const check = k.checks.get(r.check!)!;
    out.next = onceMore(check, r);
    out.ahead = { min: check.min, checks: 1 };
    return out;
  }

  const ends = new Set(live.map((w) => endKey(k, w.faults, toThePart)));
  const facts: Flat = {
    ...flat,
    standing,
    ends_left: ends.size,
    to_the_part: toThePart ? 'yes' : 'no',
    fewest_misreads: live[0]?.against.length ?? 0,
    next_left: out.next ? 'yes' : 'no',
    use_only: live.every((w) => w.faults.every((id) => k.faults.get(id)!.side === 'use')) ? 'yes' : 'no',
    confirmed_live: live.some((w) => w.confirmedBy.length > 0) ? 'yes' : 'no',
    unlisted_leads: unlistedLeads(weighed, live) ? 'yes' : 'no',
  };
  const concluded = (await evaluateSet(over(k, 'conclusions', 'case'), facts)).find((x) => x.truth === 'holds');
  if (!concluded) return out;
  trace.push({ set: 'conclusions', rule: concluded.rule.id, truth: 'holds', saw: concluded.saw });
  // A rule may name what was proved alone, whatever else is still possible behind it.
  const proved = standing === 'confirmed' || concluded.rule.then.names === 'proved';
  const named = live.filter((w) => !proved || w.confirmedBy.length > 0 || live.length === 1);
  out.conclusion = {
    is: concluded.rule.then.conclusion,
    faults: [...new Set((named.length ? named : live).flatMap((w) => w.faults))],
  };
  const referral = await refer(
    k,
    concluded.rule.then.names === 'proved' ? named : live,
    { ...facts, conclusion: concluded.rule.then.conclusion },
    toWriteOut,
  );
  trace.push(...referral.trace);
  if (referral.referral) out.referral = referral.referral;
  delete out.next;
  const steps = followThrough(
    p,
    heard,
    out.conclusion.faults,
    await whereUse(out.referral?.mayUse ?? 'yes'),
    line_v,
    scale,
    after,
  );
  const then = (await evaluateSet(over(k, 'follow-through', 'case'), { conclusion: out.conclusion.is, ...steps.flat })).find(
    (x) => x.truth === 'holds',
  );
  if (out.conclusion.is === 'confirmed') out.followThrough = steps.steps;
  if (!then) return out;
  trace.push({ set: 'follow-through', rule: then.rule.id, truth: 'holds', saw: then.saw });
  const next = steps.next[then.rule.then.next];
  if (next) {
    out.next = next;
    out.ahead = { min: next.cost_min, checks: out.followThrough.filter((x) => x.kind === next.why && x.state === 'due').length };
  }
  return out;
}

/** Is something not listed as likely as the likeliest that still fits? */
const unlistedLeads = (weighed: readonly Weighed[], live: readonly Weighed[]): boolean =>
  (weighed.find((w) => !w.faults.length)?.share ?? 0) >= Math.max(0, ...live.map((w) => w.share));

/** A reading that finds something of its own and that nothing listed explains is a fault beside the one looked for: it contradicts none. */
function onItsOwn(p: Prepared, f: CaseFacts, found: Consultation['found'], scale?: number): ReadonlySet<number> {
  const seqs = new Set(found.flatMap((x) => x.readings));
  const listed = seqs.size ? candidates(p, f.families) : [];
  const alone = f.readings.filter((r) => seqs.has(r.seq) && !listed.some((c) => explains(p, c.faults, r, scale)));
  return new Set(alone.map((r) => r.seq));
}

async function stopSigns(
  k: Knowledge,
  flat: Flat,
  found: Consultation['found'],
): Promise<{ stops: Consultation['stops']; madeSafe: string[]; silenced: string[]; asks: string[]; trace: Trace[] }> {
  const all = await evaluateSet(over(k, 'stops', 'case'), flat);
  const run = all.filter((x) => x.truth === 'holds');
  const asks = all.flatMap((x) => (x.truth === 'unknown' ? (x.rule.then.asks ?? []) : []));
  const lifts = new Set<string>(run.flatMap((x) => x.rule.then.lifts ?? []));
  const silenced = new Set<string>();
  const stops: Consultation['stops'] = [];
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

// "Agreed" = read twice alike, or backed by another check that speaks for the same end; "doubted" = the likeliest suspects cannot explain it.
function withStanding(
  k: Knowledge,
  v: Verdict,
  r: Reading,
  f: CaseFacts,
  judged: readonly Judged[],
  weighed: readonly Weighed[],
  slips: ReadonlySet<number>,
): Verdict {
  if (slips.has(v.seq)) return { ...v, standing: 'doubted' };
  const live = weighed.filter((w) => w.live);
  const top = live[0];
  if (top?.against.includes(r.seq)) return { ...v, standing: 'doubted' };
  const root = r.repeats ?? r.seq;
  const twins = f.readings
    .map((x, i) => [x, judged[i]!] as const)
    .filter(([x]) => x.seq !== r.seq && (x.repeats ?? x.seq) === root && placeOf(k, x) === placeOf(k, r));
  if (twins.some(([, j]) => j.verdict.class !== v.class)) return { ...v, standing: 'doubted' };
  if (twins.length) return { ...v, standing: 'agreed' };
  if (top?.for.includes(r.seq) && top.for.some((seq) => f.readings.find((x) => x.seq === seq)?.check !== r.check))
    return { ...v, standing: 'agreed' };
  return v;
}

/** What checks have shown, as a rule names it: `seen_<check>` is the outcome. Of those that some rule asks about. */
function seenFlat(p: Prepared, f: CaseFacts, line_v: number, scale?: number): Flat {
  const out: Flat = {};
  for (const [name, check] of askedAbout(p.knowledge)) out[name] = outcomeSeen(p, f, check, line_v, scale);
  return out;
}
const seenInRules = new WeakMap<Knowledge, Map<string, Check>>();
function askedAbout(k: Knowledge): Map<string, Check> {
  const had = seenInRules.get(k);
  if (had) return had;
  const named = new Set(RULE_SETS.flatMap((set) => (k.rules[set] as Rule[]).flatMap((r) => factsOf(r.when))));
  const out = new Map([...k.checks.values()].map((c) => [asFact('seen', c.id), c] as const).filter(([name]) => named.has(name)));
  seenInRules.set(k, out);
  return out;
}

/** Read by its own proof: what it says of the use counts before the end is named. */
const condemned = (w: Weighed): boolean => w.live && w.confirmedBy.length > 0;

/** What may be read once more: whoever would not or could not is not asked for that again. */
const repeatable = (f: CaseFacts, may: readonly Permitted[]): ReadonlySet<string> => {
  const refused = (check: Check) =>
    check.settles.some(
      (id) => f.readings.some((r) => r.fact === id) && NO_ANSWER.has(f.asked.get(id) ?? f.asked.get(check.id) ?? ''),
    );
  return new Set(may.flatMap((m) => (refused(m.check) ? [] : m.check.id)));
};

/** A reading once more, where it was taken. */
const onceMore = (check: Check, r: Reading): NonNullable<Consultation['next']> => ({
  check: check.id,
  why: 'repeat',
  of: r.seq,
  cost_min: check.min,
  outcomes: [],
  ...(check.anywhere && r.points && { points: r.points, state: r.state }),
});

function repeatOf(k: Knowledge, f: CaseFacts, next: NonNullable<Consultation['next']>): NonNullable<Consultation['next']> {
  const check = k.checks.get(next.check) as Check;
  if (checkStanding(k, f, check) !== 'done') return next;
  const first = f.readings.find((r) => check.settles.includes(r.fact) && r.repeats === undefined);
  return first ? { ...next, of: first.seq } : next;
}

const measuredSeqs = (k: Knowledge, f: CaseFacts): number[] =>
  f.readings.filter((r) => k.facts.get(r.fact)?.kind === 'quantity').map((r) => r.seq);
