import type { Answer, Band, MachineInHand } from '../../../rules/types.ts';
import type { Sheet } from '../../conversation-port.ts';
import { isNote } from '../stand/notes.ts';
import { pointWords } from '../stand/points.ts';
import type { Saying } from '../stand/said.ts';
import { concludeParts, writtenOut } from './conclude.ts';
import { evidenceRows, suspectRows } from './evidence.ts';
import { JOB_BLOCKS, type JobBlock, type JobField, PLATE_FACT } from './job-fields.ts';
import { sheetMarkdown } from './sheet-markdown.ts';

/** A reading on the sheet: what, where, in which state, who told it, and what it was held against. */
export interface SheetReading {
  seq: number;
  fact: string;
  label: string;
  shown: string;
  where: string;
  state: string;
  lifted: boolean;
  by: string;
  expected?: Band;
  expectedShown?: string;
  verdict: string;
  standing: string;
  said: string;
}
/** A block of the sheet that people write in: contact, access, times, work done. */
export interface WrittenBlock extends Omit<JobBlock, 'fields'> {
  fields: (JobField & { value: string })[];
}
/** What is taken along to the visit, and filled in after it. `said` fields hold a person's own words. */
export interface JobSheet {
  title: string;
  /** ISO, UTC. */
  opened: string;
  job: WrittenBlock[];
  safety: {
    stops: { sign: string; words: string }[];
    everStopped: string[];
    /** Lists of danger signs of which none was told. */
    clear: string[];
    note: string;
  };
  complaint: { families: { id: string; title: string }[]; said: string[] };
  machine: {
    kinds: { id: string; title: string }[];
    plate: MachineInHand['plate'];
    /** What the plate says of its supply, where that was told as a choice. */
    plateSupply?: string;
    hookup: string;
    meter: string;
    coverNote: string;
  };
  readings: SheetReading[];
  measured: SheetReading[];
  skipped: string[];
  result: {
    conclusion?: string;
    faults: { id: string; label: string }[];
    suspects: { label: string; share: number }[];
    words: string[];
  };
  /** One fault each, with every reading it cannot explain. */
  ruledOut: { label: string; by: string[] }[];
  letter?: { to: string[]; dryer: string; text: string; readings: string[]; mayUse: string; ask: string };
  visit?: { kind: string; trades: string[]; mayUse: string; priority: string; parts: string[]; minutes: number };
  causes: { label: string; state: string }[];
  proofs: { check: string; label: string; state: string }[];
  /** What was measured, each pair of points once, however often it was read. */
  closeOut: CloseOutRow[];
}

export interface CloseOutRow {
  label: string;
  where: string;
  state: string;
  lifted: boolean;
  /** Every value read there, in order; `asFound` is the same as shown. */
  values: string[];
  asFound: string;
  asLeft: string | null;
  expected?: string;
  verdict: string;
  standing: string;
  by: string;
}

export function sheetOf(x: Saying, opened: string): Sheet {
  const json = jobSheet(x, opened);
  return { title: json.title, language: x.s.language, json, markdown: sheetMarkdown(x.s, json) };
}

