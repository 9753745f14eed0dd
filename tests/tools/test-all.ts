/** npm test: everything CI runs, in order; ends with one plain line. A step that fails does not hide the ones after it. */
import { spawn } from 'node:child_process';

interface Step {
  name: string;
  command: string[];
  /** Counts its own tests and prints them as the closing line does. */
  counts?: boolean;
}
const TOOL = ['node', 'tests/tools/run.mjs'];
const STEPS: Step[] = [
  { name: 'types', command: ['npx', 'tsc', '-b'] },
  { name: 'lint', command: ['npx', 'biome', 'check', '.'] },
  { name: 'knowledge', command: [...TOOL, 'tests/tools/knowledge.ts'] },
  { name: 'build', command: ['npm', 'run', '--silent', 'build'] },
  { name: 'tests', command: ['npx', 'vitest', 'run', '--config', 'tests/vitest.config.ts'], counts: true },
  { name: 'schemas', command: [...TOOL, 'tests/tools/schemas.ts'] },
  { name: 'demo', command: [...TOOL, 'tests/tools/demo.ts', '--write'] },
  {
    name: 'nothing generated is stale',
    command: ['git', 'diff', '--exit-code', '--stat', '--', 'rules/knowledge/schemas', 'transcripts-demo'],
  },
];

const run = (command: string[]): Promise<{ code: number; out: string }> =>
  new Promise((done) => {
    const child = spawn(command[0]!, command.slice(1), { stdio: ['ignore', 'pipe', 'inherit'] });
    let out = '';
    child.stdout.on('data', (chunk: Buffer) => {
      out += chunk;
      process.stdout.write(chunk);
    });
    child.on('close', (code) => done({ code: code ?? 1, out }));
    child.on('error', () => done({ code: 1, out }));
  });

export async function main(): Promise<number> {
  const sum = { passed: 0, failed: 0, skipped: 0 };
  for (const step of STEPS) {
    console.log(`\n== ${step.name}`);
    const from = Date.now();
    const { code, out } = await run(step.command);
    const counted = step.counts ? /(\d+) passed, (\d+) failed, (\d+) skipped/.exec(out) : null;
    if (counted) {
      sum.passed += Number(counted[1]);
      sum.failed += Number(counted[2]);
      sum.skipped += Number(counted[3]);
      if (code !== 0 && counted[2] === '0') sum.failed++;
    } else if (code === 0) sum.passed++;
    else sum.failed++;
    console.log(`== ${step.name}: ${code === 0 ? 'ok' : 'FAILED'} after ${Math.round((Date.now() - from) / 1000)} s`);
  }
  console.log(`\n${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`);
  return sum.failed ? 1 : 0;
}
