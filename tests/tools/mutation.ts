/** npm run mutation [-- --seed 7] [-- --count 50]: puts faults into copies of the knowledge and tells which ones the quick suite lets pass. */
import { mutants } from '../mutation/mutants.ts';
import { caughtBy, unmetNow } from '../mutation/suite.ts';

const LEAST = 0.96;
const option = (args: readonly string[], name: string, otherwise: number): number => {
  const i = args.indexOf(`--${name}`);
  return i < 0 ? otherwise : Number(args[i + 1]);
};

export async function main(args: readonly string[] = []): Promise<number> {
  const count = option(args, 'count', 50);
  const seed = option(args, 'seed', 1);
  const before = await unmetNow();
  for (const b of before) console.log(`unmet before any fault is put in: ${b}`);
  const from = performance.now();
  let caught = 0;
  for (const m of mutants(count, seed)) {
    const by = await caughtBy(m.parts);
    if (by) caught++;
    console.log(
      `${by ? 'caught  ' : 'SURVIVED'}  ${m.kind}\n            ${m.what}\n            ${by ?? 'nothing speaks against it'}`,
    );
  }
  console.log(
    `\n${caught} caught, ${count - caught} survived, of ${count} (seed ${seed}), ${((performance.now() - from) / 1000).toFixed(1)} s`,
  );
  return before.length || caught < Math.ceil(LEAST * count) ? 1 : 0;
}
