import type { CaseSettings } from '../../rules/types.ts';
import { readHistory, readRecord } from '../../server/cases/read-record.ts';
import type { Append, CaseHistory, CaseStore, StoredTurn } from '../../server/cases/store.ts';
import type { CaseRecord } from '../../server/types.ts';
import { ofCase, type Tables, type TurnRow, tablesOf } from './tables.ts';
import { type WaitingStore, waitingIn } from './what-waits.ts';

/** Cases on this device, and what it keeps beside them. */
export interface DeviceStore extends CaseStore, WaitingStore {
  /** Holds the very turns the server told. `whole`: whatever was here of this case goes. */
  copy(history: CaseHistory, whole: boolean): Promise<void>;
  /** The newest revision kept here; 0 = this case is not here. */
  rev(id: string): Promise<number>;
}

/** Cases in IndexedDB, for when there is no network. */
export function deviceStore(name = 'cold-drum'): DeviceStore {
  const tables = tablesOf(name);
  return {
    create: (record) => create(tables, record),
    get: (id, rev) => get(tables, id, rev),
    append: (id, rev, added) => append(tables, id, rev, added),
    async turn(id, key) {
      const found = await (await tables.open()).getFromIndex('turns', 'key', [id, key]);
      return found && { rev: found.rev, asked: found.asked ?? '' };
    },
    history: (id, after) => history(tables, id, after),
    copy: (told, whole) => copy(tables, told, whole),
    async rev(id) {
      const tx = (await tables.open()).transaction('turns');
      return (await tx.store.openCursor(ofCase(id), 'prev'))?.value.rev ?? 0;
    },
    close: tables.close,
    ...waitingIn(tables),
  };
}

async function create(tables: Tables, { id, opened, audience, rev, settings, answers }: CaseRecord): Promise<void> {
  const tx = await tables.change('cases', 'turns');
  await Promise.all([
    tx.objectStore('cases').add({ id, opened, audience }),
    tx.objectStore('turns').add(rowOf(id, { rev, settings, answers }, 0)),
    tx.done,
  ]);
}

async function get(tables: Tables, id: string, rev = Number.POSITIVE_INFINITY): Promise<CaseRecord | undefined> {
  const tx = (await tables.open()).transaction(['cases', 'turns']);
  const kept = await tx.objectStore('cases').get(id);
  const rows = kept ? await tx.objectStore('turns').getAll(ofCase(id)) : [];
  const turns = rows.filter((t) => t.rev <= rev);
  const last = turns.at(-1);
  if (!kept || !last) return undefined;
  return readRecord({ ...kept, rev: last.rev, settings: last.settings, answers: turns.flatMap((t) => t.answers) });
}

async function append(
  tables: Tables,
  id: string,
  rev: number,
  { answers, settings, turn }: Append,
): Promise<number | 'conflict' | 'no-such-case'> {
  const tx = await tables.change('cases', 'turns');
  const turns = tx.objectStore('turns');
  if (!(await tx.objectStore('cases').get(id))) return 'no-such-case';
  const last = (await turns.openCursor(ofCase(id), 'prev'))?.value;
  const used = turn && (await turns.index('key').getKey([id, turn.key]));
  if (last?.rev !== rev || used) return 'conflict';
  if (answers.some((a, i) => a.seq !== last.lastSeq + 1 + i)) throw new Error('answers must be numbered on');
  await Promise.all([turns.add(rowOf(id, { rev: rev + 1, settings, answers, ...turn }, last.lastSeq)), tx.done]);
  return rev + 1;
}

async function history(tables: Tables, id: string, after = 0): Promise<CaseHistory | undefined> {
  const tx = (await tables.open()).transaction(['cases', 'turns']);
  const kept = await tx.objectStore('cases').get(id);
  if (!kept) return undefined;
  const turns = await tx.objectStore('turns').getAll(ofCase(id, after));
  return readHistory({
    ...kept,
    turns,
    answers: turns.flatMap(({ rev, answers }) => answers.map((a) => ({ ...a, rev }))),
  });
}

async function copy(tables: Tables, { turns, ...kept }: CaseHistory, whole: boolean): Promise<void> {
  const tx = await tables.change('cases', 'turns');
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
