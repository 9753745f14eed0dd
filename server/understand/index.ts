/** The only door of this folder. */
export { understand } from './understand.ts';
