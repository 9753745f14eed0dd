import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect } from 'kysely';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { answerText } from '../../../server/cases/flat-answers.ts';
import { migrations } from '../../../server/cases/migrations.ts';
import { migrate, sqliteStore, type Tables } from '../../../server/cases/sqlite.ts';
import { openFile } from '../../../server/cases/sqlite-file.ts';
import { type CaseStore, UnreadableCase } from '../../../server/cases/store.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import type { Conversation, TakenTurn, Turn } from '../../../server/conversation-port.ts';
import { STORED_FLAT } from './stored-flat.ts';

const folder = mkdtempSync(join(tmpdir(), 'cold-drum-flat-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A case file as the program wrote it then, with the rows it wrote. */
async function fileOfThen(file: string): Promise<void> {
  const db = new Kysely<Tables>({ dialect: new SqliteDialect({ database: openFile(file) }) });
  await migrate(db, { '001-cases': migrations['001-cases']! });
  for (const { id, opened, audience, turns } of STORED_FLAT) {
    await db.insertInto('cases').values({ id, opened, audience }).execute();
    for (const { rev, settings, key, asked, bodies } of turns) {
      const turn = { case_id: id, rev, settings: JSON.stringify(settings), turn_key: key ?? null, asked: asked ?? null };
      await db.insertInto('turns').values(turn).execute();
      for (const body of bodies)
        await db
          .insertInto('answers')
          .values({ case_id: id, seq: body.seq, rev, body: JSON.stringify(body) })
          .execute();
    }
  }
  await db.destroy();
}
const taken = (turn: Turn): TakenTurn => {
  if ('problem' in turn) throw new Error(turn.problem.message);
  return turn;
};

describe('a case stored before answers had several shapes', () => {
  const file = join(folder, 'then.sqlite');
  let store: CaseStore;
  let talk: Conversation;
  beforeAll(async () => {
    await fileOfThen(file);
    store = await sqliteStore(file);
    talk = await createConversation();
  });
  afterAll(() => store.close());

  test.each(STORED_FLAT.map((c) => [c.id.replace(/-?0+$/, ''), c] as const))(
    '%s opens with the same lines, the same question and the same stops',
    async (_, was) => {
      const { view, reply } = taken(await talk.look((await store.get(was.id))!));
      expect(view.answers.map(({ seq, act, fact = '' }) => [seq, act, fact])).toEqual(was.lines);
      expect([reply.ask?.check ?? null, reply.consultation.stops.map((s) => s.sign)]).toEqual([was.open, was.stops]);
    },
  );
  test('every turn of it is told, keys and all', async () => {
    for (const was of STORED_FLAT) {
      const { turns } = (await store.history(was.id))!;
      expect(turns.map(({ rev, key, answers }) => [rev, key, answers.map((a) => a.seq)])).toEqual(
        was.turns.map(({ rev, key, bodies }) => [rev, key, bodies.map((b) => b.seq)]),
      );
    }
  });
  test.each([
    ['agent-which', '1', (t: TakenTurn) => t.added.some((a) => a.act === 'tell' && a.value === 240)],
    ['technician-which-place', '1', (t: TakenTurn) => t.added.filter((a) => a.act === 'tell').length === 3],
    ['homeowner-gas-read-back', 'yes', (t: TakenTurn) => t.reply.consultation.stops.length === 0],
    ['homeowner-take-back-waits', 'yes', (t: TakenTurn) => t.added.every((a) => a.act === 'undo')],
    ['technician-reading-stops', 'yes', (t: TakenTurn) => t.added.some((a) => a.act === 'correct' && a.value === 120)],
    ['homeowner-danger-asked', 'yes', (t: TakenTurn) => t.reply.consultation.stops.length === 1],
  ])('%s: the question that was open when it was put away is answered', async (name, said, so) => {
    const { id } = STORED_FLAT.find((c) => c.id.startsWith(name))!;
    expect(so(taken(await talk.say((await store.get(id))!, said)))).toBe(true);
  });
  test('opened again, nothing is changed once more', async () => {
    const rows = () => {
      const db = new Database(file, { readonly: true });
      const all = db.prepare('select * from answers order by case_id, seq').all();
      db.close();
      return all;
    };
    const before = rows();
    await (await sqliteStore(file)).close();
    expect(rows()).toEqual(before);
  });
});

describe('one stored answer', () => {
  const every = { seq: 1, turn: 1, said: 'x', by: 'agent' };
  test.each([
    [
      { act: 'tell', fact: 'f', value: 1, unit: 'V', points: ['a', 'b'], state: 's', lifted: false, lowImpedance: true },
      {
        act: 'tell',
        fact: 'f',
        value: 1,
        unit: 'V',
        taken: { points: ['a', 'b'], state: 's', lifted: false, lowImpedance: true },
      },
    ],
    [
      { act: 'unsure', fact: 'f', check: 'c' },
      { act: 'unsure', about: { fact: 'f', check: 'c' } },
    ],
    [
      { act: 'later', check: 'c' },
      { act: 'later', about: { check: 'c' } },
    ],
    [
      { act: 'set', check: 'danger', value: 'one two' },
      { act: 'note', note: 'danger', facts: ['one', 'two'] },
    ],
    [
      { act: 'set', check: 'done', fact: 'breaker-off' },
      { act: 'note', note: 'done', did: 'breaker-off' },
    ],
    [
      { act: 'set', check: 'read-back' },
      { act: 'note', note: 'read-back' },
    ],
    [
      { act: 'set', check: 'read-back', fact: 'f', value: 'no', of: 4 },
      { act: 'note', note: 'read-back', lifting: { fact: 'f', value: 'no', of: 4 } },
    ],
    [
      { act: 'set', check: 'noted', fact: 'elbows', value: 3 },
      { act: 'note', note: 'noted', item: { name: 'elbows', value: 3 } },
    ],
    [{ act: 'set', set: { units: 'us' } }, undefined],
    [{ act: 'undo' }, undefined],
    [{ act: 'tell', fact: 'f', value: 'yes' }, undefined],
  ])('%j', (flat, now) => {
    const text = JSON.stringify({ ...flat, ...every });
    expect(JSON.parse(answerText(text))).toEqual({ ...(now ?? flat), ...every });
    expect(answerText(answerText(text))).toBe(answerText(text));
  });
  test('a text that is none of ours stays as it is, for whoever reads it', async () => {
    for (const text of ['secret words {', 'null', '7', '{"act":"shout"}']) expect(answerText(text)).toBe(text);
    const file = join(folder, 'cut.sqlite');
    await fileOfThen(file);
    const db = new Database(file);
    const { id } = STORED_FLAT[0]!;
    db.prepare(`update answers set body = 'cut {' where case_id = ? and seq = 1`).run(id);
    db.close();
    const store = await sqliteStore(file);
    await expect(store.get(id)).rejects.toBeInstanceOf(UnreadableCase);
    expect(await store.get(STORED_FLAT[1]!.id)).toBeDefined();
    await store.close();
  });
});
