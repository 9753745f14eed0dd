/** Invented cases in words, for what a page shows deep in a talk. */
export const ASKED_FUEL = ['the drum turns and the air is cold', 'none'];

/** A technician before a dial machine that stays cold, about to read the block. */
export const AT_BLOCK = [
  'house 3, turns but no heat',
  'none',
  'electric, with a hose to the outside',
  'none',
  'a four prong outlet',
  'dial',
  'one',
  'yes',
  '120/240 v',
  'never warm',
  'high or normal',
  'sits firm',
  'all at once',
  'has not moved',
  'as always',
  'no',
  'nothing',
  'clean',
  'still no heat',
  'cold',
  'strong',
];
/** Both legs are there, with heat on too: the string is next, from the coil. */
export const AT_COIL = [...AT_BLOCK, '240.9 V, 120.7 V, 120.2 V', '240.6 V, 120.1 V, 120.5 V'];
/** The coil is sound and the cut-off is open. */
export const CUT_OFF_OPEN = [...AT_COIL, '10.6 ohm', 'limit 0.2 ohm, cut-off OL'];
export const GAS = ['the drum turns and the air is cold', 'I can smell gas'];
