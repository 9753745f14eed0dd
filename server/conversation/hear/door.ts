import { factsOf, standing } from '../../../rules/index.ts';
import type { Answer, CaseFacts, Check, Fact, Knowledge, Reading, Unit, Value } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Ask } from '../../types.ts';
import { type Draft, note } from '../stand/notes.ts';
import type { Wrong } from '../stand/plate.ts';
import { isDanger, newest, type Standing } from '../stand/standing.ts';
import { shownNumber } from '../words/numbers.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };

export type Entered = { drafts: Draft[]; liftsStop?: undefined } | { liftsStop: Draft } | { wrong: Wrong };

/** What an answer is held against. */
export interface Doorway {
  k: Knowledge;
  at: Standing;
  ask: Ask | undefined;
  /** What a fact is called to this person. */
  name?: (fact: string) => string;
}

/** The ask that has no check behind it: what the dryer does. */
export const COMPLAINT = 'complaint';

/**
 * The one door every answer comes through, typed or structured. What cannot be is refused with what would be right;
 * a second telling of a quantity is a repeat, of a choice a correction; a correction that would lift a stop is read back first.
 * `correcting`: the person said that the earlier one was wrong. `wholeList`: what was not picked of a list was seen and left.
 */
export function enter(d: Doorway, input: AnswerInput, said: string, correcting = false, wholeList = true): Entered {
  const { k, at, ask } = d;
  if (input.fact === COMPLAINT && input.act !== undefined && input.act !== 'tell')
    return { drafts: [note('not-understood', said)] };
  if (input.fact === COMPLAINT) return complaint(d, String(input.value ?? ''), said);
  const list = k.checks.get(input.fact);
  if (list && !k.facts.has(input.fact)) return fromList(d, list, input, said, wholeList);
  const fact = k.facts.get(input.fact);
  if (!fact) return wrong('no-such-fact', { fact: input.fact });
  const check = input.check === undefined ? undefined : k.checks.get(input.check);
  if (input.check !== undefined && !check) return wrong('no-such-check', { check: input.check });
  if (check && !check.settles.includes(fact.id)) return wrong('wrong-check', { check: check.id, fact: fact.id });
  const asked = check ?? (ask && k.checks.get(ask.check)?.settles.includes(fact.id) ? k.checks.get(ask.check) : undefined);
  const base: Draft = { act: 'tell', fact: fact.id, said, ...(asked && { check: asked.id }) };
  const act = input.act ?? (input.value === 'unsure' && !fact.choices?.includes('unsure') ? 'unsure' : 'tell');
  if (act !== 'tell') return { drafts: [{ ...base, act }] };
  const bad = impossible(k, at.facts, fact, input);
  if (bad) return { wrong: bad };
  if (isMadeSafe(fact.id, input.value) && !at.c.stops.length) return wrong('no-danger', {});
  const draft: Draft = { ...base, value: input.value!, ...where(d, fact, asked), ...rest(fact, input) };
  // Read elsewhere, or in another state, it is another reading and no repeat.
  const before = fact.anywhere && draft.points ? readThere(at.facts, draft) : newest(at.facts, fact.id);
  const lifts = liftsStop(d, fact, before, input.value, correcting);
  // Each is an event of its own: a second one told takes nothing of the first back.
  if (before && fact.event && !correcting) {
    const again = at.facts.readings.some((r) => r.fact === fact.id && r.value === input.value);
    return { drafts: again && fact.event === 'renewed' ? [] : [draft] };
  }
  if (!before) return lifts ? { liftsStop: draft } : { drafts: [draft] };
  const doubted = ask?.of !== undefined && at.facts.readings.find((r) => r.seq === ask.of)?.fact === fact.id;
  if (!correcting && (doubted || fact.kind === 'quantity'))
    return { drafts: [{ ...draft, act: 'repeat', of: before.repeats ?? before.seq }] };
  // Which covers are off is told of now: said again, it may be so again.
  // Asked about one danger, an answer counts even where it is what was told before.
  const askedAnew = ask?.about !== undefined && ask.choices.some((c) => c.fact === fact.id);
  if (!doubted && !correcting && before.value === input.value && !fact.covers) return { drafts: askedAnew ? [draft] : [] };
  const corrected: Draft = { ...draft, act: 'correct', of: before.seq };
  return lifts ? { liftsStop: corrected } : { drafts: [corrected] };
}

// A danger told in words is lifted by another answer, one that was read by a correction of the reading alone: read again it stands.
function liftsStop({ k, at }: Doorway, fact: Fact, before: Reading | undefined, value: unknown, correcting: boolean): boolean {
  if (before && fact.kind === 'quantity') return correcting && carriesStop(at, before.seq);
  return dangerNow(k, at.facts, fact.id) && !isDanger(k, fact.id, value);
}

/** Does a stop that stands now follow from this reading? */
export const carriesStop = (at: Standing, seq: number): boolean => at.c.stops.some((s) => s.readings?.includes(seq));

