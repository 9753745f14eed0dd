import type { Turn } from '../conversation-port.ts';
import { isLanguage, languageFor } from '../languages.ts';
import type { CaseRecord, Meaning, Understood } from '../types.ts';
import { type Built, builtSaid } from '../understand/built-otherwise.ts';
import { ANY, heardInStop } from '../understand/in-stop.ts';
import type { Context } from './context.ts';
import { type Came, finish, whichAgain } from './finish.ts';
import { hear } from './hear/hear.ts';
import type { Heard } from './hear/hearing.ts';
import { doorwayOf, listen, namedOption } from './hear/listen.ts';
import { topicsIn } from './hear/topics.ts';
import { settle, undo } from './settle.ts';
import { dangerNote } from './stand/danger-ask.ts';
import { dangerNow, tellsDanger } from './stand/dangers.ts';
import type { Moment } from './stand/moment.ts';
import { type Draft, isNoteOf, note, type ToldDraft, turnsToUndo, waiting } from './stand/notes.ts';
import { chosen, type Option, picked } from './stand/option.ts';
import { readBackNote, yesOrNo } from './stand/read-back.ts';
import { newest } from './stand/standing.ts';

/** Words clearly in another language of ours move the case to it, and are heard in it; so does the name of one. */
export async function say(context: Context, record: CaseRecord, text: string): Promise<Turn> {
  const spoken = await spokenIn(context, record, text);
  const { before, understood } = spoken;
  const asked = understood.acts.find((a) => a.is === 'talk' && a.what === 'language');
  const of = asked?.is === 'talk' && isLanguage(asked.of) ? asked.of : undefined;
  const language = of && languageFor(of, before.at.facts.audience);
  if (language === undefined || language !== of || language === before.s.language) return sayInIts(context, record, spoken);
  return sayInAnother(context, { ...record, settings: { ...record.settings, language } }, text, understood.acts.length > 1);
}

/** `more`: something was said beside the language. While a stop stands, everything is. */
async function sayInAnother(context: Context, record: CaseRecord, text: string, more: boolean): Promise<Turn> {
  const before = await context.at(record);
  const first = [before.s.say('language-now')];
  const turn =
    more || before.at.c.stops.length
      ? await sayInIts(context, record, { ...(await spokenIn(context, record, text)), begin: first })
      : await finish(context, record, before, { drafts: [], happened: { beforeAsk: before.open, first } });
  return 'problem' in turn ? turn : { ...turn, settings: record.settings };
}

/** A sentence as it comes into a case. */
interface Spoken {
  before: Moment;
  text: string;
  understood: Understood;
  /** The sentence before waited for "which". */
  askedBack: boolean;
  /** The one of its meanings that this one picks. */
  pick?: Option | undefined;
  /** Said first. */
  begin?: readonly string[];
}

/** What words mean here. Where they name one of the meanings asked back, that is all they mean, and they are understood no further. */
async function spokenIn(context: Context, record: CaseRecord, text: string): Promise<Spoken> {
  const before = await context.at(record);
  const which = await whichAgain(context, record, before);
  const askedBack = which !== undefined;
  const byLabel = which && chosen(which.options, text);
  const named = which && !byLabel ? namedOption(context.understand, before, which, text) : undefined;
  if (named) return { before, text, understood: { acts: picked(named), left: [] }, askedBack, pick: named };
  return { before, text, understood: listen(context.understand, before, text), askedBack, pick: byLabel };
}

async function sayInIts(context: Context, record: CaseRecord, spoken: Spoken): Promise<Turn> {
  const { before, text, understood, pick } = spoken;
  const back = waiting(before.at.answers, 'read-back');
  const settled = back && yesOrNo(understood.acts);
  if (back && settled) return settle(context, record, before, back, settled, text);
  const taken: Understood = pick ? { acts: picked(pick), left: [] } : understood;
  const inStop = before.at.c.stops.length ? heardInStop(text, before.s.language) : undefined;
  // "Can I go back in" takes nothing back, and "do I flip the breaker" is no new complaint.
  const asks = inStop?.asks.some((id) => id !== ANY) ?? false;
  const takesBack = !asks && taken.acts.some((a) => a.is === 'talk' && a.what === 'undo');
  if (takesBack && turnsToUndo(before.at.answers).turns) return undo(context, record, text);
  const sentence: Sentence = { ...spoken, understood: taken, asks, inStop };
  return finish(context, record, before, cameOf(sentence, hear(doorwayOf(before), taken.acts, text)));
}

interface Sentence extends Spoken {
  /** It asks something of a stop that stands. */
  asks: boolean;
  inStop: ReturnType<typeof heardInStop> | undefined;
}

