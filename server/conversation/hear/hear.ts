import { fitsCircuit, forMachine, temperatureOf } from '../../../rules/index.ts';
import type { Knowledge, Unit } from '../../../rules/types.ts';
import type { AnswerInput } from '../../conversation-port.ts';
import type { Ask, Meaning, Talk } from '../../types.ts';
import { asMachine, type Built } from '../../understand/built-otherwise.ts';
import { clearedBy, worthAsking } from '../stand/danger-ask.ts';
import { type Draft, note } from '../stand/notes.ts';
import { plateProblem, type Wrong } from '../stand/plate.ts';
import { isDanger, newest } from '../stand/standing.ts';
import { acrossPart } from './across-part.ts';
import { badNumber, COMPLAINT, type Doorway, type Entered, enter, unanswered } from './door.ts';
import { notThere } from './not-there.ts';
import { toOtherSide } from './other-side.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };
import { togetherRead } from './together-read.ts';
import { whereRead } from './where-read.ts';

export interface Option {
  label: string;
  meaning: Meaning;
  /** What was said with it, taken with it. */
  also?: Meaning[];
}
/** What one utterance comes to, before anything is stored. */
export interface Heard {
  drafts: Draft[];
  /** A correction that would lift a stop and waits for "yes". */
  liftsStop?: Draft;
  wrong: Wrong[];
  /** Talk that is answered and not stored, in the order said. */
  talk: { what: Talk; of?: string }[];
  which?: { question: string | undefined; options: Option[] };
  /** A reading whose place on this machine is not known: kept in words, judged by nothing. */
  notPlaced?: boolean;
  /** A complaint nobody knows. */
  unknownFamily?: string;
  /** Dangers that words may have told, each worth one short question; the first is asked. */
  suspects: string[];
}

type Reading = Extract<Meaning, { is: 'reading' }>;

/** What the acts of one utterance mean in this case, under the question that is open. Pure; stores nothing. */
export function hear(d: Doorway, acts: readonly Meaning[], said: string): Heard {
  const heard: Heard = { drafts: [], wrong: [], talk: [], suspects: [] };
  const correcting = acts.some((a) => a.is === 'talk' && a.what === 'correct');
  const take = (e: Entered) => {
    // What is not this person's to state, and was only let fall, is kept for the job sheet.
    if ('wrong' in e && e.wrong.code === 'not-yours' && !STATEMENTS.has(String(e.wrong.put.fact))) {
      if (!heard.drafts.some((x) => x.check === 'noted')) heard.drafts.push(note('noted', said));
    } else if ('wrong' in e) heard.wrong.push(e.wrong);
    else if (e.liftsStop) heard.liftsStop ??= e.liftsStop;
    // One sentence may be taken two ways that come to the same.
    else heard.drafts.push(...e.drafts.filter((n) => !heard.drafts.some((o) => sameTold(o, n))));
  };
  // "I don't think so" to a danger is no "no".
  const takeAnswer = (act: Extract<Meaning, { is: 'answer' | 'machine' }>) => {
    // Live work and a danger made safe want a clear word, not an "ok" in passing.
    if (STATEMENTS.has(act.fact) && act.is === 'answer' && act.sure === false) return;
    const hedged = act.is === 'answer' && act.sure === false && d.k.facts.get(act.fact)?.unsureIs !== undefined;
    const input: AnswerInput =
      hedged && !isDanger(d.k, act.fact, act.value) ? { fact: act.fact, act: 'unsure' } : { fact: act.fact, value: act.value };
    if (act.is === 'answer' && act.unit) input.unit = act.unit;
    take(enter(d, input, said, correcting, false));
  };
  const told = new Set(acts.flatMap((a) => ('fact' in a && a.fact && a.is !== 'denied' ? [a.fact] : [])));
  const { rest, which } = togetherRead(d, acts);
  if (which) heard.which = which;
  for (const act of rest) {
    switch (act.is) {
      case 'complaint':
        if (d.k.families.has(act.family)) take(enter(d, { fact: COMPLAINT, value: act.family }, said));
        else heard.unknownFamily = act.family;
        break;
      case 'hazard': {
        const unsure = !act.sure && d.k.facts.get(act.fact)?.unsureIs !== undefined;
        take(enter(d, unsure ? { fact: act.fact, act: 'unsure' } : { fact: act.fact, value: act.value }, said, correcting));
        break;
      }
      case 'suspected':
        if (worthAsking(d, act.fact) && !heard.suspects.includes(act.fact)) heard.suspects.push(act.fact);
        break;
      case 'plain-no':
        takePlainNo(d, act.of, said, heard, take);
        break;
      case 'denied': {
        const input = notThere(d, act);
        if (input) take(enter(d, input, said, true, false));
        break;
      }
      case 'answer':
      case 'machine':
        takeAnswer(act);
        break;
      case 'noted':
        heard.drafts.push(note('noted', said, { fact: act.fact, value: act.value }));
        for (const [fact, value] of Object.entries(SAYS_TOO[act.fact]?.[String(act.value)] ?? {}))
          if (!told.has(fact)) take(enter(d, { fact, value }, said, correcting, false));
        break;
      case 'reading':
        if (act.across) {
          takeAcross(d, act, said, correcting, heard, take, told);
          break;
        }
        // "120/240 V" picked from a list is that choice, not a reading beside it.
        if (act.fact === undefined && acts.some((a) => a.is === 'answer' && a.evidence.includes(numberIn(act.evidence)))) break;
        takeReading(d, act, said, correcting, heard, take, told);
        break;
      case 'plate': {
        const { is: _, evidence: __, ...plate } = act;
        const bad = plateProblem({ ...d.at.facts.machine.plate, ...plate });
        if (bad) heard.wrong.push(bad);
        else heard.drafts.push({ act: 'set', said, set: { machine: { plate } } });
        break;
      }
      case 'built':
        takeBuilt(d, act, said, heard);
        break;
      case 'talk':
        takeTalk(d, act.what, act.of, said, heard, take, acts.length > 1);
        break;
      case 'ambiguous':
        heard.which ??= { question: act.question, options: act.options };
    }
  }
  return merged(heard);
}

