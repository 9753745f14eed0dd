import type { Shelf } from '../shelf.ts';

/** What no single item can tell. One sentence a problem: file, item, field, what would be right. */
export type Law = (shelf: Shelf) => string[];
