import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { CaseSettings } from '../../rules/types.ts';
import { readHistory, readRecord } from '../../server/cases/read-record.ts';
import type { Append, CaseHistory, CaseStore, StoredTurn } from '../../server/cases/store.ts';
import type { Conflict, Waiting } from './messages.ts';

/** One row a turn, its answers in it, as JSON texts: what is read back goes through the same door as a row of the case file. */
interface TurnRow {
  id: string;
  rev: number;
  settings: string;
  answers: { seq: number; body: string }[];
  lastSeq: number;
  key?: string;
  asked?: string;
}
interface Kept extends DBSchema {
  cases: { key: string; value: { id: string; opened: string; audience: string } };
  turns: { key: [string, number]; value: TurnRow; indexes: { key: [string, string] } };
  /** Turns taken here without a network, in the order they were taken. */
  waiting: { key: number; value: Waiting; indexes: { id: string } };
  conflicts: { key: string; value: Conflict };
}
type Db = IDBPDatabase<Kept>;

/** What this device keeps beside the cases: what still has to be sent, and what could not be. */
export interface DeviceStore extends CaseStore {
  /** Holds the very turns the server told. `whole`: whatever was here of this case goes. */
  copy(history: CaseHistory, whole: boolean): Promise<void>;
  /** The newest revision kept here; 0 = this case is not here. */
  rev(id: string): Promise<number>;
  wait(entry: Omit<Waiting, 'n'>): Promise<void>;
  /** Of one case, or of all, in the order taken. */
  waiting(id?: string): Promise<Waiting[]>;
  sent(n: number): Promise<void>;
  /** What waits of this case will never be sent by itself: it is a person's to decide. */
  conflict(conflict: Conflict): Promise<void>;
  conflicts(): Promise<Conflict[]>;
  settled(id: string): Promise<void>;
}

/** The turns of one case after a revision, oldest first. */
const ofCase = (id: string, after = 0) => IDBKeyRange.bound([id, after], [id, Number.POSITIVE_INFINITY], true);