function jobSheet(x: Saying, opened: string): JobSheet {
  const { k, s, at } = x;
  const c = at.c;
  const all = sheetReadings(x);
  const { clear, rest: readings } = clearedLists(x, all);
  const proofs = c.followThrough.filter((f) => f.kind === 'proof');
  const proofFacts = new Set([...k.checks.values()].filter((q) => q.kind === 'proof').flatMap((q) => q.settles));
  const measured = readings.filter((r) => k.facts.get(r.fact)?.kind === 'quantity');
  const answered = new Set(
    at.answers.filter((a) => !isNote(a) && a.fact !== undefined && a.value !== undefined).map((a) => a.turn),
  );
  const stopped = c.stops.length > 0;
  const plateSupply = readings.find((r) => r.fact === PLATE_FACT)?.shown;
  const left = (fact: string) => measured.findLast((r) => proofFacts.has(r.fact) && twin(x, fact, r.fact))?.shown ?? null;
  const sheet: JobSheet = {
    title: s.say('sheet-title'),
    opened,
    job: written(x),
    safety: {
      stops: c.stops.map((q) => ({ sign: q.sign, words: s.stop(q.sign) })),
      everStopped: [...at.facts.everStopped].map((f) => s.fact(f)),
      clear,
      note: s.say('close-note'),
    },
    complaint: {
      families: at.facts.families.map((id) => ({ id, title: s.family(id) })),
      said: [...new Set(at.answers.filter((a) => complaintWords(a, answered)).map((a) => a.said))].filter(Boolean),
    },
    machine: {
      kinds: at.hand.circuits.map((id) => ({ id, title: s.name(k.machines.get(id)?.title ?? id) })),
      plate: at.hand.plate,
      ...(plateSupply && { plateSupply }),
      hookup: s.name(at.hand.hookup),
      meter: s.name(k.meters.get(at.hand.meter)?.title ?? at.hand.meter),
      coverNote: s.say('sheet-cover-note'),
    },
    readings,
    measured,
    skipped: [...at.facts.asked.keys()].map((id) => (k.facts.has(id) ? s.fact(id) : k.checks.has(id) ? s.checkName(id) : id)),
    result: {
      ...(c.conclusion && { conclusion: c.conclusion.is }),
      faults: (c.conclusion?.faults ?? []).map((id) => ({ id, label: s.fault(id) })),
      suspects: stopped || c.conclusion ? [] : likeliest(x),
      // Who comes stands under the visit, the readings to hand over in the letter: once each.
      words: stopped
        ? []
        : concludeParts(x)
            .filter((p) => p.kind !== 'refer')
            .map((p) => p.text),
    },
    ruledOut: (stopped ? [] : suspectRows(x))
      .filter((u) => !u.live && u.faults.length === 1 && u.against.length)
      .filter((u) => !c.followThrough.some((f) => f.kind === 'cause' && f.item === u.faults[0]))
      .map((u) => ({ label: u.label, by: [...new Set(u.against)] })),
    causes: c.followThrough.filter((f) => f.kind === 'cause').map((f) => ({ label: s.fault(f.item), state: f.state })),
    proofs: proofs.map((f) => ({ check: f.item, label: s.checkName(f.item), state: f.state })),
    closeOut: onceEach(measured.filter((r) => !proofFacts.has(r.fact))).map((rows) => {
      const r = rows.at(-1)!;
      const values = rows.map(({ shown }) => shown);
      const same = values.every((value) => value === values[0]);
      return {
        label: r.label,
        where: r.where,
        state: r.state,
        lifted: r.lifted,
        values,
        asFound: same && values.length > 1 ? s.say('sheet-read-times', { value: r.shown, n: values.length }) : values.join(', '),
        asLeft: left(r.fact),
        ...(r.expectedShown && { expected: r.expectedShown }),
        verdict: r.verdict,
        standing: r.standing,
        by: r.by,
      };
    }),
  };
  const ref = c.referral;
  if (ref)
    sheet.visit = {
      kind: s.of('referrals', ref.kind),
      trades: ref.trades.map((t) => s.of('trades', t)),
      mayUse: s.of('mayUse', ref.mayUse),
      priority: s.of('priorities', String(ref.priority)),
      parts: ref.parts.map(s.name),
      minutes: ref.visit_min,
    };
  const out = writtenOut(x);
  if (ref && out.length)
    sheet.letter = {
      to: ref.trades.filter((t) => t === 'electrician' || t === 'utility').map((t) => s.of('trades', t)),
      dryer: [plateSupply, ...plateNumbers(at.hand.plate), s.name(at.hand.hookup)].filter(Boolean).join(', '),
      text: s.say('sheet-letter-open'),
      readings: readings.filter((r) => ref.readings.includes(r.seq)).map(letterLine),
      mayUse: s.of('mayUse', ref.mayUse),
      ask: s.say('sheet-letter-ask'),
    };
  return sheet;
}
const MOST_SUSPECTS = 5;

/** What is written in by hand, for whoever is talking: the blocks after the visit are the technician's. */
function written({ s, at }: Saying): WrittenBlock[] {
  const job = at.record.settings.job ?? {};
  return JOB_BLOCKS.filter((b) => b.phase === 'before' || s.audience === 'technician').map((b) => ({
    ...b,
    title: s.name(b.title),
    fields: b.fields.map((f) => ({
      ...f,
      label: s.name(f.label),
      ...(f.choices && { choices: f.choices.map(s.name) }),
      value: job[f.id] ?? '',
    })),
  }));
}