/** Does this fact stop the talk now, told so or "not sure" where that counts as yes? */
export function dangerNow(k: Knowledge, facts: CaseFacts, fact: string): boolean {
  const told = newest(facts, fact);
  if (told) return isDanger(k, fact, told.value);
  const asked = facts.asked.get(fact);
  return asked !== undefined && asked !== 'later' && k.facts.get(fact)?.unsureIs !== undefined;
}

/** An upper end no meter reaches: what lies there is over range. */
const NO_END_OHM = 1e9;

const isMadeSafe = (fact: string, value: unknown): boolean =>
  fact === talkFacts.saysOf['made-safe'].fact && value === talkFacts.saysOf['made-safe'].value;

/** "Made safe" was said of the dangers told until then: one told now takes it back. */
export function safeNoMore(k: Knowledge, facts: CaseFacts, drafts: readonly Draft[]): Draft[] {
  const said = newest(facts, talkFacts.saysOf['made-safe'].fact);
  const danger = drafts.find((x) => x.fact !== undefined && (isDanger(k, x.fact, x.value) || unsureStops(k, x)));
  return danger ? notSafe(k, said, danger.said) : [];
}
/** The same for a danger that a reading shows: what was found since, or found in one more reading. */
export function safeNoMoreRead(k: Knowledge, before: Standing, after: Standing): Draft[] {
  const had = new Set(before.c.found.flatMap((x) => x.readings.map((seq) => `${x.finding} ${seq}`)));
  const stops = new Set(k.rules.stops.filter((r) => r.then.stop !== undefined).flatMap((r) => factsOf(r.when)));
  const more = after.c.found.find((x) => stops.has(x.finding) && x.readings.some((seq) => !had.has(`${x.finding} ${seq}`)));
  const reading = more && after.facts.readings.find((r) => r.seq === more.readings.at(-1));
  return reading ? notSafe(k, newest(before.facts, talkFacts.saysOf['made-safe'].fact), reading.said) : [];
}
function notSafe(k: Knowledge, told: Reading | undefined, said: string): Draft[] {
  if (!told || told.value !== talkFacts.saysOf['made-safe'].value) return [];
  const not = k.facts.get(told.fact)?.choices?.find((c) => c !== told.value);
  return not === undefined ? [] : [{ act: 'correct', of: told.seq, fact: told.fact, value: not, said }];
}
export const unsureStops = (k: Knowledge, a: Pick<Draft, 'act' | 'fact'>): boolean =>
  a.act === 'unsure' && k.facts.get(a.fact ?? '')?.unsureIs !== undefined;

/** A change of one answer in its place, by its number. */
export function change(d: Doorway, seq: number, value: Value): Entered {
  const old = standing(d.at.record.answers).find((a) => a.seq === seq);
  const reading = d.at.facts.readings.find((r) => r.seq === seq);
  const fact = reading && d.k.facts.get(reading.fact);
  if (!old || !reading || !fact) return wrong('no-such-answer', { seq });
  const bad = impossible(d.k, d.at.facts, fact, { fact: fact.id, value });
  if (bad) return { wrong: bad };
  const { seq: _, turn: __, by: ___, ...kept } = old;
  const draft: Draft = { ...kept, act: 'correct', of: seq, value, said: String(value) };
  if (isDanger(d.k, fact.id, reading.value) && !isDanger(d.k, fact.id, value)) return { liftsStop: draft };
  if (carriesStop(d.at, seq)) return { liftsStop: draft };
  return { drafts: [draft] };
}

const wrong = (code: Wrong['code'], put: Wrong['put']): { wrong: Wrong } => ({ wrong: { code, put } });

function complaint({ k, at }: Doorway, family: string, said: string): Entered {
  if (!k.families.has(family)) return wrong('no-such-choice', { value: family, choices: [...k.families.keys()].join(', ') });
  if (at.facts.families.includes(family)) return { drafts: [] };
  return { drafts: [{ act: 'set', said, set: { families: [...at.facts.families, family] } }] };
}

/**
 * A list: each entry picked gives its answers, and what was not picked is as "none" says, for the whole list was read.
 * "none" alone never takes back what was told before.
 */
function fromList({ k, at }: Doorway, check: Check, input: AnswerInput, said: string, whole: boolean): Entered {
  if (input.act !== undefined && input.act !== 'tell') return { drafts: unanswered(at, check, input.act, said) };
  const picked = String(input.value ?? '')
    .split(/[\s,]+/)
    .filter(Boolean);
  if (picked.length === 1 && picked[0] === 'unsure') return { drafts: unanswered(at, check, 'unsure', said) };
  const choices = check.choices ?? {};
  const unknown = picked.find((id) => !Object.hasOwn(choices, id));
  if (unknown !== undefined || !picked.length || (check.oneOf && picked.length > 1))
    return wrong('no-such-choice', { value: unknown ?? '', choices: Object.keys(choices).join(', ') });
  const gives = new Map<string, string>();
  for (const id of picked.filter((p) => p !== 'none')) for (const [fact, v] of Object.entries(choices[id]!)) gives.set(fact, v);
  const untold = (fact: string) => !gives.has(fact) && !newest(at.facts, fact) && !dangerNow(k, at.facts, fact);
  const rest = whole || picked.includes('none') ? Object.entries(choices.none ?? {}).filter(([fact]) => untold(fact)) : [];
  const told = [...gives].filter(([fact, v]) => newest(at.facts, fact)?.value !== v);
  const lifting = told.find(([fact, v]) => dangerNow(k, at.facts, fact) && !isDanger(k, fact, v));
  if (lifting) return enter({ k, at, ask: undefined }, { fact: lifting[0], value: lifting[1] }, said);
  return {
    drafts: [...told, ...rest].map(([fact, value]) => {
      const before = newest(at.facts, fact);
      const draft: Draft = { act: 'tell', fact, value, check: check.id, said };
      return before ? { ...draft, act: 'correct', of: before.seq } : draft;
    }),
  };
}

