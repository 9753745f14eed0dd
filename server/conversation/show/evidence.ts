import { supplyScale } from '../../../rules/index.ts';
import type { Reading, Verdict } from '../../../rules/types.ts';
import type { EvidenceRow, Progress, SuspectRow } from '../../types.ts';
import { readingWords } from '../stand/ask.ts';
import type { Saying } from '../stand/said.ts';
import { shownBand, shownValue } from '../words/numbers.ts';
import { spokenTo } from '../words/speaker.ts';

const NOTED: Verdict = { seq: 0, is: 'noted', standing: 'single', rule: '', sources: [] };

/** One row for each reading that stands, in the order told. */
export const evidenceRows = (x: Saying): EvidenceRow[] => x.at.facts.readings.map((r) => evidenceRow(x, r));

export function evidenceRow(x: Saying, r: Reading): EvidenceRow {
  const { k, s, at } = x;
  const v = at.c.verdicts.find((w) => w.seq === r.seq) ?? NOTED;
  const row: EvidenceRow = {
    seq: r.seq,
    fact: r.fact,
    label: s.fact(r.fact),
    value: r.value,
    shown: shownValue(s, k, r.fact, r.value, at.facts.units),
    said: r.said,
    verdict: v.is,
    verdictWords: spokenTo(s.words.general.verdicts[v.is].short, s.audience),
    standing: v.standing,
    because: because(x, r, v),
    sources: v.sources,
  };
  const unit = r.unit ?? k.facts.get(r.fact)?.unit;
  if (unit) row.unit = unit;
  if (v.healthy) {
    row.expected = finite(v.healthy);
    row.expectedShown = shownBand(s, v.healthy, at.facts.units);
  }
  const meter = meterRange(x, r);
  if (meter) row.meter = meter;
  return row;
}

/** The reading less and plus what the meter may be off: percent of the reading, and counts of its last digit. */
function meterRange({ k, at }: Saying, r: Reading): EvidenceRow['meter'] {
  const what = k.checks.get(r.check ?? '')?.measure?.what;
  const meter = k.meters.get(at.hand?.meter);
  if (!what || !meter || typeof r.value !== 'number') return undefined;
  const { value } = r;
  const line = what === 'ohms' ? (meter.ohms.find((l) => value <= l.upTo) ?? meter.ohms.at(-1)) : meter[what];
  if (!line) return undefined;
  const by = (Math.abs(value) * line.percent) / 100 + line.counts * line.resolution;
  const round = (n: number) => Number(n.toPrecision(6));
  return { lo: round(Math.max(0, value - by)), hi: round(value + by) };
}

/** What a reading of this class means here, if there are words for it; else why the verdict. */
export function because({ k, s }: Saying, r: Reading, v: Verdict): string {
  const means = s.words.facts[r.fact]?.means;
  const own = means?.[v.class ?? ''] ?? means?.[v.is];
  if (own) return spokenTo(own, s.audience);
  const rule = k.rules.verdicts.find((x) => x.id === v.rule);
  if (rule && s.audience === 'technician') return rule.because;
  return spokenTo(s.words.general.verdicts[v.is].because, s.audience);
}

/** JSON has no infinity. An all-OL band keeps its sign: the low end above the high one. */
export const finite = <B extends { lo: number; hi: number }>(band: B): B =>
  Number.isFinite(band.lo) && Number.isFinite(band.hi)
    ? band
    : {
        ...band,
        lo: Number.isFinite(band.lo) ? band.lo : OVER_OHM,
        hi: Number.isFinite(band.hi) ? band.hi : band.lo > band.hi ? 0 : OVER_OHM,
      };
const OVER_OHM = 1e12;

/** Every suspect still in the talk, likeliest first; those ruled out come last. "Something not listed" stands by its share. */
export function suspectRows(x: Saying): SuspectRow[] {
  const { s, at } = x;
  const words = (seqs: readonly number[]) => at.facts.readings.filter((r) => seqs.includes(r.seq)).map((r) => readingWords(x, r));
  return at.c.suspects.map((u) => ({
    faults: u.faults,
    label: s.faults(u.faults),
    share: u.share,
    live: u.live,
    for: words(u.for),
    against: words(u.against),
    speaks: [
      ...u.for.map((seq) => ({ seq, is: 'for' as const, ...would(x, u.faults, seq) })),
      ...u.against.map((seq) => ({ seq, is: 'against' as const, ...would(x, u.faults, seq) })),
    ],
  }));
}

/** What a measured reading would have been with these faults, on the likeliest machine in hand. */
function would({ k, s, at }: Saying, faults: readonly string[], seq: number): { would?: string } {
  const reading = at.facts.readings.find((r) => r.seq === seq);
  if (!reading?.check || !faults.length || !k.checks.get(reading.check)?.measure) return {};
  const list = at.p.expected(reading.check, faults, supplyScale(k, at.facts))[0];
  const found = list === 'will-not-run' ? undefined : list?.find((e) => e.fact === reading.fact);
  return found ? { would: shownBand(s, found.band, at.facts.units) } : {};
}

export const progress = ({ at }: Saying): Progress => ({
  suspectsLeft: at.c.suspects.filter((u) => u.live).length,
  minutesLeft: at.c.ahead.min,
  checksLeft: at.c.ahead.checks,
});
