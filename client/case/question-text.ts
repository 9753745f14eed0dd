import type { Ask } from '../../server/types.ts';
import { word } from '../say.ts';
import { minutes } from '../words.ts';

const LONGEST_HEADING = 120;

/** What is asked for a heading, how it is done for below: the first paragraph, or its first sentence where it is long. */
export function headAndRest(text: string): [head: string, rest: string] {
  const [paragraph = '', ...more] = text.trim().split(/\n{2,}/);
  const sentence = paragraph.length > LONGEST_HEADING ? /^(.{12,}?[.?!])\s+(\S[\s\S]*)$/.exec(paragraph) : null;
  return sentence ? [sentence[1]!, [sentence[2]!, ...more].join('\n\n')] : [paragraph, more.join('\n\n')];
}

/** Takes the list of readings off the end of a question; its lines stand at the fields instead. */
export function withoutReads(text: string, labels: string[]): { text: string; hints: Record<string, string> } {
  const hints: Record<string, string> = {};
  const left = text.split('\n').filter((line) => {
    const label = labels.find((l) => line.startsWith(`- ${l}: `));
    if (label === undefined) return true;
    hints[label] = line.slice(label.length + 4);
    return false;
  });
  return { text: left.join('\n').trim(), hints };
}

/** A question as it is set out: its heading, how it is done, what each reading says of itself, and what has to be done for it. */
export interface QuestionText {
  head: string;
  rest: string;
  /** Label of a reading -> where the leads go and what a good one shows. */
  hints: Record<string, string>;
  /** How long it takes, in which state, and what comes off. */
  doing: string[];
}
export function questionText(ask: Pick<Ask, 'text' | 'reads' | 'min' | 'stateWords' | 'covers'>): QuestionText {
  const { text, hints } = withoutReads(
    ask.text,
    ask.reads.map((read) => read.label),
  );
  const [head, rest] = headAndRest(text);
  // What the question says itself is not said a second time above it.
  const says = (words: string) => ask.text.toLowerCase().includes(words.toLowerCase());
  const covers = ask.covers.filter((cover) => !says(cover));
  const doing = [
    ask.min > 0 ? minutes(ask.min) : '',
    says(ask.stateWords) ? '' : ask.stateWords,
    covers.length > 0 ? word('off-covers', { covers: covers.join(', ') }) : '',
  ];
  return { head, rest, hints, doing: doing.filter(Boolean) };
}