/** How the machine is built; where no drawing in hand can be built so, the words are kept for the job sheet. */
function takeBuilt(d: Doorway, act: Built, said: string, heard: Heard): void {
  const told = heard.drafts.findLast((x) => x.set?.machine?.variants)?.set?.machine;
  const now = asMachine(d.k, { ...d.at.hand, ...told }, act);
  if (now === 'elsewhere') heard.drafts.push(note('noted', said));
  else if (now) heard.drafts.push({ act: 'set', said, set: { machine: now } });
}

/** What was picked up on the way and answers a question of ours as well. */
const SAYS_TOO: Record<string, Record<string, Record<string, string>>> = talkFacts.saysToo;

/** What is only ever said on purpose. */
const STATEMENTS = new Set([talkFacts.saysOf.qualified.fact, talkFacts.saysOf['made-safe'].fact]);

/** The number of a reading as it was typed. */
const numberIn = (evidence: string): string => /\d[\d.,]*/.exec(evidence)?.[0] ?? evidence;

const sameTold = (a: Draft, b: Draft): boolean =>
  a.fact !== undefined && a.fact === b.fact && a.value === b.value && a.act === b.act && typeof a.value !== 'number';

// One utterance may tell two complaints or two parts of a plate: settings of one turn add up.
function merged(heard: Heard): Heard {
  const families = heard.drafts.filter((x) => x.set?.families);
  if (families.length > 1) {
    const all = [...new Set(families.flatMap((x) => x.set!.families!))];
    const first = families[0]!;
    heard.drafts = [...heard.drafts.filter((x) => !x.set?.families), { ...first, set: { families: all } }];
  }
  return heard;
}

type Rest = [correcting: boolean, heard: Heard, take: (e: Entered) => void, told: Set<string>];
function takeReading(d: Doorway, act: Reading, said: string, ...[correcting, heard, take, told]: Rest): void {
  if (act.value === 'beep' || act.value === 'no-beep') {
    heard.wrong.push({ code: 'beep', put: {} });
    return;
  }
  // Points or a state told with it say where it was read, and that outranks the question that happens to be open.
  const where = act.fact === undefined ? whereRead(d, act) : undefined;
  const named = where ?? (act.fact === undefined && !onlyOneOpen(d, act, told) ? byName(d, act, said) : undefined);
  const fact = act.fact ?? (named?.length === 1 ? named[0] : where ? undefined : onlyOneOpen(d, act, told));
  if (fact === undefined) {
    const options = (named?.length ? named : candidates(d, act, said))
      .slice(0, MOST_OPTIONS)
      .map((f): Option => ({ label: f, meaning: { ...act, fact: f } }));
    const first = d.k.facts.get(options[0]?.label ?? '');
    const bad = first && badNumber(d.k, first, act.value, act.unit);
    if (bad) {
      heard.wrong.push(bad);
      return;
    }
    if (options.length) heard.which ??= { question: undefined, options };
    else heard.wrong.push({ code: 'which-reading', put: {} });
    return;
  }
  told.add(fact);
  const input: AnswerInput = { fact, value: act.value };
  if (act.unit) input.unit = act.unit;
  if (act.points) input.points = act.points;
  if (act.state !== undefined && d.k.states.has(act.state)) input.state = act.state;
  if (act.lifted !== undefined) input.lifted = act.lifted;
  if (act.lowImpedance !== undefined) input.lowImpedance = act.lowImpedance;
  take(enter(d, input, said, correcting));
  const warm = act.at_c === undefined ? undefined : temperatureOf(d.k, fact);
  if (warm) take(enter(d, { fact: warm, value: act.at_c! }, said, correcting));
  if (act.leadsTakenOff !== undefined && act.leadsTakenOff >= 0 && act.leadsTakenOff <= 5)
    heard.drafts.push({ act: 'set', said, set: { machine: { leads_ohm: act.leadsTakenOff } } });
}

