import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { expect, test } from 'vitest';

const tracked = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { encoding: 'utf8' })
  .trim()
  .split('\n');
const code = tracked.filter((f) => /^(rules|server|client)\/.*\.(ts|tsx)$/.test(f) && !f.endsWith('.config.ts'));

/** Modules a file imports: ours as paths from the top, packages by name; `type` = types only. */
function imports(file: string): { what: string; type: boolean }[] {
  const text = readFileSync(file, 'utf8');
  return [
    ...text.matchAll(/^\s*(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'([^']+)'/gm),
    ...text.matchAll(/()import\('([^']+)'\)/g),
  ].map((m) => ({
    what: m[2]!.startsWith('.') ? normalize(join(dirname(file), m[2]!)) : m[2]!,
    type: Boolean(m[1]),
  }));
}
const room = (path: string) => path.split('/')[0]!;
const isWorker = (f: string) => f.startsWith('client/worker/');

test('rules import nothing of ours, and of packages only what runs anywhere', () => {
  const bad = code
    .filter((f) => room(f) === 'rules')
    .flatMap((f) =>
      imports(f)
        .filter(({ what }) => !what.startsWith('rules/') && !['json-rules-engine', 'zod'].includes(what))
        .map(({ what }) => `${f} -> ${what}`),
    );
  expect(bad).toEqual([]);
});
test('server imports rules through their door or their types', () => {
  const bad = code
    .filter((f) => room(f) === 'server')
    .flatMap((f) =>
      imports(f)
        .filter(
          ({ what }) =>
            (what.startsWith('rules/') && !['rules/index.ts', 'rules/types.ts'].includes(what)) ||
            what.startsWith('client/') ||
            what.startsWith('tests/'),
        )
        .map(({ what }) => `${f} -> ${what}`),
    );
  expect(bad).toEqual([]);
});
test('the page imports types of the server, and its markdown; only the worker imports the app', () => {
  const bad = code
    .filter((f) => room(f) === 'client' && !isWorker(f))
    .flatMap((f) =>
      imports(f)
        .filter(
          ({ what, type }) =>
            (what.startsWith('rules/') && !type) ||
            (what.startsWith('server/') && !type && what !== 'server/markdown.ts') ||
            what.startsWith('tests/'),
        )
        .map(({ what }) => `${f} -> ${what}`),
    );
  expect(bad).toEqual([]);
});
test('the top level holds the rooms and what must stand there, nothing else', () => {
  const top = new Set(tracked.map(room));
  const may = [
    'README.md',
    'DEVELOPERS.md',
    'LICENSE',
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'server',
    'client',
    'rules',
    'tests',
    'transcripts-demo',
  ];
  expect([...top].filter((t) => !t.startsWith('.') && !may.includes(t))).toEqual([]);
});
test('no file names a clock or chance in the rules', () => {
  const bad = code
    .filter((f) => room(f) === 'rules')
    .filter((f) => /\bDate\b|Math\.random|performance\.now|crypto\./.test(readFileSync(f, 'utf8')));
  expect(bad).toEqual([]);
});
