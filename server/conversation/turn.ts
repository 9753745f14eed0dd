import type { Answer, Knowledge, MachineInHand, Prepared, Value } from '../../rules/types.ts';
import type { AnswerInput, Opened, OpenInput, PatchInput, Refused, Turn } from '../conversation-port.ts';
import type { Ask, CaseRecord, Meaning, Understood } from '../types.ts';
import { checkPartWords } from '../understand/across.ts';
import { type Built, builtOtherwise, builtSaid, checkBuiltWords } from '../understand/built-otherwise.ts';
import { ANY, heardInStop } from '../understand/in-stop.ts';
import { withPoints } from '../understand/points-said.ts';
import { acrossPart } from './hear/across-part.ts';
import {
  COMPLAINT,
  carriesStop,
  change,
  type Doorway,
  dangerNow,
  type Entered,
  enter,
  safeNoMore,
  safeNoMoreRead,
  unsureStops,
} from './hear/door.ts';
import { chosen, type Heard, hear, type Option } from './hear/hear.ts';
import { topicsIn } from './hear/topics.ts';
import { type Happened, phrase, READ_BACK, readBackAsk, WHICH, whichAsk } from './show/phrase.ts';
import type { Region } from './show/stop-words.ts';
import { viewOf } from './show/view.ts';
import { wayLabel } from './show/way-label.ts';
import { openAsk } from './stand/ask.ts';
import { DANGER, dangerAsk, ofDanger, stillWaiting } from './stand/danger-ask.ts';
import { type Draft, note, numbered, turnsToUndo, waiting } from './stand/notes.ts';
import { machineProblem, type Wrong } from './stand/plate.ts';
import { pointWords } from './stand/points.ts';
import type { Saying } from './stand/said.ts';
import { isDanger, newest, type Standing, stand } from './stand/standing.ts';
import { FIRST, isLanguage, type Language, languageFor } from './words/languages.ts';
import type { SayName } from './words/names.ts';
import { type Words, wordsBy } from './words/shapes.ts';
import { speaker } from './words/speaker.ts';

export type Understand = (
  utterance: string,
  ask: Ask | undefined,
  audience: CaseRecord['audience'],
  machine: Partial<MachineInHand>,
  language?: Language,
) => Understood;

export interface TurnDeps extends Region {
  k: Knowledge;
  /** One language, or several; a case is spoken in its own. */
  words: Words | readonly Words[];
  understand: Understand;
  prepared: (machine: MachineInHand) => Prepared;
}
type Bare = Standing['record'];
/** Cases under way at once; the one looked at longest ago is reasoned out anew. */
const MOST_KEPT = 64;
const NOTHING: Understood = { acts: [], left: [] };

