/** npm run hand-faults [-- --write] [-- --id ID ...] [-- --known | --near]: puts each fault of tests/mutation/by-hand/faults.json into a copy and tells what caught it; `--known` asks only the test file that caught it last, `--near` those of the same room too. */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { HAND_FAULTS, outdated } from '../mutation/by-hand/faults.ts';
import { tryFaults } from '../mutation/by-hand/try-faults.ts';

/** Of fifty faults at least so many are caught. */
const LEAST = 0.96;

export async function main(args: string[]): Promise<number> {
  const { values } = parseArgs({
    args,
    options: {
      write: { type: 'boolean' },
      known: { type: 'boolean' },
      near: { type: 'boolean' },
      id: { type: 'string', multiple: true },
    },
  });
  const gone = outdated();
  for (const line of gone) console.log(line);
  if (gone.length) return 1;
  const wanted = HAND_FAULTS.filter((f) => !values.id || values.id.includes(f.id));
  const tried = await tryFaults(
    wanted,
    ({ fault, by }) => {
      console.log(
        `${by ? 'caught  ' : 'SURVIVED'}  ${fault.id}: ${fault.what}\n            ${by ?? 'nothing speaks against it'}`,
      );
    },
    values.known ? 'known' : values.near ? 'near' : 'all',
  );
  if (values.write) {
    const file = new Map(tried.map((t) => [t.fault.id, t.by?.split(': ')[0]]));
    const all = HAND_FAULTS.map(({ caughtBy, ...f }) => {
      const by = file.has(f.id) ? file.get(f.id) : caughtBy;
      return by?.startsWith('tests/') ? { ...f, caughtBy: by } : f;
    });
    writeFileSync('tests/mutation/by-hand/faults.json', `${JSON.stringify(all, null, 2)}\n`);
  }
  const caught = tried.filter((t) => t.by).length;
  console.log(`\n${caught} of ${tried.length} caught`);
  return caught < Math.ceil(LEAST * tried.length) ? 1 : 0;
}
