import type { Failure } from './api.ts';
import type { Audience, Line, VerdictWord } from './types.ts';

/** The page's own words. What a check, a part or a reading is called comes from the server. */
export const AUDIENCES: { id: Audience; title: string; more: string }[] = [
  { id: 'homeowner', title: 'It is my dryer', more: 'Look, listen, feel, set. Nothing live is touched.' },
  { id: 'agent', title: 'I take the calls', more: 'Questions to read out while the caller is on the line.' },
  { id: 'technician', title: 'I do the repair', more: 'Readings, bands and the next check worth its minutes.' },
];
export const audienceTitle = (audience: Audience) => AUDIENCES.find((a) => a.id === audience)?.title ?? audience;

/** A shape beside each word, so that a verdict never hangs on colour. */
export const SHAPES: Record<VerdictWord, { shape: string; tone: 'fits' | 'off' | 'doubt' | 'plain' }> = {
  good: { shape: '■', tone: 'fits' },
  low: { shape: '▼', tone: 'off' },
  high: { shape: '▲', tone: 'off' },
  open: { shape: '◇', tone: 'off' },
  closed: { shape: '◆', tone: 'off' },
  'close call': { shape: '◧', tone: 'doubt' },
  floating: { shape: '≋', tone: 'doubt' },
  'ask again': { shape: '?', tone: 'doubt' },
  noted: { shape: '–', tone: 'plain' },
};

export function troubleWords(failure: Failure): string {
  switch (failure.is) {
    case 'offline':
      return 'No connection. Nothing was sent, and what you wrote is still here. Try again when you are back online.';
    case 'stale':
      return 'This case was changed somewhere else. This is how it stands now. What you wrote is still in the field; send it again if it still holds.';
    case 'gone':
      return 'There is no such case here. It may have been opened on another machine.';
    case 'not-kept':
      return 'No network, and this case is not on this device yet. Open it once with a network; from then on it is here.';
    case 'busy':
      return 'Too much at once. Wait a minute, then try again. What you wrote is still here.';
    case 'refused':
      return failure.message ?? 'That could not be taken as it stands. Say it another way.';
  }
}

/** A line nobody could answer says so in a word. */
const UNANSWERED: Partial<Record<Line['act'], string>> = { unsure: 'Not sure', declined: 'Cannot say', later: 'Later' };
export const shownOf = ({ act, shown }: Line) => UNANSWERED[act] ?? shown;

export const BACK_ONLINE = 'The connection is back. What you entered has not been sent yet.';

/** A share as a count a person can picture. */
export function shareWords(share: number): string {
  if (share >= 0.95) return 'nearly certain';
  if (share < 0.05) return 'less than 1 in 20';
  const tenths = Math.round(share * 10);
  return tenths === 0 ? 'about 1 in 20' : tenths === 10 ? 'more than 9 in 10' : `about ${tenths} in 10`;
}

/** Labels are written to stand inside a sentence; here they start a line. */
export const sentence = (label: string) => label.charAt(0).toUpperCase() + label.slice(1);
export const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;
export const minutes = (min: number) => (min < 1 ? 'under a minute' : `about ${Math.round(min)} min`);
