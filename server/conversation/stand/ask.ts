import {
  askedCheck,
  expectedAsTaken,
  forMachine,
  putBack,
  supplyScale,
  usesPower,
  withCoversInFront,
} from '../../../rules/index.ts';
import type { Band, Check, NextCheck, Reading } from '../../../rules/types.ts';
import { pointsAsked } from '../../place/reads.ts';
import type { Ask } from '../../types.ts';
import type { SayName } from '../words/names.ts';
import { shownBand, shownValue } from '../words/numbers.ts';
import { spokenTo } from '../words/speaker.ts';
import { signsOf } from './danger-ask.ts';
import { isNoteOf } from './notes.ts';
import { pointWords } from './points.ts';
import type { Saying } from './said.ts';
import { newest } from './standing.ts';

/** The ask that has no check behind it: what the dryer does. */
export const COMPLAINT = 'complaint';

/** The question open in a case as it stands; undefined when there is nothing to ask. */
export function openAsk(x: Saying): Ask | undefined {
  const { at } = x;
  if (at.c.stops.length) return undefined;
  if (!at.facts.families.length) return complaintAsk(x);
  return at.c.next && askOf(x, at.c.next);
}

function complaintAsk({ k, s }: Saying): Ask {
  const text = s.say('complaint-ask');
  return {
    check: COMPLAINT,
    text,
    kind: 'one',
    choices: [...k.families.values()].map((f) => ({ id: f.id, label: s.family(f.id), fact: COMPLAINT })),
    reads: [],
    why: s.say('complaint-why'),
    cautions: [],
    min: 0.2,
    covers: [],
    stateWords: '',
    ...(s.audience === 'agent' && { script: text }),
  };
}

const WHY: Record<NextCheck['why'], SayName> = {
  gate: 'why-gate',
  repeat: 'why-repeat',
  worth: 'why-worth',
  confirm: 'why-confirm',
  cause: 'why-cause',
  proof: 'why-proof',
};

function askOf(x: Saying, next: NextCheck): Ask {
  const { k, s, at } = x;
  const check = askedCheck(k, next);
  const words = s.check(check.id)!;
  const reads = readsOf(x, check, next);
  const choices = reads.length ? [] : choicesOf(x, check, next);
  const machine = at.hand.circuits[0];
  const covers = withCoversInFront(k, forMachine(check.covers, machine) ?? []).filter((c) => !at.facts.coversOpen.has(c));
  const ask: Ask = {
    check: check.id,
    text: askText(x, check, next, reads),
    kind: reads.length ? 'readings' : check.choices && !check.oneOf ? 'many' : 'one',
    choices,
    reads,
    why: `${spokenTo(words.why, s.audience)} ${s.say(WHY[next.why])}`,
    cautions: check.cautions.filter((c) => mayBeSaid(x, c)).map((c) => s.of('cautions', c)),
    min: Math.round(next.cost_min * 10) / 10,
    covers: covers.map((c) => s.of('covers', c)),
    stateWords: k.states.has(check.state) ? s.of('states', check.state) : '',
  };
  const groups = groupsOf(x, check, choices);
  if (groups.length) ask.groups = groups;
  const signs = signsOf(x, check);
  if (signs.length) ask.about = { signs };
  if (next.of !== undefined) ask.of = next.of;
  if (s.audience === 'agent') ask.script = words.script ?? spokenTo(words.ask, 'homeowner');
  return ask;
}

/** A caution that names a way to give power is said only where power may be given. */
function mayBeSaid({ k, at }: Saying, caution: string): boolean {
  const staysOff = at.c.madeSafe.length > 0 || (at.c.conclusion !== undefined && at.c.referral?.mayUse === 'no');
  return !staysOff || !usesPower(k.cautions.get(caution)?.touches ?? []);
}

/** What is asked, with all that must be known to do it: covers, state, lead off, points, what a good one shows. */
function askText(x: Saying, check: Check, next: NextCheck, reads: Ask['reads']): string {
  const { s } = x;
  const words = s.check(check.id)!;
  const how = words.how ? [s.say('how-to', { how: spokenTo(words.how, s.audience) })] : [];
  const lines = [...beforeIt(x, check, next), question(x, check), ...how];
  if (!check.measure) return lines.join(' ');
  return `${[...lines, ...howToReach(x, check, check.measure)].join(' ')}\n\n${placesToRead(x, check, reads).join('\n')}`;
}