/** A reading across a part: between the part's own ends. Where it cannot be placed yet, or a danger comes first, the words are kept. */
function takeAcross(d: Doorway, act: Reading, said: string, ...rest: Rest): void {
  const [, heard] = rest;
  const options = acrossPart(d, act);
  const [one] = options;
  const stopped = d.at.c.stops.length > 0 || heard.drafts.some((x) => isDanger(d.k, x.fact ?? '', x.value));
  if (one?.meaning.is === 'reading' && options.length === 1 && !one.also?.length) takeReading(d, one.meaning, said, ...rest);
  else if (options.length && !stopped) heard.which ??= { question: undefined, options };
  else {
    heard.notPlaced = true;
    if (!heard.drafts.some((x) => x.check === 'noted')) heard.drafts.push(note('noted', said));
  }
}

const UNIT: Record<Reading['what'], Unit | undefined> = {
  volts: 'V',
  ohms: 'Ω',
  amps: 'A',
  temperature: '°C',
  minutes: 'min',
  speed: 'm/s',
  pressure: 'Pa',
  length: undefined,
};
/** The one reading of the open question this can be; undefined while several are open. */
function onlyOneOpen({ k, ask }: Doorway, act: Reading, told: ReadonlySet<string>): string | undefined {
  const open = (ask?.reads ?? []).filter((r) => k.facts.get(r.fact)?.unit === (act.unit ?? UNIT[act.what]) && !told.has(r.fact));
  return open.length === 1 ? open[0]!.fact : undefined;
}

/** The readings a value may be, the open question's first; none if there are too many to ask. */
function candidates(d: Doorway, act: Reading, said: string): string[] {
  const { k, at, ask } = d;
  const unit = act.unit ?? UNIT[act.what];
  const asked = (ask?.reads ?? []).map((r) => r.fact).filter((f) => k.facts.get(f)?.unit === unit);
  if (asked.length) return asked;
  const machine = at.hand.circuits[0];
  const all = [...k.checks.values()]
    .filter((c) => c.kind !== 'proof' && at.p.circuits.some((m) => fitsCircuit(c, m.attributes)))
    .filter((c) => act.state === undefined || c.state === act.state)
    .flatMap((c) => c.measure?.reads ?? [])
    .filter((r) => forMachine(r.points, machine) && k.facts.get(r.fact)?.unit === unit)
    .map((r) => r.fact);
  // Those whose names share a word with what was said come first, and alone if there are any.
  const shared = sharedWords(d, said);
  const unique = [...new Set(all)];
  const most = Math.max(0, ...unique.map(shared));
  return (most ? unique.filter((f) => shared(f) === most) : unique).slice(0, MOST_OPTIONS);
}
/** The one fact whose name was said, where no other shares as many words of it; undefined where it was not. */
function byName(d: Doorway, act: Reading, said: string): string[] | undefined {
  if ((d.ask?.reads ?? []).some((r) => d.k.facts.get(r.fact)?.unit === (act.unit ?? UNIT[act.what]))) return undefined;
  const [only, ...others] = candidates(d, act, said);
  return only !== undefined && others.length === 0 && sharedWords(d, said)(only) > 0 ? [only] : undefined;
}
/** How many words of a fact's name were said. */
function sharedWords({ name }: Doorway, said: string): (fact: string) => number {
  const wordsOf = (text: string) => new Set(text.toLowerCase().match(/\p{L}{3,}/gu));
  const words = wordsOf(said);
  return (f) => [...wordsOf(name?.(f) ?? f.replaceAll('_', ' '))].filter((w) => words.has(w)).length;
}
const MOST_OPTIONS = 12;

