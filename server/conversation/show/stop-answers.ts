import type { StopAnswer } from '../../../rules/types.ts';
import type { Part, Talk } from '../../types.ts';
import { ANY, type HeardInStop, NEXT } from '../../understand/in-stop.ts';
import { isDanger } from '../stand/dangers.ts';
import { isNoteOf } from '../stand/notes.ts';
import type { Saying } from '../stand/said.ts';
import {
  type Acts,
  forbiddenNow,
  isDone,
  type LineNow,
  numbersToCall,
  type Region,
  type StopNow,
  stopParts,
  stopsNow,
} from './stop-words.ts';

/** What was said in this turn beside the danger itself. */
export interface BesideStop {
  heard: HeardInStop;
  talk: readonly { what: Talk; of?: string }[];
  /** Things that get an answer wherever they come up. */
  topics: readonly string[];
}
/** No more answers than can be read in a fright; no more sentences after them. */
const MOST_ANSWERS = 3;
const MOST_LINES = 2;
const MOST_REASONS = 2;

/**
 * The reply while a stop stands. What was asked is answered first, then come the first sentences of the stop; what is done is
 * ticked, and the rest of them follows. Anything else is answered with the stop itself.
 * `still`: the same stops were said in the turn before; only then may they be said in short, and never `inFull`.
 */
export function stopReply(x: Saying, region: Region, beside: BesideStop | undefined, still: boolean, inFull: boolean): Part[] {
  const say = (text: string): Part => ({ kind: 'stop', text });
  const acts = actsDone(x, region);
  const stops = stopsNow(x, region, acts);
  const ticked = (beside?.heard.done ?? [])
    .filter((act) => acts.done.has(act) || acts.undone.has(act))
    .map((act) => say(x.s.stopDone(act, numbersToCall(x, region.region))));
  const asks = asked(beside, still);
  const given = asks.flatMap((id) => answerTo(x, id, stops, acts, region) ?? []);
  const spoken = (beside?.talk ?? []).flatMap(({ what }) => (what === 'robot' ? [x.s.talk('robot')] : []));
  const answers = [...(beside?.topics ?? []), ...spoken, ...given.map(({ text }) => text)].map(say);
  const short = still && !inFull && answers.length > 0 && !ticked.length && !beside?.heard.asks.includes(NEXT);
  const rest = short
    ? [say(inShort(x, stops, acts, new Set(given.flatMap(({ then }) => then))))]
    : stopParts(x, stops, still, acts);
  return [...ticked, ...answers, ...rest];
}

/** The kinds of talk that ask one of the questions in words of their own. */
const ASKED_BY: Partial<Record<Talk, string>> = { 'may-use': 'use-now', safe: 'danger', why: 'why', person: 'wait-for-you' };

function asked(beside: BesideStop | undefined, still: boolean): string[] {
  if (!beside) return [];
  const named = beside.heard.asks.filter((id) => id !== ANY && id !== NEXT);
  const byTalk = beside.heard.done.length
    ? []
    : beside.talk.flatMap(({ what, of }) => (of === 'bypass' ? [] : (ASKED_BY[what] ?? [])));
  const all = named.length ? named : byTalk;
  if (all.length) return [...new Set(all)].slice(0, MOST_ANSWERS);
  // A danger told as a question is no question; nor is "can you say that again".
  const other = beside.topics.length || beside.heard.done.length || beside.talk.some((t) => PLAIN.has(t.what));
  return still && !other && beside.heard.asks.includes(ANY) ? [ANY] : [];
}
/** Answered by the stop itself, or on their own. */
const PLAIN: ReadonlySet<Talk> = new Set<Talk>(['repeat-question', 'help', 'robot', 'undo']);

interface Given {
  text: string;
  then: readonly string[];
}

