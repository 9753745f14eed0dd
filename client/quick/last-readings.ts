import type { QuickReading } from '../../server/conversation-port.ts';
import { SHAPES } from '../words.ts';

/** What is kept of a judged reading on this device. */
export type LastReading = Pick<QuickReading, 'label' | 'shown' | 'verdict' | 'verdictWords'> & { expectedShown: string };

const MOST_KEPT = 10;

export const areLastReadings = (value: unknown): value is LastReading[] =>
  Array.isArray(value) &&
  value.every(
    (reading) => typeof reading?.label === 'string' && typeof reading?.shown === 'string' && reading?.verdict in SHAPES,
  );

/** The newest first, and no more than are worth looking at. */
export function withNewest(
  { label, shown, verdict, verdictWords, expectedShown = '' }: QuickReading,
  last: readonly LastReading[],
): LastReading[] {
  return [{ label, shown, verdict, verdictWords, expectedShown }, ...last].slice(0, MOST_KEPT);
}