function takeTalk(
  d: Doorway,
  what: Talk,
  of: string | undefined,
  said: string,
  heard: Heard,
  take: (e: Entered) => void,
  withMore: boolean,
): void {
  const { k, ask, at } = d;
  if (what === 'correct' && of === 'other-side') {
    const moved = toOtherSide(d, said);
    if (moved.length) heard.drafts.push(...moved);
    else if (!withMore) heard.talk.push({ what });
    return;
  }
  // "No wait, it was warm then cold" has put it right in the same breath.
  if (what === 'correct' && heard.drafts.length) return;
  if (what === 'person') heard.drafts.push(note('noted', said, { fact: 'visit_wanted', value: 'yes' }));
  if (what === 'yes' || what === 'no') {
    const input = ask && yesNo(k, ask, what);
    if (input && !withMore) take(enter(d, input, said));
    else if (!withMore) heard.talk.push({ what });
    return;
  }
  const fact = (talkFacts.saysOf as Record<string, { fact: string; value: string }>)[what];
  const may = fact && k.facts.get(fact.fact)?.whoCanTell.includes(at.facts.audience);
  const just = heard.drafts.some((x) => x.fact === fact?.fact);
  if (fact && !just && (may || what !== 'no-meter') && newest(at.facts, fact.fact)?.value !== fact.value)
    take(enter(d, fact, said));
  if (what === 'unsure' || what === 'declined' || what === 'later' || what === 'no-meter') {
    // Dangers are not put off: a list of them is asked again before anything else.
    if (what === 'later' && ask?.about) {
      heard.drafts.push(note('not-understood', said));
      return;
    }
    const check = ask && k.checks.get(ask.check);
    const act = what === 'no-meter' ? 'declined' : what;
    if (check && !(what === 'no-meter' && !check.measure)) {
      heard.drafts.push(...unanswered(at, check, act, said));
      heard.talk.push({ what });
    } else heard.talk.push({ what });
    return;
  }
  if (fact) return;
  heard.talk.push(of === undefined ? { what } : { what, of });
}

/**
 * A plain no to a question about dangers. To all: what was asked is cleared, and nothing else. About people or about now: only
 * what that can clear, and the rest is asked. One that only looks like a no clears nothing.
 */
function takePlainNo(
  d: Doorway,
  of: Extract<Meaning, { is: 'plain-no' }>['of'],
  said: string,
  heard: Heard,
  take: (e: Entered) => void,
): void {
  const { k, ask, at } = d;
  if (!ask?.about || of === 'soft') {
    heard.drafts.push(note('not-understood', said));
    return;
  }
  if (of === 'plain') {
    const none = ask.choices.find((c) => c.fact !== undefined && !k.facts.get(c.fact)?.danger?.includes(c.id));
    if (k.checks.has(ask.check)) take(enter(d, { fact: ask.check, value: 'none' }, said));
    else if (none?.fact !== undefined) take(enter(d, { fact: none.fact, value: none.id }, said));
    return;
  }
  const check = k.checks.get(ask.check);
  for (const fact of clearedBy(of)) {
    const value = check?.choices?.none?.[fact];
    if (value !== undefined && ask.about.signs.includes(fact) && !newest(at.facts, fact))
      take(enter(d, { fact, value }, said, false, false));
  }
  heard.drafts.push(of === 'now' ? note('now-only', said) : note('not-understood', said));
}

/** "Yes" and "no" answer a question whose choices are just that; a list of dangers takes its no elsewhere. */
function yesNo(k: Knowledge, ask: Ask, what: 'yes' | 'no'): AnswerInput | undefined {
  const check = k.checks.get(ask.check);
  if (!check) return undefined;
  if (ask.about) return undefined;
  if (check.choices) return what === 'no' ? { fact: check.id, value: 'none' } : undefined;
  const fact = ask.choices[0]?.fact;
  return fact && ask.choices.some((c) => c.id === what) ? { fact, value: what } : undefined;
}

/** Which of several readings of a sentence was meant: by its number, by its label, or nothing. */
export function chosen(options: readonly Option[], text: string): Option | undefined {
  const words = text.trim().toLowerCase();
  const number = /^#?(\d{1,2})[.)]?$/.exec(words)?.[1];
  if (number !== undefined) return options[Number(number) - 1];
  const close = options.filter(
    (o) => o.label.toLowerCase() === words || (words.length > 3 && o.label.toLowerCase().includes(words)),
  );
  return close.length === 1 ? close[0] : undefined;
}
