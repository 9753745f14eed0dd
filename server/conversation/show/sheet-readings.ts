import { pointsRead } from '../../place/reads.ts';
import type { CloseOutRow, SheetReading } from '../../shapes/sheet.ts';
import { pointWords } from '../stand/points.ts';
import type { Saying } from '../stand/said.ts';
import { evidenceRows } from './evidence.ts';

/** Every reading as a line of the sheet. */
export function sheetReadings(x: Saying): SheetReading[] {
  const { k, s, at } = x;
  const rows = evidenceRows(x);
  return at.facts.readings.map((r, i) => {
    const row = rows[i]!;
    const m = (r.check ? k.checks.get(r.check) : undefined)?.measure?.reads.find((q) => q.fact === r.fact);
    const points = pointsRead(k, at.p.circuits[0], r);
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

/** A list asked as one question and answered "none" is one line of the sheet, not fourteen. */
export function clearedLists({ k, s, at }: Saying, all: SheetReading[]): { clear: string[]; rest: SheetReading[] } {
  const value = new Map(at.facts.readings.map((r) => [r.fact, r.value]));
  const lists = [...k.checks.values()].filter((q) => q.kind === 'gate' && q.choices?.none);
  const asNone = (fact: string) =>
    lists.some((q) => q.choices!.none![fact] !== undefined && q.choices!.none![fact] === value.get(fact));
  const clear = lists.filter((q) => q.settles.every((f) => asNone(f))).map((q) => s.checkName(q.id));
  return { clear, rest: all.filter((r) => !asNone(r.fact)) };
}

/** What was measured as found, each place once, beside the same place as left: read again in a proof. */
export function closeOutRows(x: Saying, measured: readonly SheetReading[]): CloseOutRow[] {
  const proofs = new Set([...x.k.checks.values()].filter((q) => q.kind === 'proof').flatMap((q) => q.settles));
  const asLeft = (fact: string) => measured.findLast((r) => proofs.has(r.fact) && twin(x, fact, r.fact))?.shown ?? null;
  return onceEach(measured.filter((r) => !proofs.has(r.fact))).map((rows) => closeOutRow(x, rows, asLeft));
}

function closeOutRow({ s }: Saying, rows: readonly SheetReading[], asLeft: (fact: string) => string | null): CloseOutRow {
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
    asLeft: asLeft(r.fact),
    ...(r.expectedShown && { expected: r.expectedShown }),
    verdict: r.verdict,
    standing: r.standing,
    by: r.by,
  };
}

/** Readings of one fact at the same points together, in the order first read. */
function onceEach(readings: readonly SheetReading[]): SheetReading[][] {
  const by = new Map<string, SheetReading[]>();
  for (const r of readings) by.set(`${r.fact}/${r.where}`, [...(by.get(`${r.fact}/${r.where}`) ?? []), r]);
  return [...by.values()];
}

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