/** Named suspects still in the talk, shares adding up to one, as the reply gives them. */
function likeliest(x: Saying): { label: string; share: number }[] {
  const live = suspectRows(x).filter((u) => u.live && u.faults.length);
  const total = live.reduce((sum, u) => sum + u.share, 0) || 1;
  return live.slice(0, MOST_SUSPECTS).map(({ label, share }) => ({ label, share: share / total }));
}

/** Readings of one fact at the same points together, in the order first read. */
function onceEach(readings: readonly SheetReading[]): SheetReading[][] {
  const by = new Map<string, SheetReading[]>();
  for (const r of readings) by.set(`${r.fact}/${r.where}`, [...(by.get(`${r.fact}/${r.where}`) ?? []), r]);
  return [...by.values()];
}

/** Plate numbers as printed on it. */
export const plateNumbers = (plate: MachineInHand['plate']): string[] =>
  [
    plate.volts !== undefined && `${plate.volts} V`,
    plate.total_w !== undefined && `${plate.total_w} W`,
    plate.heater_w !== undefined && `${plate.heater_w} W`,
    plate.amps !== undefined && `${plate.amps} A`,
  ].filter((text) => text !== false);

/** The same two points read again in a proof: the reading as left beside the one as found. */
function twin({ k }: Saying, found: string, proof: string): boolean {
  const how = (fact: string) => {
    for (const c of k.checks.values()) {
      const m = c.measure?.reads.find((r) => r.fact === fact);
      if (m) return JSON.stringify([c.measure!.what, c.state, m.points]);
    }
    return undefined;
  };
  return how(found) !== undefined && how(found) === how(proof);
}

// The first words of a case are the complaint as told, whatever else was taken from them.
// Later ones that moved the complaint, or that no fact stands for; what became an answer is told below as that.
const complaintWords = (a: Answer, answered: ReadonlySet<number>): boolean =>
  a.turn === 1 ? !isNote(a) : (a.set?.families !== undefined || a.check === 'noted') && !answered.has(a.turn);

const letterLine = (r: SheetReading): string =>
  `${r.label}: ${[r.shown, r.where, r.state].filter(Boolean).join(', ')}${r.expectedShown ? ` (${r.expectedShown})` : ''}`;

/** A list asked as one question and answered "none" is one line of the sheet, not fourteen. */
function clearedLists({ k, s, at }: Saying, all: SheetReading[]): { clear: string[]; rest: SheetReading[] } {
  const value = new Map(at.facts.readings.map((r) => [r.fact, r.value]));
  const lists = [...k.checks.values()].filter((q) => q.kind === 'gate' && q.choices?.none);
  const asNone = (fact: string) =>
    lists.some((q) => q.choices!.none![fact] !== undefined && q.choices!.none![fact] === value.get(fact));
  const clear = lists.filter((q) => q.settles.every((f) => asNone(f))).map((q) => s.checkName(q.id));
  return { clear, rest: all.filter((r) => !asNone(r.fact)) };
}

function sheetReadings(x: Saying): SheetReading[] {
  const { k, s, at } = x;
  const rows = evidenceRows(x);
  return at.facts.readings.map((r, i) => {
    const row = rows[i]!;
    const m = (r.check ? k.checks.get(r.check) : undefined)?.measure?.reads.find((q) => q.fact === r.fact);
    const points = r.points ?? (m && (m.points[at.hand.circuits[0] ?? ''] ?? m.points['*'] ?? Object.values(m.points)[0]));
    return {
      seq: r.seq,
      fact: r.fact,
      label: row.label,
      shown: row.shown,
      where: points ? pointWords(x, r.fact, points) : '',
      state: m && k.states.has(r.state) ? s.of('states', r.state) : '',
      lifted: r.lifted ?? false,
      by: s.say(`by-${r.by}`),
      ...(row.expected && { expected: row.expected }),
      ...(row.expectedShown && { expectedShown: row.expectedShown }),
      verdict: row.verdictWords,
      standing: row.standing,
      said: r.said,
    };
  });
}
