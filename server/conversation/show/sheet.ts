import { isTold } from '../../../rules/index.ts';
import type { Answer } from '../../../rules/types.ts';
import type { Sheet } from '../../conversation-port.ts';
import type { JobSheet, SheetReading, WrittenBlock } from '../../shapes/sheet.ts';
import { isNote, isNoteOf } from '../stand/notes.ts';
import type { Saying } from '../stand/said.ts';
import { concludeParts, writtenOut } from './conclude.ts';
import { suspectRows } from './evidence.ts';
import { JOB_BLOCKS, PLATE_FACT } from './job-fields.ts';
import { plateNumbers } from './plate-words.ts';
import { sheetMarkdown } from './sheet-markdown.ts';
import { clearedLists, closeOutRows, sheetReadings } from './sheet-readings.ts';

/** The job sheet, as data and as our own Markdown. `opened`: ISO, UTC. */
export function sheetOf(x: Saying, opened: string): Sheet {
  const json = jobSheet(x, opened);
  return { title: json.title, language: x.s.language, json, markdown: sheetMarkdown(x.s, json) };
}

function jobSheet(x: Saying, opened: string): JobSheet {
  const { k, s, at } = x;
  const { clear, rest: readings } = clearedLists(x, sheetReadings(x));
  const measured = readings.filter((r) => k.facts.get(r.fact)?.kind === 'quantity');
  const follow = at.c.followThrough;
  const plateSupply = readings.find((r) => r.fact === PLATE_FACT)?.shown;
  const visit = visitOf(x);
  const letter = letterOf(x, readings, plateSupply);
  return {
    title: s.say('sheet-title'),
    opened,
    job: written(x),
    safety: safetyOf(x, clear),
    complaint: complaintOf(x),
    machine: machineOf(x, plateSupply),
    readings,
    measured,
    skipped: [...at.facts.asked.keys()].map((id) => (k.facts.has(id) ? s.fact(id) : k.checks.has(id) ? s.checkName(id) : id)),
    result: resultOf(x),
    ruledOut: ruledOut(x),
    causes: follow.filter((f) => f.kind === 'cause').map((f) => ({ label: s.fault(f.item), state: f.state })),
    proofs: follow.filter((f) => f.kind === 'proof').map((f) => ({ check: f.item, label: s.checkName(f.item), state: f.state })),
    closeOut: closeOutRows(x, measured),
    ...(visit && { visit }),
    ...(letter && { letter }),
  };
}

const safetyOf = ({ s, at }: Saying, clear: string[]): JobSheet['safety'] => ({
  stops: at.c.stops.map((q) => ({ sign: q.sign, words: s.stop(q.sign) })),
  everStopped: [...at.facts.everStopped].map((fact) => s.fact(fact)),
  clear,
  note: s.say('close-note'),
});

function complaintOf({ s, at }: Saying): JobSheet['complaint'] {
  const answered = new Set(at.answers.filter(isTold).map((a) => a.turn));
  return {
    families: at.facts.families.map((id) => ({ id, title: s.family(id) })),
    said: [...new Set(at.answers.filter((a) => complaintWords(a, answered)).map((a) => a.said))].filter(Boolean),
  };
}

// The first words of a case are the complaint as told, whatever else was taken from them.
// Later ones that moved the complaint, or that no fact stands for; what became an answer is told below as that.
const complaintWords = (a: Answer, answered: ReadonlySet<number>): boolean =>
  a.turn === 1
    ? !isNote(a)
    : ((a.act === 'set' && a.set.families !== undefined) || isNoteOf(a, 'noted')) && !answered.has(a.turn);

function machineOf({ k, s, at }: Saying, plateSupply: string | undefined): JobSheet['machine'] {
  return {
    kinds: at.hand.circuits.map((id) => ({ id, title: s.name(k.machines.get(id)?.title ?? id) })),
    plate: at.hand.plate,
    ...(plateSupply && { plateSupply }),
    hookup: s.name(at.hand.hookup),
    meter: s.name(k.meters.get(at.hand.meter)?.title ?? at.hand.meter),
    coverNote: s.say('sheet-cover-note'),
  };
}

/** While a stop stands the sheet names no end and no suspect. */
function resultOf(x: Saying): JobSheet['result'] {
  const { s, at } = x;
  const { conclusion, stops } = at.c;
  // Who comes stands under the visit, the readings to hand over in the letter: once each.
  const words = stops.length ? [] : concludeParts(x).filter((p) => p.kind !== 'refer');
  return {
    ...(conclusion && { conclusion: conclusion.is }),
    faults: (conclusion?.faults ?? []).map((id) => ({ id, label: s.fault(id) })),
    suspects: stops.length || conclusion ? [] : likeliest(x),
    words: words.map((p) => p.text),
  };
}

function ruledOut(x: Saying): JobSheet['ruledOut'] {
  const { stops, followThrough } = x.at.c;
  if (stops.length) return [];
  const causes = new Set(followThrough.filter((f) => f.kind === 'cause').map((f) => f.item));
  return suspectRows(x)
    .filter((u) => !u.live && u.faults.length === 1 && u.against.length && !causes.has(u.faults[0]!))
    .map((u) => ({ label: u.label, by: [...new Set(u.against)] }));
}

function visitOf({ s, at }: Saying): JobSheet['visit'] {
  const ref = at.c.referral;
  return (
    ref && {
      kind: s.of('referrals', ref.kind),
      trades: ref.trades.map((t) => s.of('trades', t)),
      mayUse: s.of('mayUse', ref.mayUse),
      priority: s.of('priorities', String(ref.priority)),
      parts: ref.parts.map(s.name),
      minutes: ref.visit_min,
    }
  );
}

/** What an electrician or the power company is given in writing. */
function letterOf(x: Saying, readings: readonly SheetReading[], plateSupply: string | undefined): JobSheet['letter'] {
  const { s, at } = x;
  const ref = at.c.referral;
  if (!ref || !writtenOut(x).length) return undefined;
  return {
    to: ref.trades.filter((t) => t === 'electrician' || t === 'utility').map((t) => s.of('trades', t)),
    dryer: [plateSupply, ...plateNumbers(at.hand.plate), s.name(at.hand.hookup)].filter(Boolean).join(', '),
    text: s.say('sheet-letter-open'),
    readings: readings.filter((r) => ref.readings.includes(r.seq)).map(letterLine),
    mayUse: s.of('mayUse', ref.mayUse),
    ask: s.say('sheet-letter-ask'),
  };
}

const letterLine = (r: SheetReading): string =>
  `${r.label}: ${[r.shown, r.where, r.state].filter(Boolean).join(', ')}${r.expectedShown ? ` (${r.expectedShown})` : ''}`;

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
