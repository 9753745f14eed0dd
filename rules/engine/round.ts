import type { CaseFacts, Check, Consultation, Knowledge, MayUse, Prepared } from '../types.ts';
import { candidates } from './candidates.ts';
import { caseFlat, NO_ANSWER, supplyScale } from './derive.ts';
import { explains } from './explains.ts';
import { findings, findingsFlat } from './findings.ts';
import { type Judged, judge } from './judge.ts';
import { lineVolts } from './line.ts';
import { doubtful, outvoted } from './next-check.ts';
import { type Permits, type Permitted, permitted } from './permits.ts';
import type { Standing } from './plan.ts';
import { useOf } from './referral.ts';
import type { Flat } from './run-rules.ts';
import { seenFlat } from './seen.ts';
import { type StopSigns, stopSigns } from './stop-signs.ts';
import { heldTogether } from './verdict-standing.ts';
import { type Weighed, weigh } from './weigh.ts';

/** What a round is opened with. */
export interface Opening {
  /** The machine, with the words of this talk. */
  prepared: Prepared;
  /** All that was told in the case. It is judged, and can stop the talk. */
  told: CaseFacts;
  /** What of it counts in this round: what was read of a part since renewed does not. */
  counts: CaseFacts;
  /** What was told after the repair of this round; undefined while none was told. */
  after: CaseFacts | undefined;
}

/** One round of a case as every step sees it. A step hands on a round that says more, and changes none. */
export interface Round extends Opening {
  knowledge: Knowledge;
  /** Leg to leg, V. */
  line_v: number;
  /** The measured leg over the nominal one; undefined while none was read. */
  scale: number | undefined;
  /** A verdict for every reading told, in their order. */
  judged: readonly Judged[];
  stops: StopSigns;
  /** The case as the rules see it. */
  flat: Flat;
  /** What this person may be asked now. */
  permits: Permits;
  /** Of those, whether one leads to the part: a reading that can change the end. */
  toThePart: boolean;
  /** What counts less the slips, with those readings named that speak for and against nothing. */
  heard: CaseFacts;
  /** Every suspect, likeliest first; and those that still fit. */
  weighed: readonly Weighed[];
  live: readonly Weighed[];
  /** Two faults at once are thought of. */
  twoAtOnce: boolean;
  /** The reading that is doubtful enough to be asked again at once (seq). */
  again: number | undefined;
  /** How far the search has come. */
  standing: Standing;
  /** What there is to say so far. */
  says: Consultation;
}

/** Judges, stops, permits and weighs: all that the steps of a round stand on. */
export async function openRound(opening: Opening): Promise<Round> {
  const read = await readRound(opening);
  const { stops } = read;
  const permits = await permitted(opening.prepared, opening.told, read.flat, new Set(stops.silenced));
  const evidence = await weighRound(read, permits);
  const { weighed } = evidence;
  const { knowledge, judged } = read;
  return {
    ...read,
    ...evidence,
    permits,
    toThePart: permits.checks.some((m) => m.check.kind === 'worth' && m.check.measure !== undefined),
    live: weighed.filter((w) => w.live),
    standing: 'stuck',
    says: {
      knowledge: knowledge.version,
      rev: opening.told.rev,
      stops: stops.stops,
      madeSafe: stops.madeSafe,
      found: read.found,
      silenced: stops.silenced,
      verdicts: heldTogether(knowledge, opening.told, judged, weighed, read.slips),
      suspects: weighed.map(({ faults, share, against, live, for: speaking, confirmedBy }) => ({
        faults,
        share,
        misreads: against.length,
        live,
        for: speaking,
        against,
        confirmedBy,
      })),
      notToldApart: [],
      ahead: { min: 0, checks: 0 },
      followThrough: [],
      trace: [...stops.trace, ...permits.trace, ...judged.flatMap((j) => j.trace)],
    },
  };
}

