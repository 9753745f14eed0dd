import { judgeOne } from '../../../rules/index.ts';
import type { Check, Fact, Knowledge, MachineInHand, Prepared } from '../../../rules/types.ts';
import type { QuickReading, ReadingInput, Refused } from '../../conversation-port.ts';
import { readsOf } from '../../place/reads.ts';
import { badNumber } from '../stand/bad-number.ts';
import { machineProblem, plateKnown, type Wrong, withWatts } from '../stand/plate.ts';
import type { Saying } from '../stand/said.ts';
import { bandSources, byPlate, shownBand, shownValue } from '../words/numbers.ts';
import type { Words } from '../words/shapes.ts';
import { speaker, spokenTo } from '../words/speaker.ts';
import { because, finite } from './evidence.ts';

interface ReadingDeps {
  k: Knowledge;
  words: Words;
  prepared: (machine: MachineInHand) => Prepared;
}

/** One reading judged without a case: verdict, band, why, and how the band came about. Spoken to a technician. */
export async function quickReading({ k, words, prepared }: ReadingDeps, input: ReadingInput): Promise<QuickReading | Refused> {
  const s = speaker(words, k, 'technician');
  const refused = (w: Wrong): Refused => ({ problem: { code: w.code, message: s.problem(w.code, w.put), ...w.put } });
  const check = k.checks.get(input.check);
  if (!check?.measure) return refused({ code: 'no-such-check', put: { check: input.check } });
  const fact = k.facts.get(input.fact ?? check.measure.reads[0]!.fact);
  if (!fact || !check.measure.reads.some((r) => r.fact === fact.id))
    return refused({ code: 'wrong-check', put: { check: check.id, fact: input.fact ?? '' } });
  const bad = badNumber(k, fact, input.value, input.unit) ?? machineProblem(k, told(input));
  if (bad) return refused(bad);
  const hand = handOf(k, check, fact, input);
  const p = prepared(hand);
  const one = await judgeOne(p, {
    check: check.id,
    fact: fact.id,
    value: input.value,
    ...(input.lifted !== undefined && { lifted: input.lifted }),
    ...(input.lowImpedance !== undefined && { lowImpedance: input.lowImpedance }),
  });
  const { verdict } = one;
  const x = { k, s } as Saying;
  const reading = {
    seq: 0,
    fact: fact.id,
    check: check.id,
    value: input.value,
    state: check.state,
    said: '',
    by: 'technician' as const,
  };
  const out: QuickReading = {
    check: check.id,
    fact: fact.id,
    label: s.fact(fact.id),
    verdict: verdict.is,
    verdictWords: spokenTo(words.general.verdicts[verdict.is].short, 'technician'),
    shown: shownValue(s, k, fact.id, input.value, 'metric'),
    because: because(x, reading, verdict),
    how: howOf(x, hand, one, byPlate(check, fact.id)),
    sources: verdict.sources,
    cautions: check.cautions.map((c) => s.of('cautions', c)),
  };
  if (verdict.healthy) {
    out.expected = finite(verdict.healthy);
    out.expectedShown = shownBand(s, verdict.healthy, 'metric');
  }
  return out;
}

const told = (input: ReadingInput): Partial<MachineInHand> => ({
  ...(input.machine !== undefined && { circuits: [input.machine] }),
  ...(input.plate && { plate: input.plate }),
  ...(input.meter !== undefined && { meter: input.meter }),
  ...(input.leads_ohm !== undefined && { leads_ohm: input.leads_ohm }),
});

function handOf(k: Knowledge, check: Check, fact: Fact, input: ReadingInput): MachineInHand {
  const here = [...k.machines.values()]
    .filter((m) => readsOf(k, check, m).some((read) => read.fact === fact.id))
    .sort((a, b) => b.prior - a.prior || (a.id < b.id ? -1 : 1))
    .map((m) => m.id);
  return {
    circuits: input.machine === undefined ? here : [input.machine],
    plate: withWatts(input.plate ?? {}),
    hookup: input.hookup ?? 'unknown',
    meter: input.meter ?? [...k.meters.keys()][0]!,
    system: k.supply.systems[0]!.id,
    ...(input.leads_ohm !== undefined && { leads_ohm: input.leads_ohm }),
  };
}

/** One line for each step the band came about by, then what the reading would fit. */
function howOf({ k, s }: Saying, hand: MachineInHand, one: Awaited<ReturnType<typeof judgeOne>>, plate: boolean): string[] {
  const lines = one.bands.map(({ machine, band }) =>
    s.say('how-band', { machine: k.machines.get(machine)?.title ?? machine, band: shownBand(s, band, 'metric') }),
  );
  const band = one.verdict.healthy ?? one.bands[0]?.band;
  if (band) lines.push(...bandSources(s, k, band, plateKnown(hand.plate), plate).map((from) => s.say('how-from', { from })));
  lines.push(s.say('how-meter', { meter: k.meters.get(hand.meter)?.title ?? hand.meter }));
  const names = one.verdict.is === 'good' ? [] : one.explainedBy.map((f) => s.faults(f));
  if (names.length) lines.push(s.say('how-fits', { list: names.slice(0, MOST_NAMED).join('; ') }));
  return lines;
}
const MOST_NAMED = 6;
