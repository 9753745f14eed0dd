import type { AnswerInput } from '../../server/conversation-port.ts';

/** What worker and page tell each other. */

/** A turn taken on this device without a network. */
export interface Waiting {
  /** Counted up: the order in which it has to be sent. */
  n: number;
  /** The case. */
  id: string;
  method: string;
  path: string;
  body: object;
  unsent: Unsent;
}
/** The same as a person can read it, and what could be entered again by hand. */
export interface Unsent {
  lines: { label: string; shown: string; said: string }[];
  /** Words or an answer can be entered on top of something else; taking back and changing cannot: what they were about may be gone. */
  again?: { text: string } | { answer: AnswerInput };
}
/** A case that was added to elsewhere while this device had no network. Nothing of it is merged without a person. */
export interface Conflict {
  id: string;
  /** The server's own word for why the first of them was not taken. */
  why: string;
  unsent: Unsent[];
}

/** From the worker to every page. */
export interface DeviceState {
  is: 'device';
  /** Whether the last thing asked of the server got through. */
  network: boolean;
  /** Turns that wait, by case. */
  waiting: Record<string, number>;
  conflicts: Conflict[];
  /** Cases that were sent up just now: the server's own reply to them stands from here on. */
  sent: string[];
}
/** From a page to the worker. */
export type ToWorker =
  | { ask: 'state' }
  /** The network may be back. */
  | { ask: 'send' }
  /** A case this page shows: hold a copy of it. */
  | { ask: 'keep'; id: string }
  /** A person has decided about this case's conflict. */
  | { ask: 'settled'; id: string };
