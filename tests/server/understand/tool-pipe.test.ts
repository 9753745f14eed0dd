import { spawn } from 'node:child_process';
import { expect, test } from 'vitest';

test('a reader that closes after the first line does not make the tool fail', async () => {
  const tool = spawn(process.execPath, ['tests/tools/run.mjs', 'tests/tools/understand.ts', 'tests/data/utterances-own.json']);
  let errors = '';
  let first = '';
  tool.stderr.on('data', (d: Buffer) => {
    errors += d;
  });
  tool.stdout.once('data', (d: Buffer) => {
    first = String(d);
    tool.stdout.destroy();
  });
  const code = await new Promise((resolve) => tool.on('close', resolve));
  expect(first).toContain('"id"');
  expect(errors).toBe('');
  expect(code).toBe(0);
});
