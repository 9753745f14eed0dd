import type { Conflict, Waiting } from './messages.ts';
import type { Tables } from './tables.ts';

/** What still has to be sent, and what could not be. */
export interface WaitingStore {
  wait(entry: Omit<Waiting, 'n'>): Promise<void>;
  /** Of one case, or of all, in the order taken. */
  waiting(id?: string): Promise<Waiting[]>;
  sent(n: number): Promise<void>;
  /** What waits of this case will never be sent by itself: it is a person's to decide. */
  conflict(conflict: Conflict): Promise<void>;
  conflicts(): Promise<Conflict[]>;
  settled(id: string): Promise<void>;
}

export const waitingIn = (tables: Tables): WaitingStore => ({
  async wait(entry) {
    const tx = await tables.change('waiting');
    await Promise.all([tx.objectStore('waiting').add(entry as Waiting), tx.done]);
  },
  async waiting(id) {
    const db = await tables.open();
    return id === undefined ? db.getAll('waiting') : db.getAllFromIndex('waiting', 'id', id);
  },
  async sent(n) {
    const tx = await tables.change('waiting');
    await Promise.all([tx.objectStore('waiting').delete(n), tx.done]);
  },
  async conflict(conflict) {
    const tx = await tables.change('waiting', 'conflicts');
    const before = await tx.objectStore('conflicts').get(conflict.id);
    const left = await tx.objectStore('waiting').index('id').getAllKeys(conflict.id);
    await Promise.all([
      tx.objectStore('conflicts').put({ ...conflict, unsent: [...(before?.unsent ?? []), ...conflict.unsent] }),
      ...left.map((n) => tx.objectStore('waiting').delete(n)),
      tx.done,
    ]);
  },
  conflicts: async () => (await tables.open()).getAll('conflicts'),
  async settled(id) {
    const tx = await tables.change('conflicts');
    await Promise.all([tx.objectStore('conflicts').delete(id), tx.done]);
  },
});
