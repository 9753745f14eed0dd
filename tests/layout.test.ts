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

/** Files that import each other, straight or by way of others. Types count too, but those of the rules: they have one door, which all of them use. */
function circles(files: readonly string[]): string[][] {
  const within = new Set(files);
  const counts = (f: string, type: boolean) => !type || room(f) !== 'rules';
  const to = new Map(
    files.map((f) => [f, imports(f).flatMap(({ what, type }) => (within.has(what) && counts(f, type) ? [what] : []))]),
  );
  // Whatever imports nothing that is left, or is imported by nothing left, is in no circle.
  for (let before = -1; before !== to.size; ) {
    before = to.size;
    for (const [file, what] of to) if (!what.some((f) => to.has(f))) to.delete(file);
    const wanted = new Set([...to.values()].flat());
    for (const file of to.keys()) if (!wanted.has(file)) to.delete(file);
  }
  return [...to].map(([file, what]) => [file, ...what.filter((f) => to.has(f))]);
}
test('no file imports itself by way of others', () => {
  expect(circles(code)).toEqual([]);
});
test('hear, stand and show: what is heard and what is shown know nothing of each other, and where a case stands knows neither', () => {
  const rooms = { hear: ['show'], show: ['hear'], stand: ['hear', 'show'], words: ['hear', 'stand'] };
  const bad = Object.entries(rooms).flatMap(([from, never]) =>
    code
      .filter((f) => f.startsWith(`server/conversation/${from}/`))
      .flatMap((f) =>
        imports(f)
          .filter(({ what }) => never.some((room) => what.startsWith(`server/conversation/${room}/`)))
          .map(({ what }) => `${f} -> ${what}`),
      ),
  );
  expect(bad).toEqual([]);
});
test('what the routes need of the conversation is told without it', () => {
  const bad = imports('server/conversation-port.ts').filter(({ what }) => what.startsWith('server/conversation/'));
  expect(bad).toEqual([]);
});
