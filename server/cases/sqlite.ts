import { Kysely, Migrator, SqliteAdapter, SqliteDialect } from 'kysely';
import type { Answer } from '../../rules/types.ts';
import type { CaseRecord } from '../types.ts';
import { migrations } from './migrations.ts';
import { readHistory, readRecord } from './read-record.ts';
import { openFile, UnusableFile } from './sqlite-file.ts';
import type { Append, CaseHistory, CaseStore } from './store.ts';

export interface Tables {
  cases: { id: string; opened: string; audience: string };
  turns: { case_id: string; rev: number; settings: string; turn_key: string | null; asked: string | null };
  answers: { case_id: string; seq: number; rev: number; body: string };
}

/** SQLite can roll back table changes; the stock adapter says no, so a migration failing half way would leave half behind. */
class TransactionalSqlite extends SqliteDialect {
  override createAdapter() {
    return new (class extends SqliteAdapter {
      override get supportsTransactionalDdl() {
        return true;
      }
    })();
  }
}

/** @throws the migration's own error, with nothing of it left behind */
export async function migrate(db: Kysely<Tables>, list = migrations): Promise<void> {
  const { error } = await new Migrator({ db, provider: { getMigrations: async () => list } }).migrateToLatest();
  if (error) throw error;
}

/** @throws UnusableFile if the file is damaged, foreign, not writable or made by a later version */
export async function openDatabase(file: string): Promise<Kysely<Tables>> {
  const db = new Kysely<Tables>({ dialect: new TransactionalSqlite({ database: openFile(file) }) });
  try {
    await migrate(db);
    return db;
  } catch (e) {
    await db.destroy();
    const why = e instanceof Error ? e.message : String(e);
    throw new UnusableFile(
      `The tables of the case file ${file} could not be brought up to date (${why}). ` +
        'Nothing was changed. If a later version of Cold Drum wrote it, start that version, or set COLD_DRUM_DATA to another folder.',
    );
  }
}

const isTaken = (e: unknown) => /^SQLITE_CONSTRAINT_(PRIMARYKEY|UNIQUE)$/.test(String((e as { code?: unknown }).code));

type Cases = Kysely<Tables>;

/** Cases in one SQLite file: WAL with synchronous FULL, so an answer that was acknowledged is on the disk. */
export async function sqliteStore(file: string): Promise<CaseStore> {
  const db = await openDatabase(file);
  return {
    create: (record) => db.transaction().execute((tx) => create(tx, record)),
    get: (id, rev) => db.transaction().execute((tx) => get(tx, id, rev)),
    async append(id, rev, added) {
      try {
        return await db.transaction().execute((tx) => append(tx, id, rev, added));
      } catch (e) {
        if (isTaken(e)) return 'conflict';
        throw e;
      }
    },
    async turn(id, key) {
      const turns = db.selectFrom('turns').select(['rev', 'asked']);
      const found = await turns.where('case_id', '=', id).where('turn_key', '=', key).executeTakeFirst();
      return found && { rev: found.rev, asked: found.asked ?? '' };
    },
    history: (id, after) => db.transaction().execute((tx) => history(tx, id, after)),
    close: () => db.destroy(),
  };
}

async function create(tx: Cases, { id, opened, audience, rev, settings, answers }: CaseRecord): Promise<void> {
  await tx.insertInto('cases').values({ id, opened, audience }).execute();
  const turn = { case_id: id, rev, settings: JSON.stringify(settings), turn_key: null, asked: null };
  await tx.insertInto('turns').values(turn).execute();
  await addAnswers(tx, id, rev, answers);
}

async function get(tx: Cases, id: string, rev = Number.MAX_SAFE_INTEGER): Promise<CaseRecord | undefined> {
  const turn = await tx
    .selectFrom('turns')
    .innerJoin('cases', 'cases.id', 'turns.case_id')
    .select(['cases.opened', 'cases.audience', 'turns.rev', 'turns.settings'])
    .where('case_id', '=', id)
    .where('rev', '<=', rev)
    .orderBy('rev', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (!turn) return undefined;
  const answers = await tx
    .selectFrom('answers')
    .select(['seq', 'body'])
    .where('case_id', '=', id)
    .where('rev', '<=', rev)
    .orderBy('seq')
    .execute();
  return readRecord({ id, ...turn, answers });
}

async function append(tx: Cases, id: string, rev: number, added: Append): Promise<number | 'conflict' | 'no-such-case'> {
  if (!(await addTurn(tx, id, rev, added))) {
    const known = await tx.selectFrom('cases').select('id').where('id', '=', id).executeTakeFirst();
    return known ? 'conflict' : 'no-such-case';
  }
  await addAnswers(tx, id, rev + 1, added.answers);
  return rev + 1;
}

/**
 * Test and insert in one statement: it takes the write lock first, so no other process can slip in between.
 * @returns whether `rev` was the newest revision of a case that is there
 */
async function addTurn(tx: Cases, id: string, rev: number, { settings, turn }: Append): Promise<boolean> {
  const { numInsertedOrUpdatedRows } = await tx
    .insertInto('turns')
    .columns(['case_id', 'rev', 'settings', 'turn_key', 'asked'])
    .expression((eb) =>
      eb
        .selectFrom('cases')
        .select((s) => [
          'id as case_id',
          s.val(rev + 1).as('rev'),
          s.val(JSON.stringify(settings)).as('settings'),
          s.val(turn?.key ?? null).as('turn_key'),
          s.val(turn?.asked ?? null).as('asked'),
        ])
        .where('id', '=', id)
        .where((w) => w(w.selectFrom('turns').select(w.fn.max('rev').as('rev')).where('case_id', '=', id), '=', rev)),
    )
    .executeTakeFirstOrThrow();
  return numInsertedOrUpdatedRows === 1n;
}

/** @throws where they are not numbered on from the last one stored */
async function addAnswers(tx: Cases, id: string, rev: number, answers: readonly Answer[]): Promise<void> {
  if (answers.length === 0) return;
  const last = await tx
    .selectFrom('answers')
    .select((s) => s.fn.max('seq').as('seq'))
    .where('case_id', '=', id)
    .executeTakeFirst();
  if (answers.some((a, i) => a.seq !== (last?.seq ?? 0) + 1 + i)) throw new Error('answers must be numbered on');
  const rows = answers.map((a) => ({ case_id: id, seq: a.seq, rev, body: JSON.stringify(a) }));
  await tx.insertInto('answers').values(rows).execute();
}

async function history(tx: Cases, id: string, after = 0): Promise<CaseHistory | undefined> {
  const kept = await tx.selectFrom('cases').select(['id', 'opened', 'audience']).where('id', '=', id).executeTakeFirst();
  if (!kept) return undefined;
  const turns = await tx
    .selectFrom('turns')
    .select(['rev', 'settings', 'turn_key as key', 'asked'])
    .where('case_id', '=', id)
    .where('rev', '>', after)
    .orderBy('rev')
    .execute();
  const answers = await tx
    .selectFrom('answers')
    .select(['seq', 'rev', 'body'])
    .where('case_id', '=', id)
    .where('rev', '>', after)
    .orderBy('seq')
    .execute();
  return readHistory({ ...kept, turns, answers });
}
