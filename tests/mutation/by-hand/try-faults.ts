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
  const own = all.filter((f) => !f.startsWith('tests/mutation/by-hand/') && !f.startsWith('tests/client/'));
  const isLong = (f: string) => LONG.some((x) => x.test(f));
  return [own.filter((f) => !isLong(f)), own.filter(isLong)];
}

/** Puts each fault into a copy and runs the tests until one fails: the one that caught it before first, then all. */
export async function tryFaults(faults: readonly HandFault[], told: (t: Tried) => void, onlyKnown = false): Promise<Tried[]> {
  const copy: Copy = copyOfAll();
  const [quick, long] = suite();
  const out: Tried[] = [];
  try {
    for (const fault of faults) {
      copy.write(fault.file, withFault(copy.read(fault.file), fault));
      const stages = onlyKnown ? [known(fault)] : [known(fault), quick, long];
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
