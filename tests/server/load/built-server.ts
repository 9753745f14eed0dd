import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { build } from 'vite';

/** Builds a server as `npm run build` does, from another entry into a folder of the test's own. */
export async function buildServer(entry: string, outDir: string): Promise<string> {
  await build({
    configFile: resolve('server/vite.config.ts'),
    build: { ssr: resolve(entry), outDir: resolve(outDir), sourcemap: false },
  });
  return resolve(outDir, `${entry.replace(/^.*\//, '').replace(/\.ts$/, '')}.js`);
}

export interface Running {
  child: ChildProcess;
  address: string;
  /** All that was printed so far. */
  out(): string;
  ended: Promise<number | NodeJS.Signals | null>;
}

/** Starts a built server on a free port. Ends with its exit code and words if it does not come up. */
export async function start(file: string, env: Record<string, string>): Promise<Running> {
  const child = spawn(process.execPath, [file], {
    env: { PATH: process.env.PATH ?? '', PORT: '0', COLD_DRUM_RATE: '0', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  const ended = new Promise<number | NodeJS.Signals | null>((done) => child.on('close', (code, signal) => done(code ?? signal)));
  const address = await new Promise<string>((ready, failed) => {
    const read = (chunk: Buffer) => {
      out += chunk;
      const found = /ready: (http:\/\/\S+)/.exec(out);
      if (found) ready(found[1]!);
    };
    child.stdout.on('data', read);
    child.stderr.on('data', read);
    ended.then((code) => failed(new Error(`ended with ${code}: ${out}`)));
  });
  return { child, address, out: () => out, ended };
}

/** Starts a server that is expected not to come up. */
export async function startInVain(file: string, env: Record<string, string>): Promise<string> {
  const running = await start(file, env).catch((e: Error) => e.message);
  if (typeof running === 'string') return running;
  running.child.kill('SIGKILL');
  throw new Error(`came up at ${running.address}`);
}

export const post = (address: string, path: string, body: unknown): Promise<Response> =>
  fetch(address + path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
