import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Kysely } from 'kysely';
import { afterAll, describe, expect, test } from 'vitest';
import { migrations } from '../../../server/cases/migrations.ts';
import { migrate, openDatabase, sqliteStore } from '../../../server/cases/sqlite.ts';
import { UnusableFile } from '../../../server/cases/sqlite-file.ts';
import { UnreadableCase } from '../../../server/cases/store.ts';
import { answer, record, storeContract } from './contract.ts';

const folder = mkdtempSync(join(tmpdir(), 'cold-drum-store-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (...names: string[]) => join(folder, ...names);
const digest = (dir: string) =>
  Object.fromEntries(
    readdirSync(dir).map((f) => [
      f,
      createHash('sha256')
        .update(readFileSync(join(dir, f)))
        .digest('hex'),
    ]),
  );

const ofContract = () => sqliteStore(at('contract', 'deep', 'cases.sqlite'));
storeContract('SQLite', ofContract, async (store) => {
  await store.close();
  return ofContract();
});

describe('the case file', () => {
  test('every commit goes to the disk: WAL with synchronous FULL', async () => {
    const db = await openDatabase(at('pragmas.sqlite'));
    const pragma = async (name: string) => {
      const { sql } = await import('kysely');
      return Object.values((await sql.raw<Record<string, unknown>>(`pragma ${name}`).execute(db)).rows[0] ?? {})[0];
    };
    expect([await pragma('journal_mode'), await pragma('synchronous'), await pragma('foreign_keys')]).toEqual(['wal', 2, 1]);
    await db.destroy();
  });

  test('two programs on one file see each other’s answers, and the second append to one revision is a conflict', async () => {
    const [one, two] = [await sqliteStore(at('two.sqlite')), await sqliteStore(at('two.sqlite'))];
    await one.create(record('a'));
    expect(await two.get('a')).toEqual(record('a'));
    const append = { answers: [answer(2)], settings: {} };
    expect([await one.append('a', 1, append), await two.append('a', 1, append)]).toEqual([2, 'conflict']);
    expect((await two.get('a'))?.answers).toEqual([answer(1), answer(2)]);
    await one.close();
    await two.close();
  });

  test('a row nobody can read spoils its own case only, and the error does not quote it', async () => {
    const store = await sqliteStore(at('row.sqlite'));
    for (const id of ['cut', 'odd', 'renumbered', 'fine']) await store.create(record(id));
    const raw = new Database(at('row.sqlite'));
    raw.prepare(`update answers set body = 'secret words {' where case_id = 'cut'`).run();
    raw
      .prepare(`update answers set body = json_set(body, '$.act', 'shout', '$.said', 'secret words') where case_id = 'odd'`)
      .run();
    raw.prepare(`update answers set body = json_set(body, '$.seq', 7) where case_id = 'renumbered'`).run();
    raw.close();
    for (const id of ['cut', 'odd', 'renumbered']) {
      const error = await store.get(id).catch((e) => e);
      expect(error, id).toBeInstanceOf(UnreadableCase);
      expect(`${error.message} ${error.stack} ${error.cause}`).not.toContain('secret');
    }
    expect(await store.get('fine')).toEqual(record('fine'));
    await store.close();
  });

  test('a migration that fails half way leaves nothing behind', async () => {
    const db = await openDatabase(at('half.sqlite'));
    const bad = {
      ...migrations,
      '999-bad': {
        up: async (d: Kysely<never>) => {
          await d.schema.createTable('half').addColumn('x', 'text').execute();
          throw new Error('half way');
        },
      },
    };
    await expect(migrate(db, bad as never)).rejects.toThrow('half way');
    expect((await db.introspection.getTables()).map((t) => t.name).toSorted()).toEqual(['answers', 'cases', 'turns']);
    await db.destroy();
  });
});

describe('a file that cannot be used is named, with what to do, and left as it is', () => {
  const bad: [string, (file: string) => Promise<void> | void, RegExp][] = [
    ['no database at all', (f) => writeFileSync(f, 'these are somebody’s notes '.repeat(300)), /damaged.*move it aside/s],
    [
      'pages overwritten',
      async (f) => {
        const store = await sqliteStore(f);
        for (let i = 0; i < 40; i++)
          await store.create(record(`case-${i}`, { answers: [1, 2, 3, 4, 5, 6].map((n) => answer(n)) }));
        await store.close();
        const bytes = readFileSync(f);
        writeFileSync(f, bytes.fill(0xa5, 8192, Math.min(bytes.length, 32768)));
      },
      /damaged.*move it aside/s,
    ],
    [
      'cut short',
      async (f) => {
        const store = await sqliteStore(f);
        for (let i = 0; i < 40; i++) await store.create(record(`case-${i}`));
        await store.close();
        writeFileSync(f, readFileSync(f).subarray(0, 9000));
      },
      /damaged.*move it aside/s,
    ],
    [
      'another program’s database',
      (f) => {
        const db = new Database(f);
        db.exec('create table recipes (name text)');
        db.close();
      },
      /not a case file of Cold Drum/,
    ],
  ];
  test.each(bad)('%s', async (name, spoil, says) => {
    const dir = mkdtempSync(at(`bad-${bad.findIndex((b) => b[0] === name)}-`));
    const file = join(dir, 'cases.sqlite');
    await spoil(file);
    const before = digest(dir);
    const error = await sqliteStore(file).catch((e) => e);
    expect(error).toBeInstanceOf(UnusableFile);
    expect(error.message).toMatch(says);
    expect(error.message).toContain(file);
    expect(digest(dir)).toEqual(before);
  });

  test('a file of a later version is refused with its migration named', async () => {
    const db = await openDatabase(at('later.sqlite'));
    await migrate(db, { ...migrations, '900-later': { up: async () => {} } });
    await db.destroy();
    await expect(sqliteStore(at('later.sqlite'))).rejects.toThrow(/900-later.*later version of Cold Drum/s);
  });
});

test('no acknowledged answer is lost to kill -9', async () => {
  const file = at('kill.sqlite');
  const fresh = await sqliteStore(file);
  await fresh.create(record('k', { answers: [] }));
  await fresh.close();
  let acknowledged = 1;
  for (let round = 0; round < 3; round++) {
    const child = spawn(process.execPath, ['tests/server/stores/append-loop.mjs', file, 'k'], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const closed = new Promise((done) => child.on('close', done));
    let out = '';
    await new Promise<void>((killTime, failed) => {
      child.stdout.on('data', (chunk) => {
        out += chunk;
        // In the middle of it, on however slow a machine: so many answers, and not so many milliseconds.
        if (out.split('\n').length > 20 + round * 7) killTime();
      });
      child.on('exit', () => failed(new Error('the child ended by itself')));
    });
    child.kill('SIGKILL');
    await closed;
    const before = acknowledged;
    // The last line may be cut; every whole line was acknowledged.
    acknowledged = Number(out.split('\n').slice(0, -1).at(-1));
    expect(acknowledged).toBeGreaterThan(before);
    const store = await sqliteStore(file);
    const kept = await store.get('k');
    await store.close();
    expect(kept!.rev).toBeGreaterThanOrEqual(acknowledged);
    expect(kept!.answers.map((a) => a.seq)).toEqual(Array.from({ length: kept!.rev - 1 }, (_, i) => i + 1));
  }
});
