import type { Band, CaseFacts, Prepared, Reading, Value, Verdict } from '../types.ts';
import { lineVolts } from './consult.ts';
import { judge } from './judge.ts';

export interface OneReading {
  check: string;
  /** Needed only where one visit of the check gives several. */
  fact?: string;
  value: Value;
  state?: string;
  lowImpedance?: boolean;
  lifted?: boolean;
}
export interface OneJudged {
  verdict: Verdict;
  /** One healthy band for each machine it may be. */
  bands: { machine: string; band: Band }[];
  /** What the reading would mean: fault sets whose own band holds it. */
  explainedBy: string[][];
}

/** One reading judged without a case. Throws a RangeError for a check or fact the knowledge does not have. */
export async function judgeOne(p: Prepared, one: OneReading): Promise<OneJudged> {
  const check = p.knowledge.checks.get(one.check);
  if (!check?.measure) throw new RangeError(`no measured check "${one.check}"`);
  const fact = one.fact ?? check.measure.reads[0]!.fact;
  if (!check.measure.reads.some((r) => r.fact === fact)) throw new RangeError(`check "${one.check}" does not read "${fact}"`);
  const reading: Reading = {
    seq: 0,
    fact,
    check: check.id,
    value: one.value,
    state: one.state ?? check.state,
    said: '',
    by: 'technician',
  };
  if (one.lowImpedance !== undefined) reading.lowImpedance = one.lowImpedance;
  const none = { readings: [] as Reading[] } as CaseFacts;
  const { verdict } = await judge(p, reading, lineVolts(p, none));
  const bands = p.circuits.flatMap((c, i) => {
    const list = p.expected(check.id, [])[i];
    const e = list && list !== 'will-not-run' ? list.find((x) => x.fact === fact) : undefined;
    return e ? [{ machine: c.id, band: e.band }] : [];
  });
  const explainedBy: string[][] = [];
  for (const f of p.knowledge.faults.values()) {
    const lists = p.expected(check.id, [f.id]);
    const holds = lists.some(
      (l) =>
        l !== 'will-not-run' &&
        l.some(
          (e) =>
            e.fact === fact &&
            (one.value === 'open'
              ? e.band.open === true
              : typeof one.value === 'number' && one.value >= e.band.lo && one.value <= e.band.hi),
        ),
    );
    if (holds) explainedBy.push([f.id]);
  }
  return { verdict, bands, explainedBy };
}