/** What was heard as what the case is added, and what is said of it. */
function cameOf(sentence: Sentence, heard: Heard): Came {
  const { before, text, understood, askedBack } = sentence;
  const topics = topicsIn(before.s, text);
  const drafts = heard.drafts.filter((draft) => !sentence.asks || draft.act !== 'set' || draft.set.families === undefined);
  const lifts = heard.liftsStop ?? denied(before, heard, text);
  if (lifts) drafts.push(readBackNote(lifts));
  else if (heard.which) drafts.push(note(askedBack ? 'not-understood' : 'which', text));
  // What is asked of a stop, and what was done already; with the words that bring one, too.
  const tells = drafts.some((draft) => tellsDanger(before.k, draft));
  const inStop = sentence.inStop ?? (tells ? heardInStop(text, before.s.language) : undefined);
  const ticked = (inStop?.done ?? []).map((did): Draft => ({ act: 'note', note: 'done', did, said: text }));
  const empty = !drafts.length && heardNothing(heard) && !topics.length;
  const answered = ticked.length > 0 || (inStop?.asks.length ?? 0) > 0;
  const first = saidFirst(sentence, heard, drafts, { empty, answered });
  if (empty && !answered && !isKnown(understood.acts)) drafts.push(note('not-understood', text));
  drafts.push(...aboutDanger(before, heard, text));
  return {
    // What waits for an answer stays last.
    drafts: [...ticked, ...drafts],
    happened: {
      beforeAsk: before.open,
      topics,
      talk: heard.talk,
      wrong: heard.wrong,
      unknownFamily: heard.unknownFamily !== undefined,
      first,
      inStop,
    },
    which: lifts || askedBack || heard.suspects.length ? undefined : heard.which,
    understood,
  };
}

const heardNothing = (heard: Heard): boolean =>
  !heard.talk.length && !heard.wrong.length && !heard.unknownFamily && !heard.suspects.length;

/** Something was understood beside talk: it was told already. */
const isKnown = (acts: readonly Meaning[]): boolean => acts.some((a) => a.is !== 'talk' && a.is !== 'ambiguous');

/** Words of ours before all else: how the machine is built, told already, not placed, kept for the sheet. */
function saidFirst(
  { before, understood, begin = [] }: Sentence,
  heard: Heard,
  drafts: readonly Draft[],
  { empty, answered }: { empty: boolean; answered: boolean },
): string[] {
  const { k, s, at } = before;
  const built = empty ? [] : understood.acts.filter((a): a is Built => a.is === 'built');
  const first = [...begin, ...built.map((b) => builtSaid(k, at.hand, b))];
  const aside = drafts.length > 0 && drafts.every((draft) => isNoteOf(draft, 'noted'));
  if (empty && !answered && isKnown(understood.acts)) first.push(s.say('kept-already'));
  else if (heard.notPlaced) first.push(s.say('not-placed'));
  else if (aside && !built.length && !answered) first.push(s.say('noted-aside'));
  return first;
}

/** "Not sure" to a danger asked about, and one short question about each danger half heard, before anything else that is open. */
function aboutDanger(before: Moment, heard: Heard, text: string): Draft[] {
  const [asked] = before.danger?.about?.signs ?? [];
  const unsure = asked !== undefined && heard.talk.some((t) => t.what === 'unsure');
  const worth = heard.suspects.length > 0 && !before.at.c.stops.length;
  return [
    ...(unsure ? [{ act: 'unsure' as const, about: { fact: asked }, said: text }] : []),
    ...(worth ? [dangerNote(heard.suspects, text)] : []),
  ];
}

/** Words a bare "no" has at most; a longer one says what is not so. */
const BARE = 2;

/** "No, it was not gas", while one danger alone stands, can only mean that one: it is read back like any other correction. */
function denied({ k, at }: Moment, { drafts, talk }: Heard, text: string): ToldDraft | undefined {
  if (!at.c.stops.length || drafts.length || talk.length !== 1 || talk[0]!.what !== 'no') return undefined;
  if (text.trim().split(/\s+/).length <= BARE) return undefined;
  const [danger, ...more] = [...k.facts.values()].filter((f) => dangerNow(k, at.facts, f.id));
  const safe = danger?.choices?.find((choice) => !danger.danger?.includes(choice));
  if (!danger || more.length || safe === undefined) return undefined;
  const told = newest(at.facts, danger.id);
  return { act: told ? 'correct' : 'tell', fact: danger.id, value: safe, said: text, ...(told && { of: told.seq }) };
}
