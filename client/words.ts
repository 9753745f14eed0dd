import type { Failure } from './api.ts';
import type { MarkName } from './marks.ts';
import { type WordId, word } from './say.ts';
import type { Audience, Line, VerdictWord } from './types.ts';

/** The page's own words, put together. What a check, a part or a reading is called comes from the server. */
export const AUDIENCES: readonly Audience[] = ['homeowner', 'agent', 'technician'];
export const audienceTitle = (audience: Audience) => word(`who-${audience}`);
export const audienceMore = (audience: Audience) => word(`who-${audience}-more`);

/** A shape beside each word, so that a verdict never hangs on colour. */
export const SHAPES: Record<VerdictWord, { shape: MarkName; tone: 'fits' | 'off' | 'doubt' | 'plain' }> = {
  good: { shape: 'square', tone: 'fits' },
  low: { shape: 'down', tone: 'off' },
  high: { shape: 'up', tone: 'off' },
  open: { shape: 'hollow', tone: 'off' },
  closed: { shape: 'diamond', tone: 'off' },
  'close call': { shape: 'half', tone: 'doubt' },
  floating: { shape: 'waves', tone: 'doubt' },
  burning: { shape: 'flame', tone: 'off' },
  'needs a temperature': { shape: 'ring', tone: 'doubt' },
  'ask again': { shape: 'asks', tone: 'doubt' },
  noted: { shape: 'dash', tone: 'plain' },
};

export const troubleWords = (failure: Failure): string =>
  (failure.is === 'refused' && failure.message) || word(`trouble-${failure.is}`);

/** A line nobody could answer says so in a word. */
const UNANSWERED: Partial<Record<Line['act'], WordId>> = { unsure: 'not-sure', declined: 'cannot-say', later: 'later' };
export const shownOf = ({ act, shown }: Line): string => {
  const id = UNANSWERED[act];
  return id ? word(id) : shown;
};

/** A share as a count a person can picture. */
export function shareWords(share: number): string {
  if (share >= 0.95) return word('share-certain');
  if (share < 0.05) return word('share-least');
  const tenths = Math.round(share * 10);
  return tenths === 0 ? word('share-little') : tenths === 10 ? word('share-most') : word('share-tenths', { n: tenths });
}

/** Labels are written to stand inside a sentence; here they start a line. */
export const sentence = (label: string) => label.charAt(0).toUpperCase() + label.slice(1);
export const count = (n: number, one: WordId, many: WordId) => word(n === 1 ? one : many, { n });
export const minutes = (min: number) => (min < 1 ? word('under-a-minute') : word('about-minutes', { n: Math.round(min) }));
