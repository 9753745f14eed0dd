import type { Migration } from 'kysely';

/** Text, integers and composite keys only, so that another SQL database could take them as they are. A row is never updated. */
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
};