function answerTo(x: Saying, id: string, stops: readonly StopNow[], acts: Acts, { region }: Region): Given | undefined {
  const { k, s } = x;
  const { forbidden, heldBack } = forbiddenNow(x, acts);
  const asksFor = new Set(stops.flatMap(({ lines }) => lines.flatMap((line) => line.does)));
  const now: Now = { forbidden, asksFor, done: acts.done };
  const answer = k.stopQuestions.get(id)?.answers.find((a) => !a.touches?.some((t) => forbidden.has(t)) && fits(x, a, now));
  if (!answer) return undefined;
  const gasUnknown = answer.touches?.some((t) => heldBack.has(t)) ?? false;
  const reasons = stops.slice(0, MOST_REASONS).map(({ sign }) => s.stopWhy(sign));
  const put = { who: who(x), signs: s.listed(stops.map(({ title }) => title)), why: reasons.join(' ') };
  return { text: s.stopAnswer(id, answer.id, gasUnknown, { ...numbersToCall(x, region), ...put }), then: answer.then ?? [] };
}

interface Now {
  forbidden: ReadonlySet<string>;
  asksFor: ReadonlySet<string>;
  done: ReadonlySet<string>;
}
function fits({ k, at }: Saying, { when = {} }: StopAnswer, { forbidden, asksFor, done }: Now): boolean {
  const signs = at.c.stops.map((held) => held.sign);
  const classes = signs.map((sign) => k.stops.get(sign)!.class);
  const any = (wanted: readonly string[] | undefined, there: (one: string) => boolean) => !wanted || wanted.some(there);
  return (
    any(when.stops, (sign) => signs.includes(sign)) &&
    any(when.classes, (c) => classes.includes(c)) &&
    any(when.alone, (sign) => signs.length === 1 && signs[0] === sign) &&
    any(when.bars, (touch) => forbidden.has(touch)) &&
    any(when.lines, (act) => asksFor.has(act)) &&
    any(when.done, (act) => done.has(act))
  );
}

/** Who is needed on site, of all stops that hold; where nobody can be booked, all they name. */
function who({ k, s, at }: Saying): string {
  const all = [...new Set(at.c.stops.flatMap((held) => k.stops.get(held.sign)!.thenWho))];
  const some = all.filter((trade) => !k.stopLeaveOut.includes(trade));
  return s.listed((some.length ? some : all).map((trade) => s.of('trades', trade)));
}

/** The stops by name, the sentences that belong to the answer, then the first ones. */
function inShort({ s }: Saying, stops: readonly StopNow[], { done }: Acts, then: ReadonlySet<string>): string {
  const left = stops.map(({ lines }) => lines.filter((line) => !isDone(line, done)));
  const wanted = (line: LineNow) => line.does.some((act) => then.has(act));
  const firsts = left.flatMap((lines) => lines.slice(0, 1));
  const all = [...left.flat().filter(wanted), ...firsts, ...left.flat()];
  const texts = [...new Set(all.map(({ text }) => text))].slice(0, MOST_LINES);
  return [`**${s.say('stop-still', { title: s.listed(stops.map(({ title }) => title)) })}**`, ...texts].join('\n\n');
}

/**
 * Acts told since the danger was; one taken back no longer counts, one not named is the only one of its kind that is asked for.
 * `undone`: acts that took one back.
 */
function actsDone(x: Saying, region: Region): Acts {
  const { k, at } = x;
  const dangers = at.facts.readings.filter((r) => isDanger(k, r.fact, r.value)).map((r) => r.seq);
  const turnOf = (seq: number) => at.answers.find((a) => a.seq === seq)?.turn ?? 0;
  const since = dangers.length ? Math.min(...dangers.map(turnOf)) : 0;
  const asked = stopsNow(x, region, { done: new Set(), undone: new Set() });
  const asksFor = new Set(asked.flatMap(({ lines }) => lines.flatMap((line) => line.does)));
  const done = new Set<string>();
  const undone = new Set<string>();
  for (const note of at.answers) {
    if (!isNoteOf(note, 'done') || note.turn < since) continue;
    const { did } = note;
    const known = k.stopActs.get(did);
    for (const other of known?.undoes ?? []) if (done.delete(other)) undone.add(did);
    const meant = known?.oneOf?.filter((one) => asksFor.has(one)) ?? [];
    if (meant.length === 1) done.add(meant[0]!);
    if (!known?.undoes) done.add(did);
  }
  return { done, undone };
}
