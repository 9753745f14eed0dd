// Runs a TypeScript tool of ours through Vite, so that no second compiler is needed: node tests/tools/run.mjs FILE [arguments]
import { resolve } from 'node:path';
import { runnerImport } from 'vite';

const [file, ...rest] = process.argv.slice(2);
process.argv.splice(1, process.argv.length, resolve(file), ...rest);
const { module } = await runnerImport(resolve(file), { configFile: false, logLevel: 'error' });
if (typeof module.main === 'function') {
  const code = await module.main(rest);
  if (typeof code === 'number') process.exitCode = code;
}
