import { isTold, takenOf, temperatureOf } from '../../../rules/index.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import { badNumber } from '../stand/bad-number.ts';
import { isDanger } from '../stand/dangers.ts';
import type { Option } from '../stand/option.ts';
import { acrossPart } from './across-part.ts';
import { type Act, type Hearing, keepWords, take } from './hearing.ts';
import { whereRead } from './where-read.ts';
import { byName, MOST_OPTIONS, mayBe, onlyOneOpen } from './which-reading.ts';

/** Ω: more than this was never taken off for a pair of leads. */
const MOST_LEADS_OHM = 5;

/** A reading told in words. One that an answer of the same utterance has told already is no reading beside it ("120/240 V" of a list). */
export function takeReading(h: Hearing, act: Act<'reading'>): void {
  if (act.across) takeAcross(h, act);
  else if (act.fact !== undefined || !h.acts.some((a) => a.is === 'answer' && a.evidence.includes(numberIn(act.evidence))))
    takeRead(h, act);
}

/** The number of a reading as it was typed. */
const numberIn = (evidence: string): string => /\d[\d.,]*/.exec(evidence)?.[0] ?? evidence;

function takeRead(h: Hearing, act: Act<'reading'>): void {
  if (act.value === 'beep' || act.value === 'no-beep') {
    h.heard.wrong.push({ code: 'beep', put: {} });
    return;
  }
  const place = placeOf(h, act);
  if (place.fact === undefined) askWhich(h, act, place.named);
  else takeAt(h, act, place.fact, act.value);
}

/** The fact it is a reading of; where that is not one, those it may be. */
function placeOf({ d, said, told }: Hearing, act: Act<'reading'>): { fact: string | undefined; named?: string[] | undefined } {
  if (act.fact !== undefined) return { fact: act.fact };
  // Points or a state told with it say where it was read, and that outranks the question that happens to be open.
  const where = whereRead(d, act);
  const open = onlyOneOpen(d, act, told);
  const named = where ?? (open === undefined ? byName(d, act, said) : undefined);
  return { fact: named?.length === 1 ? named[0] : where ? undefined : open, named };
}

/** Asks which reading it is, unless it can be none or more than can be asked. */
function askWhich({ d, said, heard }: Hearing, act: Act<'reading'>, named: readonly string[] = []): void {
  const facts = named.length ? named : mayBe(d, act, said);
  const options = facts.slice(0, MOST_OPTIONS).map((fact): Option => ({ label: fact, meaning: { ...act, fact } }));
  const first = d.k.facts.get(options[0]?.label ?? '');
  const bad = first && badNumber(d.k, first, act.value, act.unit);
  if (bad) heard.wrong.push(bad);
  else if (options.length) heard.which ??= { question: undefined, options };
  else heard.wrong.push({ code: 'which-reading', put: {} });
}

function takeAt(h: Hearing, act: Act<'reading'>, fact: string, value: NonNullable<AnswerInput['value']>): void {
  const { d, said, heard, correcting } = h;
  h.told.add(fact);
  take(h, { fact, value, ...howTaken(h, act) }, { correcting });
  const warm = act.at_c === undefined ? undefined : temperatureOf(d.k, fact);
  if (warm) take(h, { fact: warm, value: act.at_c! }, { correcting });
  const off = act.leadsTakenOff;
  if (off !== undefined && off >= 0 && off <= MOST_LEADS_OHM)
    heard.drafts.push({ act: 'set', said, set: { machine: { leads_ohm: off } } });
}

function howTaken({ d }: Hearing, { unit, ...act }: Act<'reading'>): Partial<AnswerInput> {
  const { state, ...taken } = takenOf(act) ?? {};
  return { ...(unit && { unit }), ...taken, ...(state !== undefined && d.k.states.has(state) && { state }) };
}

/** A reading across a part: between the part's own ends. Where it cannot be placed yet, or a danger comes first, the words are kept. */
function takeAcross(h: Hearing, act: Act<'reading'>): void {
  const { d, heard } = h;
  const options = acrossPart(d, act);
  const [one] = options;
  const stopped =
    d.at.c.stops.length > 0 || heard.drafts.some((draft) => isTold(draft) && isDanger(d.k, draft.fact, draft.value));
  if (one?.meaning.is === 'reading' && options.length === 1 && !one.also?.length) takeRead(h, one.meaning);
  else if (options.length && !stopped) heard.which ??= { question: undefined, options };
  else {
    heard.notPlaced = true;
    keepWords(h);
  }
}