interface Read extends Pick<Round, keyof Opening | 'knowledge' | 'line_v' | 'scale' | 'judged' | 'stops' | 'flat'> {
  /** Reading (seq) -> its class, or its answer in words. */
  classes: ReadonlyMap<number, string>;
  /** Readings that two others, alike, stand against. */
  slips: ReadonlySet<number>;
  found: Consultation['found'];
}
async function readRound(opening: Opening): Promise<Read> {
  const { prepared, told, counts } = opening;
  const { knowledge } = prepared;
  const scale = supplyScale(knowledge, told);
  const line_v = lineVolts(prepared, told, scale);
  const judged: Judged[] = [];
  for (const reading of told.readings) judged.push(await judge(prepared, reading, line_v, scale, told));
  const classes = new Map(judged.map((j, i) => [j.verdict.seq, j.verdict.class ?? String(told.readings[i]!.value)]));
  const slips = outvoted(knowledge, counts, classes);
  const found = findings(knowledge, told, judged, slips);
  const ofCase: Flat = { ...caseFlat(knowledge, told, prepared.machine), ...findingsFlat(knowledge, found) };
  const stops = await stopSigns(knowledge, ofCase, found);
  const flat: Flat = {
    ...ofCase,
    ...seenFlat(prepared, told, line_v, scale),
    stop_stood: stops.stops.length + stops.madeSafe.length ? 'yes' : 'no',
  };
  return { ...opening, knowledge, line_v, scale, judged, classes, slips, found, stops, flat };
}

/** The suspects by what counts. Two faults at once are thought of only when no single one explains what was read, and read again. */
async function weighRound(read: Read, permits: Permits): Promise<Pick<Round, 'heard' | 'weighed' | 'twoAtOnce' | 'again'>> {
  const { prepared, counts, judged, line_v, scale, slips } = read;
  const heard: CaseFacts = {
    ...counts,
    readings: slips.size ? counts.readings.filter((r) => !slips.has(r.seq)) : counts.readings,
    beside: new Set([...onItsOwn(read), ...judged.flatMap((j) => (j.counts ? [] : [j.verdict.seq]))]),
  };
  const floating = new Set(
    judged.filter((j) => j.verdict.is === 'floating' || j.verdict.is === 'ask again').map((j) => j.verdict.seq),
  );
  const singly = weigh(prepared, heard, line_v, scale);
  const allowed = await repeatable({ ...read, permits }, singly);
  const again = doubtful(prepared, counts, singly, floating, read.classes, allowed);
  const twoAtOnce = again === undefined && singly.some((w) => w.live && w.against.length > 0);
  return { heard, again, twoAtOnce, weighed: twoAtOnce ? weigh(prepared, heard, line_v, scale, true) : singly };
}

/** A reading that finds something of its own and that nothing listed explains is a fault beside the one looked for: it contradicts none. */
function onItsOwn({ prepared, told, found, scale }: Read): readonly number[] {
  const seqs = new Set(found.flatMap((x) => x.readings));
  const listed = seqs.size ? candidates(prepared, told.families) : [];
  return told.readings
    .filter((r) => seqs.has(r.seq) && !listed.some((c) => explains(prepared, c.faults, r, scale)))
    .map((r) => r.seq);
}

type Asked = Pick<Round, 'prepared' | 'told' | 'after' | 'flat' | 'stops' | 'permits'>;

/** What may be asked where the dryer may be used so far: what must not be used is not run for a cause, a repeat or a proof, until its repair is told. */
export async function permittedWhere({ prepared, told, after, flat, stops, permits }: Asked, use: MayUse): Promise<Permitted[]> {
  if (use !== 'no' || after) return permits.checks;
  const dead = await permitted(prepared, told, { ...flat, must_not_run: 'yes' }, new Set(stops.silenced));
  return dead.checks;
}

/** Checks (ids) whose readings may be asked once more: whoever would not or could not is not asked for that again. */
export async function repeatable(round: Asked, weighed: readonly Weighed[]): Promise<ReadonlySet<string>> {
  const { readings, asked } = round.told;
  const refused = (check: Check) =>
    check.settles.some((id) => readings.some((r) => r.fact === id) && NO_ANSWER.has(asked.get(id) ?? asked.get(check.id) ?? ''));
  // Read by its own proof: what it says of the use counts before the end is named.
  const condemned = weighed.filter((w) => w.live && w.confirmedBy.length > 0);
  const may = await permittedWhere(round, useOf(round.prepared.knowledge, condemned));
  return new Set(may.flatMap((m) => (refused(m.check) ? [] : m.check.id)));
}
