import type { Audience, Knowledge, StopLine, Value } from '../../../rules/types.ts';
import { FIRST } from '../../languages.ts';
import { isWords } from './from-knowledge.ts';
import type { ProblemName, SayName, TalkName } from './names.ts';
import type { GeneralWords, Spoken, Words } from './shapes.ts';

/** What stands for {name} in a text. */
export type Put = Record<string, string | number>;

/** Puts values into a text. Throws for a {name} nobody gave: that is a mistake of ours, not of the person. */
export function fill(text: string, put: Put = {}): string {
  return text.replace(/\{(\w+)\}/g, (_, name: string) => {
    if (put[name] === undefined) throw new RangeError(`nothing was given for {${name}} in "${text}"`);
    return String(put[name]);
  });
}

/** @throws RangeError where this audience is not spoken to in the language of the text */
export function spokenTo(text: Spoken, audience: Audience): string {
  const own = typeof text === 'string' ? text : (text[audience] ?? text.technician);
  if (own === undefined) throw new RangeError(`no words for a ${audience} beside "${JSON.stringify(text)}"`);
  return own;
}

/** Everything that can be said, for one audience, in one language. Ids must be known: the load has checked that all have words. */
export type Speaker = ReturnType<typeof speaker>;

export function speaker(words: Words, k: Knowledge, audience: Audience) {
  const voice: Voice = {
    words,
    k,
    first: words.language === FIRST,
    to: (text, what) => {
      if (text === undefined) throw new RangeError(`there are no words for ${what} in "${words.language}"`);
      return spokenTo(text, audience);
    },
  };
  return {
    audience,
    words,
    language: words.language,
    to: (text: Spoken) => spokenTo(text, audience),
    ...sentences(voice),
    ...namesOf(voice),
    ...stopsOf(voice),
    term: (word: string): string | undefined => {
      const found = Object.entries(words.general.terms).find(([term]) => word.toLowerCase().includes(term));
      return found ? spokenTo(found[1], audience) : undefined;
    },
  };
}

/** What speaking to somebody in a language stands on. */
interface Voice {
  words: Words;
  k: Knowledge;
  /** Is it the language the knowledge is written in? */
  first: boolean;
  /** @throws RangeError where there is no text; `what` says of what. */
  to(text: Spoken | undefined, what: string): string;
}

/** The names the code says something by. */
function sentences({ words: { general: g }, to }: Voice) {
  return {
    say: (id: SayName, put?: Put) => fill(to(g.say[id], id), put),
    talk: (id: TalkName, put?: Put) => fill(to(g.talk[id], id), put),
    problem: (id: ProblemName, put?: Put) => fill(to(g.problems[id], id), put),
    /** One of general.json's records by id. */
    of: (
      record: 'classes' | 'states' | 'covers' | 'cautions' | 'trades' | 'mayUse' | 'priorities' | 'referrals' | 'conclusions',
      id: string,
    ) => to(g[record][id], `${record} "${id}"`),
    listed: (items: readonly string[], most?: number, more?: (left: number) => string) => listed(g.joins, items, most, more),
  };
}

/** What the things of the knowledge are called. */
function namesOf({ words, k, first, to }: Voice) {
  const { say } = words.general;
  const name = (text: string) => (first || !isWords(text) ? text : to(words.names[text], `the name "${text}"`));
  const fault = (id: string) => to(words.faults[id]?.label, `fault "${id}"`);
  return {
    /** A name as it stands in the knowledge or on the job form, in this language. */
    name,
    family: (id: string) => name(k.families.get(id)?.title ?? id),
    check: (id: string) => words.checks[id],
    checkName: (id: string) => to(words.checks[id]?.name ?? words.checkNames[id], `check "${id}"`),
    fact: (id: string) => to(words.facts[id]?.label, `fact "${id}"`),
    choice: (fact: string, value: Value) => {
      const text = words.facts[fact]?.choices?.[String(value)];
      return text ? to(text, `choice "${value}"`) : String(value);
    },
    fault,
    /** Several faults at once, or "something not listed". */
    faults: (ids: readonly string[]): string =>
      ids.length
        ? ids.map(fault).reduce((a, b) => fill(to(say['both-faults'], 'both-faults'), { a, b }))
        : to(say['not-listed'], 'not-listed'),
    /** One short question about one danger; yes is the danger. */
    danger: (fact: string) => to(words.dangers[fact], `danger "${fact}"`),
  };
}

/** What is said of a stop and while one stands. */
function stopsOf({ words, k, first, to }: Voice) {
  return {
    stop: (id: string) => {
      const own = words.stops[id]?.title;
      return own || !first ? to(own, `stop "${id}"`) : (k.stops.get(id)?.sign ?? id);
    },
    /** What is said of a stop in a region, each line with its other wordings. */
    stopLines: (id: string, region: string): readonly StopLine[] | undefined => {
      const lines = k.stops.get(id)?.sayNow[region];
      if (first || !lines) return lines;
      return lines.map(({ touches, does, until }, i) => {
        const own = words.stops[id]?.sayNow?.[region]?.[i];
        if (!own) throw new RangeError(`there are no words for stop "${id}", ${region} ${i + 1} in "${words.language}"`);
        return { ...own, touches, ...(does && { does }), ...(until && { until }) };
      });
    },
    stopWhy: (id: string) => to(words.stops[id]?.why, `stop "${id}", why`),
    /** An answer to what is asked while a stop stands; `gasUnknown`: nobody has told whether there is a smell of gas. */
    stopAnswer: (question: string, answer: string, gasUnknown: boolean, put: Put) => {
      const own = words.stopAnswers[question]?.[answer];
      const text = gasUnknown ? (own?.gasUnknown ?? own?.says) : own?.says;
      return fill(to(text, `the answer "${answer}" to "${question}"`), put);
    },
    stopDone: (act: string, put: Put) => fill(to(words.stopDone[act], `the act "${act}"`), put),
  };
}

/** "a", "a and b", "a, b and c"; more than `most` end in what `more` says of the rest. */
export function listed(
  { and, before = {} }: GeneralWords['joins'],
  items: readonly string[],
  most = items.length,
  more?: (left: number) => string,
): string {
  const shown = items.slice(0, most);
  if (items.length > most && more) return `${shown.join(', ')} ${more(items.length - most)}`;
  const last = shown.at(-1);
  if (last === undefined || shown.length < 2) return last ?? '';
  const starts = Object.keys(before).filter((start) => last.toLowerCase().startsWith(start));
  const [longest] = starts.sort((a, b) => b.length - a.length);
  return fill((longest !== undefined && before[longest]) || and, { a: shown.slice(0, -1).join(', '), b: last });
}
