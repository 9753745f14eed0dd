import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Copy, copyOfAll } from './copy.ts';
import { type HandFault, withFault } from './faults.ts';

export interface Tried {
  fault: HandFault;
  /** The file and test that failed; undefined = nothing did. */
  by: string | undefined;
}

/** Long ones last: most faults are caught before them. */
const LONG = [
  /tests\/rules\/engine\/laws/,
  /tests\/rules\/engine\/oracle/,
  /tests\/outside\//,
  /tests\/bench\//,
  /tests\/mutation\//,
];

function suite(): [quick: string[], long: string[]] {
  const all = execFileSync('git', ['ls-files', '*.test.ts'], { encoding: 'utf8' }).trim().split('\n');
  // The tests of this folder try faults themselves; a page is built from files that hold the fault as well, and takes minutes.
  const own = all.filter((f) => !f.startsWith('tests/mutation/by-hand') && !f.startsWith('tests/client/'));
  const isLong = (f: string) => LONG.some((x) => x.test(f));
  return [own.filter((f) => !isLong(f)), own.filter(isLong)];
}

/** The tests that lie nearest to a file: those of its own room. */
const NEAR: [file: RegExp, tests: string[]][] = [
  [
    /^rules\/knowledge\//,
    ['tests/rules/knowledge', 'tests/rules/engine/rule-examples.test.ts', 'tests/mutation/mutation.test.ts'],
  ],
  [/^rules\/physics\//, ['tests/rules/physics', 'tests/outside/electrical-checks.test.ts']],
  [
    /^rules\/engine\//,
    ['tests/rules/engine/by-hand-worked.test.ts', 'tests/rules/engine/rounds.test.ts', 'tests/rules/engine/plan.test.ts'],
  ],
  [/^server\/understand\//, ['tests/server/understand']],
  [/^server\/(conversation|place)\//, ['tests/server/conversation', 'tests/server/words', 'tests/server/place']],
  [/^server\//, ['tests/server/stores', 'tests/server/app']],
];
const near = (f: HandFault): string[] => (NEAR.find(([file]) => file.test(f.file))?.[1] ?? []).filter((path) => existsSync(path));

/** Puts each fault into a copy and runs the tests until one fails: the one that caught it before first, then those near it, then all; `how`: up to which of these. */
export async function tryFaults(
  faults: readonly HandFault[],
  told: (t: Tried) => void,
  how: 'known' | 'near' | 'all' = 'all',
): Promise<Tried[]> {
  const copy: Copy = copyOfAll();
  const [quick, long] = suite();
  const out: Tried[] = [];
  try {
    for (const fault of faults) {
      copy.write(fault.file, withFault(copy.read(fault.file), fault));
      const stages = [known(fault), ...(how === 'known' ? [] : [near(fault)]), ...(how === 'all' ? [quick, long] : [])];
      let by: string | undefined;
      for (const stage of stages) if (stage.length) by ??= await copy.firstFailing(stage);
      copy.restore();
      out.push({ fault, by });
      told({ fault, by });
    }
  } finally {
    copy.remove();
  }
  return out;
}
// A test file may have been moved since.
const known = (f: HandFault): string[] => (f.caughtBy !== undefined && existsSync(f.caughtBy) ? [f.caughtBy] : []);