/** Said before the question: covers that go back on, and why it is asked once more. */
function beforeIt(x: Saying, check: Check, next: NextCheck): string[] {
  const { k, s, at } = x;
  const back = putBack(k, at.facts, check);
  const lines = back.length ? [s.say('covers-back', { covers: back.map((c) => s.of('covers', c)).join(', ') })] : [];
  if (next.of !== undefined) lines.push(next.why === 'confirm' ? s.say('ask-confirm') : repeatText(x, next.of));
  else if (at.facts.asked.get(check.id) === 'later') lines.push(s.say('ask-later-again'));
  return lines;
}

/** The question itself; of a list half told, what else of it there is. */
function question(x: Saying, check: Check): string {
  const { s, at } = x;
  const ask = spokenTo(s.check(check.id)!.ask, s.audience);
  const partly = check.choices && !check.oneOf && check.settles.some((f) => newest(at.facts, f) || at.facts.asked.has(f));
  if (!partly) return ask;
  const nowOnly = at.answers.some((a) => isNoteOf(a, 'now-only'));
  return s.say(nowOnly && signsOf(x, check).length ? 'ask-earlier' : 'ask-anything-else', { ask });
}

/** What comes off, how the dryer must stand, and how the meter is set. */
function howToReach({ k, s, at }: Saying, check: Check, measure: NonNullable<Check['measure']>): string[] {
  const machine = at.hand.circuits[0];
  const covers = withCoversInFront(k, forMachine(check.covers, machine) ?? []).filter((c) => !at.facts.coversOpen.has(c));
  const lift = forMachine(measure.lift, machine);
  const lead = k.machines.get(machine ?? '')?.lifts.find((l) => l.id === lift);
  return [
    ...(covers.length ? [s.say('covers-off', { covers: covers.map((c) => s.of('covers', c)).join(', ') })] : []),
    ...(k.states.has(check.state) ? [s.say('set-state', { state: s.of('states', check.state) })] : []),
    ...(lead ? [s.say('lift-first', { lead: s.name(lead.what) })] : []),
    ...(measure.lowImpedance ? [s.say('low-impedance')] : []),
  ];
}

/** Each reading on a line: where the leads go, and what a good one shows. */
const placesToRead = (x: Saying, check: Check, reads: Ask['reads']): string[] =>
  reads.map((r) => {
    const band = healthyBand(x, check, r.fact);
    const expected = band ? ` ${x.s.say('expect-before', { band: shownBand(x.s, band, x.at.facts.units) })}` : '';
    return `- ${r.label}: ${r.pointWords}.${expected}`;
  });

function repeatText(x: Saying, of: number): string {
  const { k, s, at } = x;
  const doubted = at.facts.readings.find((r) => r.seq === of);
  if (!doubted) return s.say('ask-repeat', { reading: '' });
  const reading = readingWords(x, doubted);
  const verdict = at.c.verdicts.find((v) => v.seq === of)?.is;
  if (verdict === 'floating' || verdict === 'ask again') return s.say('ask-repeat', { reading });
  // The likeliest cause that cannot explain this one is spoken for by others: those two cannot both be true.
  const top = at.c.suspects.find((u) => u.live && u.against.includes(of));
  const other = at.facts.readings.find((r) => top?.for.includes(r.seq) && r.fact !== doubted.fact && k.facts.has(r.fact));
  return other ? s.say('ask-repeat-clash', { reading, other: readingWords(x, other) }) : s.say('ask-repeat', { reading });
}

/** "Air after five minutes: cold". */
export const readingWords = ({ k, s, at }: Saying, r: Reading): string =>
  `${s.fact(r.fact)}: ${shownValue(s, k, r.fact, r.value, at.facts.units)}`;

