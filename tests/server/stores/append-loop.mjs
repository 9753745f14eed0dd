// Appends to one case until it is killed, and says each revision only after the store has acknowledged it.
import { writeSync } from 'node:fs';
import { resolve } from 'node:path';
import { runnerImport } from 'vite';

const [file, id] = process.argv.slice(2);
const { module } = await runnerImport(resolve('server/cases/sqlite.ts'), { configFile: false, logLevel: 'error' });
const store = await module.sqliteStore(file);
let { rev, answers } = await store.get(id);
let seq = answers.length;
for (;;) {
  seq++;
  const answer = { seq, turn: seq, act: 'tell', fact: 'coil_ohm', value: seq, said: `n${seq}`, by: 'agent' };
  rev = await store.append(id, rev, { answers: [answer], settings: {} });
  writeSync(1, `${rev}\n`);
}