/** Cases in IndexedDB, for when there is no network. */
export function deviceStore(name = 'cold-drum'): DeviceStore {
  let opened: Promise<Db> | undefined;
  const forget = () => {
    opened = undefined;
  };
  const db = () => {
    opened ??= openDB<Kept>(name, 1, {
      upgrade(made) {
        made.createObjectStore('cases', { keyPath: 'id' });
        made.createObjectStore('turns', { keyPath: ['id', 'rev'] }).createIndex('key', ['id', 'key'], { unique: true });
        made.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true }).createIndex('id', 'id');
        made.createObjectStore('conflicts', { keyPath: 'id' });
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
  // An acknowledged answer must outlive a flat battery; the default does not promise that.
  const change = async <N extends 'cases' | 'turns' | 'waiting' | 'conflicts'>(...stores: N[]) =>
    (await db()).transaction(stores, 'readwrite', { durability: 'strict' });

  return {
    async create({ id, opened, audience, rev, settings, answers }) {
      const tx = await change('cases', 'turns');
      await Promise.all([
        tx.objectStore('cases').add({ id, opened, audience }),
        tx.objectStore('turns').add(rowOf(id, { rev, settings, answers }, 0)),
        tx.done,
      ]);
    },

    async get(id, rev = Number.POSITIVE_INFINITY) {
      const tx = (await db()).transaction(['cases', 'turns']);
      const kept = await tx.objectStore('cases').get(id);
      const rows = kept ? await tx.objectStore('turns').getAll(ofCase(id)) : [];
      const turns = rows.filter((t) => t.rev <= rev);
      const last = turns.at(-1);
      if (!kept || !last) return undefined;
      return readRecord({ ...kept, rev: last.rev, settings: last.settings, answers: turns.flatMap((t) => t.answers) });
    },

    async append(id, rev, { answers, settings, turn }: Append) {
      const tx = await change('cases', 'turns');
      const turns = tx.objectStore('turns');
      if (!(await tx.objectStore('cases').get(id))) return 'no-such-case';
      const last = (await turns.openCursor(ofCase(id), 'prev'))?.value;
      const used = turn && (await turns.index('key').getKey([id, turn.key]));
      if (last?.rev !== rev || used) return 'conflict';
      if (answers.some((a, i) => a.seq !== last.lastSeq + 1 + i)) throw new Error('answers must be numbered on');
      await Promise.all([turns.add(rowOf(id, { rev: rev + 1, settings, answers, ...turn }, last.lastSeq)), tx.done]);
      return rev + 1;
    },

    async turn(id, key) {
      const found = await (await db()).getFromIndex('turns', 'key', [id, key]);
      return found && { rev: found.rev, asked: found.asked ?? '' };
    },

    async history(id, after = 0) {
      const tx = (await db()).transaction(['cases', 'turns']);
      const kept = await tx.objectStore('cases').get(id);
      if (!kept) return undefined;
      const turns = await tx.objectStore('turns').getAll(ofCase(id, after));
      return readHistory({
        ...kept,
        turns,
        answers: turns.flatMap(({ rev, answers }) => answers.map((a) => ({ ...a, rev }))),
      });
    },

    async copy({ turns, ...kept }, whole) {
      const tx = await change('cases', 'turns');
      const rows = tx.objectStore('turns');
      if (whole) await rows.delete(ofCase(kept.id));
      let lastSeq = (await rows.openCursor(ofCase(kept.id), 'prev'))?.value.lastSeq ?? 0;
      const puts: Promise<unknown>[] = [tx.objectStore('cases').put(kept)];
      for (const turn of turns) {
        const row = rowOf(kept.id, turn, lastSeq);
        lastSeq = row.lastSeq;
        puts.push(rows.put(row));
      }
      await Promise.all([...puts, tx.done]);
    },

    async rev(id) {
      const tx = (await db()).transaction('turns');
      return (await tx.store.openCursor(ofCase(id), 'prev'))?.value.rev ?? 0;
    },

    async wait(entry) {
      const tx = await change('waiting');
      await Promise.all([tx.objectStore('waiting').add(entry as Waiting), tx.done]);
    },
    async waiting(id) {
      return id === undefined ? (await db()).getAll('waiting') : (await db()).getAllFromIndex('waiting', 'id', id);
    },
    async sent(n) {
      const tx = await change('waiting');
      await Promise.all([tx.objectStore('waiting').delete(n), tx.done]);
    },
    async conflict(conflict) {
      const tx = await change('waiting', 'conflicts');
      const before = await tx.objectStore('conflicts').get(conflict.id);
      const left = await tx.objectStore('waiting').index('id').getAllKeys(conflict.id);
      await Promise.all([
        tx.objectStore('conflicts').put({ ...conflict, unsent: [...(before?.unsent ?? []), ...conflict.unsent] }),
        ...left.map((n) => tx.objectStore('waiting').delete(n)),
        tx.done,
      ]);
    },
    conflicts: async () => (await db()).getAll('conflicts'),
    async settled(id) {
      const tx = await change('conflicts');
      await Promise.all([tx.objectStore('conflicts').delete(id), tx.done]);
    },

    async close() {
      const open = await opened;
      open?.close();
      forget();
    },
  };
}

function rowOf(id: string, { rev, settings, answers, key, asked }: StoredTurn, before: number): TurnRow {
  return {
    id,
    rev,
    settings: JSON.stringify(settings satisfies CaseSettings),
    answers: answers.map((a) => ({ seq: a.seq, body: JSON.stringify(a) })),
    lastSeq: answers.at(-1)?.seq ?? before,
    // A row without a key must not have the property at all, or two such rows would stand for one.
    ...(key !== undefined && { key, asked: asked ?? '' }),
  };
}
