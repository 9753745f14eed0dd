import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { difference, run } from '../../tools/demo.ts';
import { talkOf } from './parts.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'talks-'));
});
afterEach(() => rm(folder, { recursive: true }));
const conversation = talkOf({ 'it stays cold': [{ is: 'complaint', family: 'no-heat', evidence: '' }] });
const talk = {
  name: 'cold',
  title: 'It stays cold',
  scenario: 'Nothing special.',
  audience: 'homeowner',
  steps: [{ say: 'it stays cold' }, { answer: { fact: 'gate-now', value: 'gas-smell-or-hiss' } }, { undo: true }],
};
const put = (name: string, what: unknown) =>
  writeFile(join(folder, name), typeof what === 'string' ? what : JSON.stringify(what));
const demo = async (...args: string[]) => {
  const lines: string[] = [];
  const code = await run(args, conversation, folder, (t) => lines.push(t));
  return { code, said: lines.join('\n') };
};

test('a talk written down is replayed to the same replies', async () => {
  await put('cold.json', talk);
  expect(await demo()).toMatchObject({ code: 1, said: expect.stringMatching(/0 replies are written, 4 were given/) });
  expect(await demo('--write')).toMatchObject({ code: 0 });
  const first = await readFile(join(folder, 'cold.json'), 'utf8');
  expect(await demo()).toEqual({ code: 0, said: 'same  cold.json  It stays cold' });
  await demo('--write');
  expect(await readFile(join(folder, 'cold.json'), 'utf8')).toBe(first);
  const { replies } = JSON.parse(first);
  expect(replies[2]).toMatchObject({ stops: ['gas-smell'], refer: { priority: 0 } });
  expect(replies[3]).toMatchObject({ ask: { check: 'read-back', choices: ['yes', 'no'] } });
});
test('one word changed is seen, and named', async () => {
  await put('cold.json', talk);
  await demo('--write');
  const written = JSON.parse(await readFile(join(folder, 'cold.json'), 'utf8'));
  written.replies[1].parts[0].text += '!';
  await put('cold.json', written);
  expect(await demo()).toMatchObject({ code: 1, said: expect.stringMatching(/differs.*reply 1 differs/s) });
});
test('one talk is printed as a talk', async () => {
  await put('cold.json', talk);
  const { said } = await demo('cold', '--write');
  expect(said).toMatch(/\[say\] Hello.*> it stays cold.*\[stop\] .*gas smell.*> undo/s);
});
test.each([
  ['no talks', '', undefined, /There are no talks/],
  ['no such talk', 'warm', talk, /There is no talk "warm"\. There are: cold\.json/],
  ['not JSON', '', '{', /cold\.json: it is not JSON/],
  ['another name', '', { ...talk, name: 'hot' }, /its name is "hot"/],
  ['a key nobody knows', '', { ...talk, mood: 'bad' }, /mood/],
])('%s is a sentence and exit code 2', async (_, arg, what, says) => {
  if (what !== undefined) await put('cold.json', what);
  const { code, said } = await demo(...[arg].filter(Boolean));
  expect([code, says.test(said)]).toEqual([2, true]);
});
test('lists of replies are the same, or tell where not', () => {
  expect(difference([{ a: 1 }], [{ a: 1 }])).toBeUndefined();
  expect(difference([{ a: 1 }], [{ a: 2 }])).toMatch(/reply 0/);
});
