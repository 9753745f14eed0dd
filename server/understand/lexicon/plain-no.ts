import en from './en/plain-no.json' with { type: 'json' };
import es from './es/plain-no.json' with { type: 'json' };

/** One language's closed list of a plain no; rows of two are put together, first with second. */
export interface PlainNoWords {
  greetings: string[];
  thanks: string[];
  address: string[];
  /** "Caller says ...". */
  relays: string[][];
  /** May stand before any of `core`, and must stand before `fine`. */
  openers: string[];
  closers: string[];
  core: string[];
  fine: string[][];
  /** Says that all is well only behind an opener and a mark: "no, todo bien"; without the mark it may deny just that. */
  afterMark: string[];
  people: string[];
  now: string[];
  /** Look like a no and are none: not sure, or it was. They win over everything made from the other lists. */
  soft: string[];
  /** To one line asked alone. */
  line: string[][];
}

/** Both languages always: a Spanish no to an English list is a no. */
export const plainNoWords = (): readonly PlainNoWords[] => [en, es];
