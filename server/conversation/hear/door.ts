import { isTold, standing, takenOf } from '../../../rules/index.ts';
import type { CaseFacts, Check, Fact, Knowledge, Reading, Taken, Value } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Ask } from '../../types.ts';
import { COMPLAINT } from '../stand/ask.ts';
import { carriesStop, dangerNow, isDanger } from '../stand/dangers.ts';
import { type Draft, note, type ToldDraft } from '../stand/notes.ts';
import type { Wrong } from '../stand/plate.ts';
import { newest, type Standing } from '../stand/standing.ts';
import { fromList } from './from-list.ts';
import { isMadeSafe } from './no-longer-safe.ts';
import { impossible } from './possible.ts';

export type Entered = { drafts: Draft[]; liftsStop?: undefined } | { liftsStop: ToldDraft } | { wrong: Wrong };

/** What an answer is held against. */
export interface Doorway {
  k: Knowledge;
  at: Standing;
  ask: Ask | undefined;
  /** What a fact is called to this person. */
  name?: (fact: string) => string;
}
/** How an answer came: as the person's own words say, or on a button. */
export interface Manner {
  /** They said that the earlier one was wrong. */
  correcting?: boolean;
  /** What was not picked of a list was seen and left; absent = it was. */
  wholeList?: boolean;
}

/**
 * The one door every answer comes through, typed or structured. What cannot be is refused with what would be right;
 * a second telling of a quantity is a repeat, of a choice a correction; a correction that would lift a stop is read back first.
 */
export function enter(d: Doorway, input: AnswerInput, said: string, manner: Manner = {}): Entered {
  const { k } = d;
  if (input.fact === COMPLAINT) return complaint(d, input, said);
  const fact = k.facts.get(input.fact);
  const list = fact ? undefined : k.checks.get(input.fact);
  if (list) return enterList(d, list, input, said, manner);
  if (!fact) return wrong('no-such-fact', { fact: input.fact });
  const check = input.check === undefined ? undefined : k.checks.get(input.check);
  if (input.check !== undefined && !check) return wrong('no-such-check', { check: input.check });
  if (check && !check.settles.includes(fact.id)) return wrong('wrong-check', { check: check.id, fact: fact.id });
  return enterFact(d, fact, check ?? askedFor(d, fact), input, said, manner);
}

function complaint({ k, at }: Doorway, { act = 'tell', value = '' }: AnswerInput, said: string): Entered {
  if (act !== 'tell') return { drafts: [note('not-understood', said)] };
  const family = String(value);
  if (!k.families.has(family)) return wrong('no-such-choice', { value: family, choices: [...k.families.keys()].join(', ') });
  if (at.facts.families.includes(family)) return { drafts: [] };
  return { drafts: [{ act: 'set', said, set: { families: [...at.facts.families, family] } }] };
}

function enterList({ k, at }: Doorway, check: Check, input: AnswerInput, said: string, { wholeList = true }: Manner): Entered {
  const listed = fromList(k, at, check, input, said, wholeList);
  return 'lifts' in listed ? enter({ k, at, ask: undefined }, listed.lifts, said) : listed;
}

/** The open question's check, where this fact is one of its own. */
function askedFor({ k, ask }: Doorway, fact: Fact): Check | undefined {
  const asked = ask && k.checks.get(ask.check);
  return asked?.settles.includes(fact.id) ? asked : undefined;
}

function enterFact(d: Doorway, fact: Fact, asked: Check | undefined, input: AnswerInput, said: string, manner: Manner): Entered {
  const about = { fact: fact.id, ...(asked && { check: asked.id }) };
  const unsure = input.value === 'unsure' && !fact.choices?.includes('unsure');
  const act = input.act ?? (unsure ? 'unsure' : 'tell');
  if (act !== 'tell') return { drafts: [{ act, about, said }] };
  const bad = impossible(d.k, d.at.facts, fact, input);
  if (bad) return { wrong: bad };
  if (isMadeSafe(fact.id, input.value) && !d.at.c.stops.length) return wrong('no-danger', {});
  const taken = takenOf({ ...askedPlace(d, fact, asked), ...takenOf(input) });
  const unit = fact.kind === 'quantity' ? fact.unit : undefined;
  const draft: ToldDraft = { act: 'tell', ...about, value: input.value!, said, ...(unit && { unit }), ...(taken && { taken }) };
  // Read elsewhere, or in another state, it is another reading and no repeat.
  const before = fact.anywhere && taken?.points ? readThere(d.at.facts, fact.id, taken) : newest(d.at.facts, fact.id);
  const correcting = manner.correcting ?? false;
  if (before && fact.event && !correcting) return { drafts: onceRenewed(d.at.facts, fact, draft) };
  const counted = before ? toldAgain(d, fact, before, draft, correcting) : draft;
  if (!counted) return { drafts: [] };
  const lifts = counted.act !== 'repeat' && liftsStop(d, fact, before, draft.value, correcting);
  return lifts ? { liftsStop: counted } : { drafts: [counted] };
}

