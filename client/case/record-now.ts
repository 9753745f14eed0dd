import type { CaseView, Part, Reply } from '../../server/types.ts';
import type { Line } from '../types.ts';
import { shownOf } from '../words.ts';

/** What of a case is in its record now. */
export interface RecordNow {
  stops: Part[];
  /** Every answer still standing, as it is shown. */
  lines: Line[];
  outcome: Part[];
  /** Each once. */
  cautions: string[];
  /** What is asked, in words. */
  asked: Part[];
  /** The same question stays the same form, with what is half typed in it, while something else is talked about. Empty = none is open. */
  askKey: string;
  /** Number of the line that is asked once more; 0 = it no longer stands. */
  againOf?: number;
}

/** @param said what the case came to, as it was told last; while a stop stands only this reply's own outcome counts */
export function recordNow(reply: Reply, view: CaseView, said: Part[]): RecordNow {
  const { ask, parts } = reply;
  const of = (...kinds: Part['kind'][]) => parts.filter((part) => kinds.includes(part.kind));
  const stops = of('stop');
  const lines = view.answers.map((line) => ({ ...line, shown: shownOf(line) }));
  return {
    stops,
    lines,
    outcome: stops.length > 0 ? of('conclude', 'refer') : said,
    cautions: [...new Set([...of('caution').map((part) => part.text), ...(ask?.cautions ?? [])])],
    asked: of('ask'),
    askKey: ask ? [ask.check, ask.of, ...ask.reads.map((read) => read.fact), ask.choices.length].join('/') : '',
    ...(ask?.of !== undefined && { againOf: lines.findIndex((line) => line.seq === ask.of) + 1 }),
  };
}
