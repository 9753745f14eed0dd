/** The only door of this folder. */
export { lexiconOf } from './lexicon.ts';
export { understand } from './understand.ts';
