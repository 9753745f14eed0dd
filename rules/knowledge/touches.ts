/**
 * What doing a thing operates: one vocabulary for checks, for the sentences of a stop, for what a stop suppresses and what a rule
 * silences. Taking power away and giving or using it are two kinds of act: after a danger the first may be asked, the second not.
 * `power`: what the act does with it; absent = nothing.
 */
export const TOUCHES = {
  'touch-machine': { means: 'a hand is on the dryer' },
  'stay-near': { means: 'somebody stays by it' },
  switch: { means: 'a dial, a button or a switch of the dryer is moved' },
  panel: { means: 'a hand goes to the breaker panel' },
  'breaker-off': { power: 'takes', means: 'its breaker is switched off' },
  'breaker-on': { power: 'gives', means: 'its breaker, or another protective device, is closed' },
  'plug-out': { power: 'takes', means: 'its plug is pulled' },
  'plug-in': { power: 'gives', means: 'its plug goes in' },
  run: { power: 'uses', means: 'start is pressed, or it runs' },
  live: { power: 'uses', means: 'power is on while it is done: a meter on live parts, a lamp, a display' },
  'phone-here': { means: 'a phone is used on the spot' },
  flame: { means: 'a flame or a spark' },
} as const satisfies Record<string, { power?: 'takes' | 'gives' | 'uses'; means: string }>;

export type Touch = keyof typeof TOUCHES;

const POWERED = new Set<string>(Object.entries(TOUCHES).flatMap(([id, t]) => ('power' in t && t.power !== 'takes' ? [id] : [])));
/** Does any of these give the dryer power, or use its power? */
export const usesPower = (touches: readonly string[]): boolean => touches.some((t) => POWERED.has(t));
