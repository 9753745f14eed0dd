import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from 'idb';
import { answerText } from '../../server/cases/flat-answers.ts';
import type { Conflict, Waiting } from './messages.ts';

/** One row a turn, its answers in it, as JSON texts: what is read back goes through the same door as a row of the case file. */
export interface TurnRow {
  id: string;
  rev: number;
  settings: string;
  answers: { seq: number; body: string }[];
  lastSeq: number;
  key?: string;
  asked?: string;
}
export interface Kept extends DBSchema {
  cases: { key: string; value: { id: string; opened: string; audience: string } };
  turns: { key: [string, number]; value: TurnRow; indexes: { key: [string, string] } };
  /** Turns taken here without a network, in the order they were taken. */
  waiting: { key: number; value: Waiting; indexes: { id: string } };
  conflicts: { key: string; value: Conflict };
}
type Name = 'cases' | 'turns' | 'waiting' | 'conflicts';

/** The tables of this device, opened when they are first asked for. */
export interface Tables {
  open(): Promise<IDBPDatabase<Kept>>;
  /** A change that, once it is done, outlives a flat battery: an acknowledged answer must, and the default does not promise it. */
  change<N extends Name>(...names: N[]): Promise<IDBPTransaction<Kept, N[], 'readwrite'>>;
  close(): Promise<void>;
}

const VERSION = 2;

export function tablesOf(name: string): Tables {
  let opened: Promise<IDBPDatabase<Kept>> | undefined;
  const forget = () => {
    opened = undefined;
  };
  const open = () => {
    opened ??= openDB<Kept>(name, VERSION, {
      upgrade: async (made, from, _, tx) => {
        if (from < 1) make(made);
        else if (from < 2) await reshape(tx);
      },
      // A later version of this program wants to change the tables: give way, and open anew when asked again.
      blocking: (_, __, event) => {
        (event.target as IDBDatabase).close();
        forget();
      },
      terminated: forget,
    }).catch((e) => {
      forget();
      throw e;
    });
    return opened;
  };
  return {
    open,
    change: async (...names) => (await open()).transaction(names, 'readwrite', { durability: 'strict' }),
    async close() {
      (await opened)?.close();
      forget();
    },
  };
}

function make(db: IDBPDatabase<Kept>): void {
  db.createObjectStore('cases', { keyPath: 'id' });
  db.createObjectStore('turns', { keyPath: ['id', 'rev'] }).createIndex('key', ['id', 'key'], { unique: true });
  db.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true }).createIndex('id', 'id');
  db.createObjectStore('conflicts', { keyPath: 'id' });
}

/** Version 2: answers in the shapes of `rules/engine/answer.ts`, as the case file has them since its step 002. */
async function reshape(tx: IDBPTransaction<Kept, Name[], 'versionchange'>): Promise<void> {
  for (let at = await tx.objectStore('turns').openCursor(); at; at = await at.continue()) {
    const answers = at.value.answers.map(({ seq, body }) => ({ seq, body: answerText(body) }));
    if (answers.some(({ body }, i) => body !== at?.value.answers[i]?.body)) await at.update({ ...at.value, answers });
  }
}

/** The turns of one case after a revision, oldest first. */
export const ofCase = (id: string, after = 0) => IDBKeyRange.bound([id, after], [id, Number.POSITIVE_INFINITY], true);
