import { usesPower } from './touches.ts';
import type { Check, Cover } from './types.ts';

/** Levels from here on are live readings: the one thing that is done with power on and a cover off. */
const LIVE_LEVEL = 4;

/**
 * Must this cover be on while the check is done? One that takes no power needs none; one that does needs them all,
 * but for a live reading, which keeps its guards and its drum.
 */
export function mustBeOn(cover: Cover, check: Pick<Check, 'level' | 'touches'>): boolean {
  if (!cover.shutToRun || !usesPower(check.touches)) return false;
  return cover.shutToRun === 'always' || check.level < LIVE_LEVEL;
}
