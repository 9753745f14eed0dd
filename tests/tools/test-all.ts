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
  { name: 'weights', command: [...TOOL, 'tests/tools/train.ts', '--check'] },
  { name: 'build', command: ['npm', 'run', '--silent', 'build'] },
  { name: 'tests', command: ['npx', 'vitest', 'run', '--config', 'tests/vitest.config.ts'], counts: true },
  { name: 'schemas', command: [...TOOL, 'tests/tools/schemas.ts'] },
  { name: 'demo', command: [...TOOL, 'tests/tools/demo.ts', '--write'] },
  {
    name: 'nothing generated is stale',
    command: ['git', 'diff', '--exit-code', '--stat', '--', 'rules/knowledge/schemas', 'transcripts-demo'],
  },
];

/** Seconds of processor all of it may take. More is said and fails nothing: a slow machine needs more for the same work. */
const MOST_CPU_S = 700;

interface Ended {
  code: number;
  out: string;
  /** Seconds of processor, of the command and all it started; NaN where no shell can tell. */
  cpu: number;
}
/** The shell counts what its children used and says so on a pipe of its own, which they do not get. */
const COUNTED = ['sh', '-c', '"$@" 3>&-; code=$?; times >&3; exit $code', 'sh'];

function run(command: string[]): Promise<Ended> {
  const [file, ...rest] = process.platform === 'win32' ? command : [...COUNTED, ...command];
  return new Promise((done) => {
    const child = spawn(file!, rest, { stdio: ['ignore', 'pipe', 'inherit', 'pipe'] });
    let out = '';
    let times = '';
    child.stdout!.on('data', (chunk: Buffer) => {
      out += chunk;
      process.stdout.write(chunk);
    });
    child.stdio[3]!.on('data', (chunk: Buffer) => {
      times += chunk;
    });
    child.on('close', (code) => done({ code: code ?? 1, out, cpu: childrenOf(times) }));
    child.on('error', () => done({ code: 1, out, cpu: Number.NaN }));
  });
}

/** The second line of `times` is the children's, user and system: "1m2.34s 0m5.67s". */
function childrenOf(times: string): number {
  const line = times.trim().split('\n')[1] ?? '';
  const all = [...line.matchAll(/(\d+)m([\d.,]+)s/g)].map(([, min, s]) => Number(min) * 60 + Number(s!.replace(',', '.')));
  return all.length === 2 ? all[0]! + all[1]! : Number.NaN;
}

export async function main(): Promise<number> {
  const sum = { passed: 0, failed: 0, skipped: 0 };
  let seconds = 0;
  for (const step of STEPS) {
    console.log(`\n== ${step.name}`);
    const { code, out, cpu } = await run(step.command);
    seconds += cpu;
    const counted = step.counts ? /(\d+) passed, (\d+) failed, (\d+) skipped/.exec(out) : null;
    if (counted) {
      sum.passed += Number(counted[1]);
      sum.failed += Number(counted[2]);
      sum.skipped += Number(counted[3]);
      if (code !== 0 && counted[2] === '0') sum.failed++;
    } else if (code === 0) sum.passed++;
    else sum.failed++;
    console.log(`== ${step.name}: ${code === 0 ? 'ok' : 'FAILED'}, ${Math.round(cpu)} s of processor`);
  }
  if (Number.isNaN(seconds)) console.log('\nNo shell here tells the processor time.');
  else if (seconds > MOST_CPU_S)
    console.log(`\nWARNING: ${Math.round(seconds)} s of processor, more than the ${MOST_CPU_S} s meant`);
  else console.log(`\n${Math.round(seconds)} s of processor, of ${MOST_CPU_S} s meant`);
  console.log(`\n${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped`);
  return sum.failed ? 1 : 0;
}
