import { execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

/** A copy of everything tracked, in a folder of its own: faults are put in there, never into the files one works on. */
export interface Copy {
  folder: string;
  /** What a file of the copy holds; set = another content, until `restore`. */
  read: (file: string) => string;
  write: (file: string, text: string) => void;
  restore: () => void;
  /** Runs test files of the copy up to the first that fails. @returns the failing file's path and test, or undefined where all passed; throws where the run itself broke */
  firstFailing: (files: readonly string[]) => Promise<string | undefined>;
  remove: () => void;
}

const git = (folder: string, ...args: string[]) => execFileSync('git', args, { cwd: folder, encoding: 'utf8' });

export function copyOfAll(): Copy {
  const from = resolve('.');
  const folder = mkdtempSync(join(tmpdir(), 'cold-drum-fault-'));
  const files = git(from, 'ls-files', '--cached', '--others', '--exclude-standard').trim().split('\n');
  for (const f of files) {
    mkdirSync(dirname(join(folder, f)), { recursive: true });
    cpSync(join(from, f), join(folder, f));
  }
  symlinkSync(join(from, 'node_modules'), join(folder, 'node_modules'));
  // Some tests ask git which files there are.
  git(folder, 'init', '-q');
  git(folder, 'add', '-A');
  const changed = new Map<string, string>();
  return {
    folder,
    read: (file) => readFileSync(join(folder, file), 'utf8'),
    write(file, text) {
      if (!changed.has(file)) changed.set(file, readFileSync(join(folder, file), 'utf8'));
      writeFileSync(join(folder, file), text);
    },
    restore() {
      for (const [file, text] of changed) writeFileSync(join(folder, file), text);
      changed.clear();
    },
    firstFailing: (tests) => failing(folder, tests),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** What vitest's own JSON says of a run, as far as it is read here. */
interface Report {
  success: boolean;
  testResults: { name: string; status: string; message: string; assertionResults: { fullName: string; status: string }[] }[];
}

function failing(folder: string, tests: readonly string[]): Promise<string | undefined> {
  const out = join(folder, '.cache', 'report.json');
  mkdirSync(dirname(out), { recursive: true });
  rmSync(out, { force: true });
  const options = ['--config', 'tests/vitest.config.ts', '--bail', '1', '--reporter', 'json', '--outputFile', out];
  return new Promise((done, fail) => {
    const child = spawn('npx', ['vitest', 'run', ...tests, ...options], { cwd: folder, stdio: 'ignore' });
    child.on('close', (code) => {
      try {
        done(code === 0 ? undefined : whatFailed(folder, out));
      } catch (e) {
        fail(e);
      }
    });
  });
}

function whatFailed(folder: string, report: string): string {
  const said = JSON.parse(readFileSync(report, 'utf8')) as Report;
  for (const f of said.testResults) {
    const file = f.name.replace(`${folder}/`, '');
    const test = f.assertionResults.find((t) => t.status === 'failed');
    if (test) return `${file}: ${test.fullName}`;
    if (f.status === 'failed') return `${file}: does not load`;
  }
  throw new Error(`the run ended with a failure that no test of it tells; see ${report}`);
}