/** Each is an event of its own: a second one told takes nothing of the first back. */
function onceRenewed(facts: CaseFacts, fact: Fact, draft: ToldDraft): Draft[] {
  const again = facts.readings.some((r) => r.fact === fact.id && r.value === draft.value);
  return again && fact.event === 'renewed' ? [] : [draft];
}

/** What a fact told before counts as, told once more: a repeat, a correction, the same again, or nothing new (undefined). */
function toldAgain(
  { at, ask }: Doorway,
  fact: Fact,
  before: Reading,
  draft: ToldDraft,
  correcting: boolean,
): ToldDraft | undefined {
  const doubted = ask?.of !== undefined && at.facts.readings.find((r) => r.seq === ask.of)?.fact === fact.id;
  if (!correcting && (doubted || fact.kind === 'quantity')) return { ...draft, act: 'repeat', of: before.repeats ?? before.seq };
  // Which covers are off is told of now: said again, it may be so again.
  const nothingNew = !correcting && before.value === draft.value && !fact.covers;
  if (!nothingNew) return { ...draft, act: 'correct', of: before.seq };
  // Asked about one danger, an answer counts even where it is what was told before.
  const askedAnew = ask?.about !== undefined && ask.choices.some((c) => c.fact === fact.id);
  return askedAnew ? draft : undefined;
}

// A danger told in words is lifted by another answer, one that was read by a correction of the reading alone: read again it stands.
function liftsStop({ k, at }: Doorway, fact: Fact, before: Reading | undefined, value: unknown, correcting: boolean): boolean {
  if (before && fact.kind === 'quantity') return correcting && carriesStop(at, before.seq);
  return dangerNow(k, at.facts, fact.id) && !isDanger(k, fact.id, value);
}

/** A change of one answer in its place, by its number. */
export function change(d: Doorway, seq: number, value: Value): Entered {
  const old = standing(d.at.record.answers).find((a) => isTold(a) && a.seq === seq);
  const reading = d.at.facts.readings.find((r) => r.seq === seq);
  const fact = reading && d.k.facts.get(reading.fact);
  if (!old || !isTold(old) || !reading || !fact) return wrong('no-such-answer', { seq });
  const bad = impossible(d.k, d.at.facts, fact, { fact: fact.id, value });
  if (bad) return { wrong: bad };
  const { seq: _, turn: __, by: ___, ...kept } = old;
  const draft: ToldDraft = { ...kept, act: 'correct', of: seq, value, said: String(value) };
  if (isDanger(d.k, fact.id, reading.value) && !isDanger(d.k, fact.id, value)) return { liftsStop: draft };
  if (carriesStop(d.at, seq)) return { liftsStop: draft };
  return { drafts: [draft] };
}

const wrong = (code: Wrong['code'], put: Wrong['put']): { wrong: Wrong } => ({ wrong: { code, put } });

// A reading that may be taken anywhere is taken where it was asked for, unless told otherwise.
function askedPlace({ at }: Doorway, fact: Fact, asked: Check | undefined): Taken {
  const next = at.c.next;
  if (!fact.anywhere || !next?.points || next.check !== asked?.id) return {};
  return { points: next.points, ...(next.state !== undefined && { state: next.state }) };
}
const readThere = (facts: CaseFacts, fact: string, { points = ['', ''], state }: Taken): Reading | undefined =>
  facts.readings.findLast(
    (r) => r.fact === fact && r.points?.every((id) => points.includes(id)) && (state === undefined || r.state === state),
  );
