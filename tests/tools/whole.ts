/** What the suite takes a part of, in whole: minutes of processor. */
import { spawn } from 'node:child_process';

const HELP = `Tests of which npm test does a fixed part (tests/whole.ts), in whole.

  npm run whole`;
const FILES = [
  'tests/bench/families.test.ts',
  'tests/outside/worlds.test.ts',
  'tests/client/talks.test.ts',
  'tests/client/views.test.ts',
  'tests/client/wiring.test.ts',
];

export function main(args: string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(HELP);
    return Promise.resolve(0);
  }
  return new Promise((done) => {
    const child = spawn('npx', ['vitest', 'run', '--config', 'tests/vitest.config.ts', ...FILES], {
      stdio: 'inherit',
      shell: process.platform === 'win32',
      env: { ...process.env, COLD_DRUM_WHOLE: 'yes' },
    });
    child.on('close', (code) => done(code ?? 1));
  });
}
