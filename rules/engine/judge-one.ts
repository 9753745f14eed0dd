import type { Band, CaseFacts, Prepared, Reading, Value, Verdict } from '../types.ts';
import { expectedAsTaken } from './as-taken.ts';
import { inside } from './bands.ts';
import { healthyAsTaken, judge } from './judge.ts';
import { lineVolts } from './line.ts';

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
  if (one.lifted !== undefined) reading.lifted = one.lifted;
  const none = { readings: [] as Reading[] } as CaseFacts;
  const { verdict } = await judge(p, reading, lineVolts(p, none));
  const each = p.circuits.map((c) => ({ machine: c.id, p: { ...p, circuits: [c] } }));
  const bands = each.flatMap((c) => healthyAsTaken(c.p, reading).map((e) => ({ machine: c.machine, band: e.band })));
  const explainedBy: string[][] = [];
  for (const f of p.knowledge.faults.values()) {
    const holds = expectedAsTaken(p, reading, [f.id]).some((e) => typeof e === 'object' && inside(one.value, e.band));
    if (holds) explainedBy.push([f.id]);
  }
  return { verdict, bands, explainedBy };
}