/** One turn of a case, as a pure function: record and words in, new answers and reply out. Stores nothing. */
export function turns({ k, words, understand, prepared, region }: TurnDeps) {
  checkBuiltWords(k);
  checkPartWords(k);
  const spoken = wordsBy(words);
  // Where one turn ends the next begins: kept for a few cases, it is reasoned out once. Pure, so a kept one is the same.
  const kept = new Map<string, Standing>();
  const stood = async (record: Bare): Promise<Saying> => {
    const { audience, settings, answers } = record;
    const key = JSON.stringify([audience, settings, answers]);
    const at = kept.get(key) ?? (await stand(k, prepared, { audience, settings, answers }));
    kept.delete(key);
    kept.set(key, at);
    if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value as string);
    return { k, at, s: speaker(spoken(at.language), k, at.facts.audience) };
  };
  const doorway = (x: Saying): Doorway => ({ k, at: x.at, ask: dangerAsk(x) ?? openAsk(x), name: (fact) => x.s.fact(fact) });
  const refused = (x: Saying, w: Wrong): Refused => ({
    problem: { code: w.code, message: x.s.problem(w.code, w.put), ...w.put },
  });

  /** The end of every turn: number the answers, move to another complaint where one shows, and say it. */
  async function finish(
    record: Bare,
    before: Saying,
    told: readonly Draft[],
    happened: Omit<Happened, 'added' | 'before'>,
    understood: Understood = NOTHING,
  ): Promise<Turn> {
    const by = before.at.facts.audience;
    const drafts = [...told, ...safeNoMore(k, before.at.facts, told), ...stillWaiting(before, told)];
    let added = numbered(record.answers, drafts, by);
    let x = added.length ? await stood({ ...record, answers: [...record.answers, ...added] }) : before;
    const safe = safeNoMoreRead(k, before.at, x.at);
    if (safe.length) {
      drafts.push(...safe);
      added = numbered(record.answers, drafts, by);
      x = await stood({ ...record, answers: [...record.answers, ...added] });
    }
    const first = [...(happened.first ?? [])];
    const moved = crossover(x, added);
    if (moved) {
      added = numbered(record.answers, [...drafts, moved.draft], by);
      x = await stood({ ...record, answers: [...record.answers, ...added] });
      first.push(x.s.say('crossover', { family: moved.title }));
    }
    const which = happened.which ?? (await whichOf(record, x, added));
    const reply = phrase(x, { ...happened, first, which, added, before: before.at }, { region });
    return { added, understood, reply, view: viewOf(x) };
  }

  function crossover(x: Saying, added: readonly Answer[]): { draft: Draft; title: string } | undefined {
    const { families } = x.at.facts;
    for (const id of families)
      for (const c of k.families.get(id)?.crossovers ?? []) {
        const seen = added.find((a) => a.fact === c.fact && a.value === c.is);
        if (!seen || newest(x.at.facts, c.fact)?.value !== c.is) continue;
        const moved = [...new Set(families.map((f) => (f === id ? c.to : f)))];
        return {
          draft: { act: 'set', said: seen.said, set: { families: moved } },
          title: x.s.family(c.to),
        };
      }
    return undefined;
  }

  /** The options of the sentence that waits for "which", made again from its words: nothing of them is stored. */
  async function whichOf(record: Bare, x: Saying, added: readonly Answer[] = []): Promise<Happened['which']> {
    const waits = waiting(x.at.answers, 'which');
    if (!waits || added.some((a) => a.seq === waits.seq)) return undefined;
    const then = await stood({ ...record, answers: record.answers.filter((a) => a.turn < waits.turn) });
    const heard = hearIn(then, waits.said);
    return heard.which && { ...labelled(x, heard.which), again: true };
  }
  const hearIn = (x: Saying, text: string): Heard => hear(doorway(x), acts(x, text).acts, text);
  const acts = (x: Saying, text: string): Understood => {
    const heard = understand(text, readBackAsk(x) ?? dangerAsk(x) ?? openAsk(x), x.at.facts.audience, x.at.hand, x.s.language);
    // A technician's words about the drawing itself; with them we speak English.
    if (x.at.facts.audience !== 'technician' || x.s.language !== FIRST) return heard;
    const { s, at } = x;
    const label = (points: [string, string], state: string) => `${pointWords(x, '', points)}; ${s.of('states', state)}`;
    if (heard.acts.some((a) => a.is === 'reading' && a.across && acrossPart(doorway(x), a).length))
      return builtOtherwise(heard, text);
    return withPoints(builtOtherwise(heard, text), text, { k, p: at.p, ask: openAsk(x), label });
  };
  const labelled = (x: Saying, which: NonNullable<Heard['which']>): NonNullable<Heard['which']> => ({
    ...which,
    options: which.options.map((o: Option) => {
      if (o.label === '') return { ...o, label: wayLabel(x, o, which.options) };
      if (k.facts.has(o.label)) return { ...o, label: x.s.fact(o.label) };
      return k.checks.has(o.label) ? { ...o, label: x.s.checkName(o.label) } : o;
    }),
  });

  /** One of the meanings asked back, picked by its name or place: "the first", "at rest". */
  function named(x: Saying, which: NonNullable<Happened['which']>, text: string): Option | undefined {
    const { acts: heard } = understand(text, whichAsk(x, which), x.at.facts.audience, x.at.hand, x.s.language);
    const [only, ...more] = heard.filter((a) => a.is !== 'talk');
    return only?.is === 'answer' && only.fact === WHICH && !more.length ? which.options[Number(only.value) - 1] : undefined;
  }

  /** Words clearly in another language of ours move the case to it, and are heard in it; so does the name of one. */
  async function say(record: CaseRecord, text: string): Promise<Turn> {
    const before = await stood(record);
    const heard = acts(before, text).acts;
    const asked = heard.find((a) => a.is === 'talk' && a.what === 'language');
    const to = asked?.is === 'talk' && isLanguage(asked.of) ? languageFor(asked.of, before.at.facts.audience) : before.s.language;
    if (to === before.s.language || to !== (asked as { of?: string }).of) return sayInIts(record, text);
    const settings = { ...record.settings, language: to };
    const x = await stood({ ...record, settings });
    const first = [x.s.say('language-now')];
    const turn =
      heard.length > 1 || x.at.c.stops.length
        ? await sayInIts({ ...record, settings }, text, first)
        : await finish({ ...record, settings }, x, [], { beforeAsk: openAsk(x), first });
    return 'problem' in turn ? turn : { ...turn, settings };
  }

  async function sayInIts(record: CaseRecord, text: string, begin: readonly string[] = []): Promise<Turn> {
    const before = await stood(record);
    const beforeAsk = openAsk(before);
    const topics = topicsIn(before.s, text);
    const understood = acts(before, text);
    const back = waiting(before.at.answers, 'read-back');
    if (back) {
      const is = yesOrNo(understood.acts);
      if (is) return settle(record, before, back, is, text);
    }
    const which = await whichOf(record, before);
    const pick = which && (chosen(which.options, text) ?? named(before, which, text));
    const taken: Understood = pick ? { acts: picked(pick), left: [] } : understood;
    const stopped = before.at.c.stops.length > 0 ? heardInStop(text, before.s.language) : undefined;
    // "Can I go back in" takes nothing back, and "do I flip the breaker" is no new complaint.
    const asks = stopped?.asks.some((id) => id !== ANY) ?? false;
    const takesBack = !asks && taken.acts.some((a) => a.is === 'talk' && a.what === 'undo');
    if (takesBack && turnsToUndo(before.at.answers).turns) return undo(record, text);
    const heard = hear(doorway(before), taken.acts, text);
    const drafts = heard.drafts.filter((d) => !asks || d.set?.families === undefined);
    heard.liftsStop ??= denied(before, heard, text);
    if (heard.liftsStop) drafts.push(readBackNote(heard.liftsStop));
    else if (heard.which) drafts.push(note(which ? 'not-understood' : 'which', text));
    // What is asked of a stop, and what was done already; with the words that bring one, too.
    const inStop = stopped ?? (drafts.some((d) => tellsDanger(d)) ? heardInStop(text, before.s.language) : undefined);
    const ticked = (inStop?.done ?? []).map((act) => note('done', text, { fact: act }));
    const heardNothing =
      !drafts.length &&
      !heard.talk.length &&
      !heard.wrong.length &&
      !topics.length &&
      !heard.unknownFamily &&
      !heard.suspects.length;
    const known = taken.acts.some((a) => a.is !== 'talk' && a.is !== 'ambiguous');
    const aside = drafts.length > 0 && drafts.every((d) => d.check === 'noted');
    const first = [...begin];
    const built = taken.acts.filter((a): a is Built => a.is === 'built');
    if (!heardNothing) first.push(...built.map((b) => builtSaid(k, before.at.hand, b)));
    const answered = ticked.length > 0 || (inStop?.asks.length ?? 0) > 0;
    if (heardNothing && known && !answered) first.push(before.s.say('kept-already'));
    else if (heard.notPlaced) first.push(before.s.say('not-placed'));
    else if (aside && !built.length && !answered) first.push(before.s.say('noted-aside'));
    if (heardNothing && !known && !answered) drafts.push(note('not-understood', text));
    const [first0] = dangerAsk(before)?.about?.signs ?? [];
    if (first0 !== undefined && heard.talk.some((t) => t.what === 'unsure'))
      drafts.push({ act: 'unsure', fact: first0, said: text });
    // One short question about just that danger, before anything else that is open.
    if (heard.suspects.length && !before.at.c.stops.length) drafts.push(note(DANGER, text, { value: heard.suspects.join(' ') }));
    // What waits for an answer stays last.
    drafts.unshift(...ticked);
    return finish(
      record,
      before,
      drafts,
      {
        beforeAsk,
        topics,
        talk: heard.talk,
        wrong: heard.wrong,
        unknownFamily: heard.unknownFamily !== undefined,
        first,
        which: heard.which && !heard.liftsStop && !which && !heard.suspects.length ? labelled(before, heard.which) : undefined,
        inStop,
      },
      taken,
    );
  }

  /** "No, it was not gas", while one danger alone stands, can only mean that one: it is read back like any other correction. */
  function denied(x: Saying, { drafts, talk }: Heard, text: string): Draft | undefined {
    if (!x.at.c.stops.length || drafts.length || talk.length !== 1 || talk[0]!.what !== 'no') return undefined;
    if (text.trim().split(/\s+/).length < 3) return undefined;
    const [danger, ...more] = [...k.facts.values()].filter((f) => dangerNow(k, x.at.facts, f.id));
    const safe = danger?.choices?.find((c) => !danger.danger?.includes(c));
    if (!danger || more.length || safe === undefined) return undefined;
    const told = newest(x.at.facts, danger.id);
    return { act: told ? 'correct' : 'tell', fact: danger.id, value: safe, said: text, ...(told && { of: told.seq }) };
  }

  async function answer(record: CaseRecord, given: AnswerInput): Promise<Turn> {
    const before = await stood(record);
    const input = ofDanger(dangerAsk(before), given);
    const said = inWords(before, input);
    const back = waiting(before.at.answers, 'read-back');
    const value = String(input.value);
    const unanswered = input.act !== undefined && input.act !== 'tell';
    if (unanswered && (input.fact === 'read-back' || input.fact === 'which'))
      return finish(record, before, [note('settled', said)], {
        beforeAsk: openAsk(before),
        first: [before.s.say('read-back-kept')],
      });
    if (input.fact === 'read-back' && back && (value === 'yes' || value === 'no'))
      return settle(record, before, back, value, value);
    const beforeAsk = openAsk(before);
    if (input.fact === 'which') {
      const which = await whichOf(record, before);
      const pick = which && chosen(which.options, value);
      if (!pick) return refused(before, { code: 'which-reading', put: {} });
      const heard = hear(doorway(before), picked(pick), said);
      if (heard.wrong[0]) return refused(before, heard.wrong[0]);
      const drafts = heard.liftsStop ? [...heard.drafts, readBackNote(heard.liftsStop)] : heard.drafts;
      return finish(record, before, drafts, { beforeAsk, talk: heard.talk }, { acts: picked(pick), left: [] });
    }
    return entered(record, before, beforeAsk, enter(doorway(before), input, said));
  }

  /** What a structured answer says, as the person saw it on the button. */
  function inWords(x: Saying, { fact, value, act, unit }: AnswerInput): string {
    if (value === undefined) return act === undefined || act === 'tell' ? '' : x.s.say(UNANSWERED[act]);
    if (fact === COMPLAINT) return x.s.family(String(value));
    const list = x.s.check(fact)?.choices;
    if (list && typeof value === 'string')
      return value
        .split(/[\s,]+/)
        .map((id) => (list[id] ? x.s.to(list[id]) : id))
        .join('; ');
    if (typeof value === 'number') return `${value} ${unit ?? k.facts.get(fact)?.unit ?? ''}`.trim();
    return x.s.choice(fact, value);
  }

  function entered(record: Bare, before: Saying, beforeAsk: Ask | undefined, e: Entered): Promise<Turn> | Refused {
    if ('wrong' in e) return refused(before, e.wrong);
    if (e.liftsStop) return finish(record, before, [readBackNote(e.liftsStop)], { beforeAsk });
    const first = e.drafts.length ? [] : [before.s.say('kept-already')];
    return finish(record, before, e.drafts, { beforeAsk, first });
  }

  const tellsDanger = (a: Draft): boolean => a.fact !== undefined && (isDanger(k, a.fact, a.value) || unsureStops(k, a));
  const readBackNote = (d: Draft): Draft =>
    note('read-back', d.said, {
      ...(d.of !== undefined && { of: d.of }),
      ...(d.fact !== undefined && { fact: d.fact }),
      ...(d.value !== undefined && { value: d.value }),
    });

  /** "Yes" or "no" to a read-back: the correction counts, or all stays as it was. */
  async function settle(record: Bare, before: Saying, waits: Answer, is: 'yes' | 'no', said: string): Promise<Turn> {
    const beforeAsk = readBackAsk(before);
    if (is === 'no')
      return finish(record, before, [note('settled', said)], { beforeAsk, first: [before.s.say('read-back-kept')] });
    if (waits.fact === undefined || waits.value === undefined) return takeBack(record, before, said);
    const draft: Draft = {
      act: waits.of === undefined ? 'tell' : 'correct',
      fact: waits.fact,
      value: waits.value,
      said: waits.said,
    };
    if (waits.of !== undefined) {
      draft.of = waits.of;
      // A reading put right was still taken where and how it was taken.
      const old = before.at.facts.readings.find((r) => r.seq === waits.of);
      for (const key of ['unit', 'points', 'lifted', 'lowImpedance'] as const)
        if (old?.[key] !== undefined) Object.assign(draft, { [key]: old[key] });
      if (old && k.facts.get(old.fact)?.kind === 'quantity') draft.state = old.state;
    }
    return finish(record, before, [draft], { beforeAsk });
  }

  async function undo(record: Bare, said = 'undo'): Promise<Turn> {
    const before = await stood(record);
    const { turns: n, told } = turnsToUndo(before.at.answers);
    if (!n) return refused(before, { code: 'nothing-to-undo', put: {} });
    const stops = told.some((a) => tellsDanger(a) || carriesStop(before.at, a.seq));
    if (stops && before.at.c.stops.length)
      return finish(record, before, [note('read-back', said)], { beforeAsk: openAsk(before) });
    return takeBack(record, before, said);
  }

  function takeBack(record: Bare, before: Saying, said: string): Promise<Turn> {
    const { turns: n } = turnsToUndo(before.at.answers);
    const drafts = Array.from({ length: n }, (): Draft => ({ act: 'undo', said }));
    return finish(record, before, drafts, { beforeAsk: openAsk(before), first: [before.s.talk('undone')] });
  }

  return {
    say,
    answer,
    undo: (record: CaseRecord) => undo(record),
    async open({ audience, units, machine, language }: OpenInput): Promise<Opened | Refused> {
      const settings = { audience, ...(units && { units }), ...(machine && { machine }), ...(language && { language }) };
      const x = await stood({ audience, settings: language ? { language } : {}, answers: [] });
      const bad = machine && machineProblem(k, machine);
      if (bad) return refused(x, bad);
      const opened = await stood({ audience, settings, answers: [] });
      return { answers: [], settings, reply: phrase(opened, { added: [] }, { region }), view: viewOf(opened) };
    },
    async change(record: CaseRecord, seq: number, value: Value): Promise<Turn> {
      const before = await stood(record);
      return entered(record, before, openAsk(before), change(doorway(before), seq, value));
    },
    async patch(was: CaseRecord, { qualified, job, language, ...set }: PatchInput): Promise<Turn> {
      const record = language ? { ...was, settings: { ...was.settings, language } } : was;
      const before = await stood(record);
      const machine = set.machine && { ...set.machine, plate: { ...before.at.facts.machine.plate, ...set.machine.plate } };
      const bad = machine && machineProblem(k, machine);
      if (bad) return refused(before, bad);
      const drafts: Draft[] = Object.keys(set).length ? [{ act: 'set', said: '', set }] : [];
      if (qualified !== undefined) {
        const as = set.audience ?? before.at.facts.audience;
        if (as !== 'technician') return refused(before, { code: 'not-yours', put: { fact: 'qualified' } });
        const told = newest(before.at.facts, 'qualified');
        const value = qualified ? 'yes' : 'no';
        drafts.push({ act: told ? 'correct' : 'tell', fact: 'qualified', value, said: '', ...(told && { of: told.seq }) });
      }
      const turn = await finish(record, before, drafts, { beforeAsk: openAsk(before) });
      if ('problem' in turn || (!job && !language)) return turn;
      // Neither is an answer: it changes nothing that is reasoned about, and taking back an answer leaves it as it is.
      if (!job) return { ...turn, settings: record.settings };
      const written = Object.entries({ ...record.settings.job, ...job }).filter(([, text]) => text.trim());
      return { ...turn, settings: { ...record.settings, job: Object.fromEntries(written) } };
    },
    async look(record: CaseRecord): Promise<Turn> {
      const x = await stood(record);
      const reply = phrase(x, { added: [], which: await whichOf(record, x) }, { region });
      return { added: [], understood: NOTHING, reply, view: viewOf(x) };
    },
    stood,
  };
}

const UNANSWERED: Record<'unsure' | 'declined' | 'later', SayName> = {
  unsure: 'said-unsure',
  declined: 'said-declined',
  later: 'said-later',
};

const picked = (o: Option): Meaning[] => [o.meaning, ...(o.also ?? [])];

/** "Yes" or "no" to a read-back and no more; anything longer is heard as what it says. "Yes, there is no smell" is a yes. */
function yesOrNo(acts: readonly Meaning[]): 'yes' | 'no' | undefined {
  const rest = acts.filter((a) => a.is !== 'denied');
  const [only] = rest;
  if (rest.length !== 1 || !only) return undefined;
  const word = only.is === 'talk' ? only.what : only.is === 'answer' && only.fact === READ_BACK ? only.value : undefined;
  if (word === 'yes') return 'yes';
  return word === 'no' && acts.length === 1 ? 'no' : undefined;
}
