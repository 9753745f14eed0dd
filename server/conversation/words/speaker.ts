import type { Audience, Knowledge, Value } from '../../../rules/types.ts';
import type { ProblemName, SayName, TalkName } from './names.ts';
import type { Spoken, Words } from './shapes.ts';

/** What stands for {name} in a text. */
export type Put = Record<string, string | number>;

/** Puts values into a text. Throws for a {name} nobody gave: that is a mistake of ours, not of the person. */
export function fill(text: string, put: Put = {}): string {
  return text.replace(/\{(\w+)\}/g, (_, name: string) => {
    if (put[name] === undefined) throw new RangeError(`nothing was given for {${name}} in "${text}"`);
    return String(put[name]);
  });
}

export const spokenTo = (text: Spoken, audience: Audience): string =>
  typeof text === 'string' ? text : (text[audience] ?? text.technician);

/** Everything that can be said, for one audience. Ids must be known: the load has checked that all have words. */
export type Speaker = ReturnType<typeof speaker>;

export function speaker(words: Words, k: Knowledge, audience: Audience) {
  const to = (text: Spoken | undefined, what: string): string => {
    if (text === undefined) throw new RangeError(`there are no words for ${what}`);
    return spokenTo(text, audience);
  };
  const g = words.general;
  return {
    audience,
    words,
    to: (text: Spoken) => spokenTo(text, audience),
    say: (name: SayName, put?: Put) => fill(to(g.say[name], name), put),
    talk: (name: TalkName, put?: Put) => fill(to(g.talk[name], name), put),
    problem: (name: ProblemName, put?: Put) => fill(to(g.problems[name], name), put),
    /** One of general.json's records by id. */
    of: (
      record: 'classes' | 'states' | 'covers' | 'cautions' | 'trades' | 'mayUse' | 'priorities' | 'referrals' | 'conclusions',
      id: string,
    ) => to(g[record][id], `${record} "${id}"`),
    check: (id: string) => words.checks[id],
    checkName: (id: string) => to(words.checks[id]?.name, `check "${id}"`),
    fact: (id: string) => to(words.facts[id]?.label, `fact "${id}"`),
    choice: (fact: string, value: Value) => {
      const text = words.facts[fact]?.choices?.[String(value)];
      return text ? spokenTo(text, audience) : String(value);
    },
    fault: (id: string) => to(words.faults[id]?.label, `fault "${id}"`),
    /** Several faults at once, or "something not listed". */
    faults: (ids: readonly string[]): string =>
      ids.length
        ? ids
            .map((id) => to(words.faults[id]?.label, `fault "${id}"`))
            .reduce((a, b) => fill(to(g.say['both-faults'], 'both-faults'), { a, b }))
        : to(g.say['not-listed'], 'not-listed'),
    stop: (id: string) => {
      const own = words.stops[id]?.title;
      return own ? spokenTo(own, audience) : (k.stops.get(id)?.sign ?? id);
    },
    term: (word: string): string | undefined => {
      const found = Object.entries(g.terms).find(([term]) => word.toLowerCase().includes(term));
      return found ? spokenTo(found[1], audience) : undefined;
    },
  };
}

/** "a", "a and b", "a, b and c"; more than `most` end in what `more` says of the rest. */
export function listed(items: readonly string[], most = items.length, more?: (left: number) => string): string {
  const shown = items.slice(0, most);
  if (items.length > most && more) return `${shown.join(', ')} ${more(items.length - most)}`;
  return shown.length < 2 ? (shown[0] ?? '') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}
