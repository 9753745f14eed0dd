import type { Reading, Verdict } from '../../rules/types.ts';
import type { EvidenceRow, Progress, SuspectRow } from '../types.ts';
import { readingWords } from './ask.ts';
import { shownBand, shownValue } from './numbers.ts';
import type { Saying } from './said.ts';
import { spokenTo } from './words/speaker.ts';

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
  return row;
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
  }));
}

export const progress = ({ at }: Saying): Progress => ({
  suspectsLeft: at.c.suspects.filter((u) => u.live).length,
  minutesLeft: at.c.ahead.min,
  checksLeft: at.c.ahead.checks,
});