/** What a sound machine of this kind shows here; the likeliest kind if several are possible. */
export function healthyBand({ k, at }: Pick<Saying, 'k' | 'at'>, check: Check, fact: string): Band | undefined {
  const scale = supplyScale(k, at.facts);
  const free = check.anywhere ? check.measure?.reads.find((r) => r.fact === fact)?.points['*'] : undefined;
  if (free) {
    const sound = expectedAsTaken(at.p, { fact, points: free, state: check.state }, [], scale)[0];
    return typeof sound === 'object' ? sound.band : undefined;
  }
  for (const list of at.p.expected(check.id, [], scale)) {
    const found = list === 'will-not-run' ? undefined : list.find((e) => e.fact === fact);
    if (found) return found.band;
  }
  return undefined;
}

/**
 * What is read now: the doubted reading alone; to confirm, those of the check that were not good; else what was not read yet.
 */
function readsOf(x: Saying, check: Check, next: NextCheck): Ask['reads'] {
  const { k, s, at } = x;
  const doubted = at.facts.readings.find((r) => r.seq === next.of)?.fact;
  const wanted = (fact: string): boolean => {
    if (next.of === undefined) return !newest(at.facts, fact);
    if (next.why === 'confirm' && speaking.length) return speaking.includes(fact);
    return doubted === undefined || fact === doubted;
  };
  if (!check.measure) return numbersOf(x, check).filter((r) => wanted(r.fact));
  const all = check.measure.reads;
  const verdict = (fact: string) => at.c.verdicts.find((v) => v.seq === newest(at.facts, fact)?.seq)?.is;
  const speaking = all.map((m) => m.fact).filter((fact) => verdict(fact) !== undefined && verdict(fact) !== 'good');
  return all
    .filter((m) => wanted(m.fact))
    .flatMap((m) => {
      const points = pointsAsked(k, check, m.fact, at.p.circuits[0]);
      if (!points) return [];
      const unit = k.facts.get(m.fact)?.unit ?? '1';
      return [{ fact: m.fact, label: s.fact(m.fact), unit, points, pointWords: pointWords(x, m.fact, points) }];
    });
}

/** A number that no leads are put to: how warm it is. */
const numbersOf = ({ k, s }: Saying, check: Check): Ask['reads'] =>
  check.settles.flatMap((fact) => {
    const unit = k.facts.get(fact)?.kind === 'quantity' ? k.facts.get(fact)?.unit : undefined;
    return unit ? [{ fact, label: s.fact(fact), unit, pointWords: '' }] : [];
  });

function groupsOf({ s }: Saying, check: Check, choices: Ask['choices']): NonNullable<Ask['groups']> {
  const words = s.check(check.id)!.groups ?? {};
  return Object.entries(check.groups ?? {}).map(([id, of]) => ({
    id,
    label: words[id] ? spokenTo(words[id], s.audience) : id,
    of: of.filter((choice) => choices.some((c) => c.id === choice)),
  }));
}

function choicesOf({ k, s, at }: Saying, check: Check, next: NextCheck): Ask['choices'] {
  if (check.choices) {
    const words = s.check(check.id)!.choices ?? {};
    // Of one that gives several answers, those already told leave only what agrees with them.
    const agrees = (gives: Record<string, string>) =>
      Object.entries(gives).every(([fact, is]) => (newest(at.facts, fact)?.value ?? is) === is);
    const open = (id: string) =>
      check.oneOf
        ? agrees(check.choices![id]!)
        : id === 'none' || Object.keys(check.choices![id]!).some((fact) => !newest(at.facts, fact));
    const ids = Object.keys(check.choices).filter(open);
    return (ids.length ? ids : Object.keys(check.choices)).map((id) => ({
      id,
      label: words[id] ? spokenTo(words[id], s.audience) : id,
      fact: check.id,
    }));
  }
  const doubted = at.facts.readings.find((r) => r.seq === next.of)?.fact;
  const fact = doubted ?? check.settles.find((f) => !newest(at.facts, f)) ?? check.settles[0]!;
  return (k.facts.get(fact)?.choices ?? []).map((id) => ({ id, label: s.choice(fact, id), fact }));
}
