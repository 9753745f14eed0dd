import type { Band, CaseFacts, Prepared, Reading, Value, Verdict } from '../types.ts';
import { expectedAsTaken } from './as-taken.ts';
import { inside } from './bands.ts';
import { healthyAsTaken, judge } from './judge.ts';
import { lineVolts } from './line.ts';
import { prepare } from './prepare.ts';

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
  const bands = machinesAlone(p).flatMap(({ machine, alone }) =>
    healthyAsTaken(alone, reading).map((e) => ({ machine, band: e.band })),
  );
  const explainedBy: string[][] = [];
  for (const f of p.knowledge.faults.values()) {
    const holds = expectedAsTaken(p, reading, [f.id]).some((e) => typeof e === 'object' && inside(one.value, e.band));
    if (holds) explainedBy.push([f.id]);
  }
  return { verdict, bands, explainedBy };
}

interface Alone {
  machine: string;
  alone: Prepared;
}
const machinesOf = new WeakMap<Prepared, Alone[]>();

/** Each machine it may be, as if it were known: what is prepared of several answers for all of them at once. Kept, for what is solved stays solved. */
function machinesAlone(p: Prepared): Alone[] {
  const had = machinesOf.get(p);
  if (had) return had;
  const ids = [...new Set(p.circuits.map((c) => c.id))];
  const all = ids.map((machine) => ({
    machine,
    alone: ids.length === 1 ? p : prepare(p.knowledge, { ...p.machine, circuits: [machine] }),
  }));
  machinesOf.set(p, all);
  return all;
}
