import type { Context } from 'hono';
import type { CaseStore } from './cases/store.ts';
import type { Conversation } from './conversation-port.ts';

export interface RequestEntry {
  id: string;
  method: string;
  /** Case ids shortened. */
  path: string;
  status: number;
  ms: number;
}
/** Where the app reports to. Neither call is ever given what a person typed. */
export interface Log {
  request(entry: RequestEntry): void;
  unexpected(error: unknown, where: Pick<RequestEntry, 'id' | 'method' | 'path'>): void;
}
/** Invented conversations anyone can read. */
export interface Demos {
  list(): Promise<{ name: string; title: string }[]>;
  read(name: string): Promise<{ name: string; title: string; transcript: unknown } | undefined>;
}

/** All the app needs from outside. It has no clock, no randomness and no files of its own, so it runs in Node and in a worker alike. */
export interface Deps {
  conversation: Conversation;
  store: CaseStore;
  demos: Demos;
  now(): Date;
  /** Unguessable: at least 128 bits as base64url. */
  newId(): string;
  log: Log;
  /** Who is asking, for the rate limit. */
  clientKey(c: Context): string;
  /** Requests a minute and client; 0 = no limit. */
  perMinute: number;
  /** Told in /api/health: a page wants to know whether it talks to the server or to its own offline worker. */
  by: 'server' | 'worker';
}
export interface AppEnv {
  Variables: { requestId: string };
}