/** "Not sure" to a list is said of each of its facts: one of them answered later must not answer for the others. */
export function unanswered(at: Standing, check: Check, act: 'unsure' | 'declined' | 'later', said: string): Draft[] {
  if (!check.choices || act === 'later') return [{ act, check: check.id, said }];
  return check.settles.filter((fact) => !newest(at.facts, fact)).map((fact) => ({ act, fact, check: check.id, said }));
}

function impossible(k: Knowledge, facts: CaseFacts, fact: Fact, input: AnswerInput): Wrong | undefined {
  const { value } = input;
  if (value === undefined) return { code: 'nothing-to-give', put: { fact: fact.id } };
  if (mayNotTell(k, facts, fact)) return { code: 'not-yours', put: { fact: fact.id } };
  if (input.state !== undefined && !k.states.has(input.state))
    return { code: 'no-such-state', put: { state: input.state, states: [...k.states.keys()].join(', ') } };
  const point = input.points?.find((id) => !isPoint(k, id));
  if (point !== undefined) return { code: 'no-such-points', put: { point } };
  if (fact.kind === 'choice')
    return fact.choices?.includes(String(value))
      ? undefined
      : { code: 'no-such-choice', put: { value: String(value), choices: (fact.choices ?? []).join(', ') } };
  return badNumber(k, fact, value, input.unit, input.state);
}

/** What is wrong with a measured value, or nothing. OL is a value of volts and amps too: over range there. */
export function badNumber(k: Knowledge, fact: Fact, value: Value, unit?: Unit, state?: string): Wrong | undefined {
  const own = fact.unit ?? '1';
  if (unit !== undefined && unit !== own) return { code: 'wrong-unit', put: { unit, own } };
  const { lo, hi } = fact.possible ?? { lo: Number.NEGATIVE_INFINITY, hi: Number.POSITIVE_INFINITY };
  if (value === 'open') return own === 'Ω' ? undefined : { code: 'not-a-number', put: { value: 'OL', unit: own } };
  if (typeof value === 'string' && own === 'Ω') return { code: 'not-ohms', put: { value } };
  if (typeof value !== 'number' || !Number.isFinite(value))
    return { code: 'not-a-number', put: { value: String(value), unit: own } };
  if (value < lo || value > hi)
    return {
      code: 'not-possible',
      put: {
        value: shownNumber(value, own, 'metric'),
        lo: shownNumber(lo, own, 'metric'),
        hi: own === 'Ω' && hi >= NO_END_OHM ? 'OL' : shownNumber(hi, own, 'metric'),
      },
    };
  if (own === 'Ω' && state !== undefined && k.states.get(state)?.plugged) return { code: 'ohms-live', put: {} };
  return undefined;
}

/**
 * A statement only some may make: a choice they are not among, which no check looks for and no machine is known by.
 * (A thing somebody saw or read is taken from anybody; a caution goes with it.)
 */
function mayNotTell(k: Knowledge, facts: CaseFacts, fact: Fact): boolean {
  if (fact.kind !== 'choice' || fact.whoCanTell.includes(facts.audience)) return false;
  if ([...k.machines.values()].some((m) => fact.id in m.knownBy)) return false;
  return ![...k.checks.values()].some((c) => c.settles.includes(fact.id) && c.level > 0);
}

export const isPoint = (k: Knowledge, id: string): boolean =>
  k.supply.nodes.some((n) => n.id === id) || [...k.machines.values()].some((m) => m.nodes.some((n) => n.id === id));

// A reading that may be taken anywhere is taken where it was asked for, unless told otherwise.
function where({ at }: Doorway, fact: Fact, asked: Check | undefined): Partial<Answer> {
  const next = at.c.next;
  if (!fact.anywhere || !next?.points || next.check !== asked?.id) return {};
  return { points: next.points, ...(next.state !== undefined && { state: next.state }) };
}
const readThere = (facts: CaseFacts, { fact, points = ['', ''], state }: Draft) =>
  facts.readings.findLast(
    (r) => r.fact === fact && r.points?.every((id) => points.includes(id)) && (state === undefined || r.state === state),
  );
function rest(fact: Fact, input: AnswerInput): Partial<Answer> {
  const out: Partial<Answer> = {};
  if (fact.kind === 'quantity' && fact.unit) out.unit = fact.unit;
  for (const key of ['points', 'state', 'lifted', 'lowImpedance'] as const)
    if (input[key] !== undefined) Object.assign(out, { [key]: input[key] });
  return out;
}
