import type { Kysely, Migration } from 'kysely';
import { answerText } from './flat-answers.ts';

interface WithAnswers {
  answers: { case_id: string; seq: number; body: string };
}

/** Text, integers and composite keys only, so that another SQL database could take them as they are. Once written a row is never updated, but by the step that gives it another shape. */
export const migrations: Record<string, Migration> = {
  '001-cases': {
    async up(db) {
      await db.schema
        .createTable('cases')
        .addColumn('id', 'text', (c) => c.primaryKey().notNull())
        .addColumn('opened', 'text', (c) => c.notNull())
        .addColumn('audience', 'text', (c) => c.notNull())
        .execute();
      await db.schema
        .createTable('turns')
        .addColumn('case_id', 'text', (c) => c.notNull().references('cases.id'))
        .addColumn('rev', 'integer', (c) => c.notNull())
        .addColumn('settings', 'text', (c) => c.notNull())
        .addColumn('turn_key', 'text')
        .addColumn('asked', 'text')
        .addPrimaryKeyConstraint('turns_pk', ['case_id', 'rev'])
        .addUniqueConstraint('turns_key', ['case_id', 'turn_key'])
        .execute();
      await db.schema
        .createTable('answers')
        .addColumn('case_id', 'text', (c) => c.notNull().references('cases.id'))
        .addColumn('seq', 'integer', (c) => c.notNull())
        .addColumn('rev', 'integer', (c) => c.notNull())
        .addColumn('body', 'text', (c) => c.notNull())
        .addPrimaryKeyConstraint('answers_pk', ['case_id', 'seq'])
        .execute();
    },
    async down(db) {
      for (const table of ['answers', 'turns', 'cases']) await db.schema.dropTable(table).execute();
    },
  },
  /** Answers in the shapes of `rules/engine/answer.ts`. */
  '002-answers': {
    async up(db: Kysely<WithAnswers>) {
      for (let after = { case_id: '', seq: 0 }; ; ) {
        const rows = await nextRows(db, after);
        const last = rows.at(-1);
        if (!last) return;
        for (const { case_id, seq, body } of rows) {
          const now = answerText(body);
          if (now === body) continue;
          await db.updateTable('answers').set({ body: now }).where('case_id', '=', case_id).where('seq', '=', seq).execute();
        }
        after = last;
      }
    },
  },
};

/** Rows read at once: a case file may be larger than memory. */
const AT_ONCE = 500;
const nextRows = (db: Kysely<WithAnswers>, after: { case_id: string; seq: number }) =>
  db
    .selectFrom('answers')
    .selectAll()
    .where((eb) =>
      eb.or([eb('case_id', '>', after.case_id), eb.and([eb('case_id', '=', after.case_id), eb('seq', '>', after.seq)])]),
    )
    .orderBy('case_id')
    .orderBy('seq')
    .limit(AT_ONCE)
    .execute();
