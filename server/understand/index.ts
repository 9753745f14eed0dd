/** The only door of this folder. */
export { checkLexicon, LexiconError } from './check-lexicon.ts';
export { ANY, type HeardInStop, heardInStop, NEXT } from './in-stop.ts';
export { lexiconOf } from './lexicon.ts';
export { understand } from './understand.ts';
