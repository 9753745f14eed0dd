/**
 * npm run baseline [-- --family ID]
 * Leads every world to its end and writes what came of each into tests/data/baseline-worlds.json, one world a line, so that a diff shows
 * which worlds a change has moved and how. --family ID: that family alone, to standard output; the file stays as it is.
 *
 * At the top: the commit the results are of ("+" behind it where what they hang on was changed since) and that commit's date. Of each world:
 * - family, machine, audience, faults: what stood before whom
 * - end: the conclusion, else "stopped" or "stuck"; named: the faults it leaves or confirms, likeliest first
 * - stops: signs that hold at the end; lifted: signs that held before and no more
 * - who: trades, may it be used, priority
 * - right; also: what else the bench counts against it
 * - min: minutes at the check times of that commit, causes and proofs not counted
 * - asked: every check in order as "why check state covers". Why is a letter: g gate, w worth, r repeat, c confirm, b behind the part (cause),
 *   p proof, with "?" where nothing could be told. Behind an "@" stand the two points of a reading on no list. Covers are all that has to be
 *   off, those in front of it first; left out with the state where any state does and nothing has to be off. So minutes can be counted anew
 *   under other check times.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { answering, everyPair, everyWorld } from '../bench/every-world.ts';
import { lead, type Outcome } from '../bench/worlds.ts';

const ROOT = join(import.meta.dirname, '../..');
const FILE = 'tests/data/baseline-worlds.json';
const AUDIENCES: Audience[] = ['technician', 'homeowner', 'agent'];
const WHY: Record<string, string> = { gate: 'g', worth: 'w', repeat: 'r', confirm: 'c', cause: 'b', proof: 'p' };
/** What the results hang on: who reasons, and who answers. */
const HANG_ON = ['rules', 'tests/dryer', 'tests/bench/model-dryer.ts'];

const git = (...args: string[]): string => execFileSync('git', args, { cwd: ROOT, encoding: 'utf8' }).trim();

function asOne(a: Outcome['asked'][number]): string {
  const told = Object.values(a.answers).some((said) => said !== 'cannot' && said !== 'will-not-run');
  const points = a.at
    ? `@${a.at
        .split(' ')
        .filter((x) => x !== 'to')
        .slice(0, 2)
        .join('-')}`
    : '';
  const where = a.state === 'any' && !a.covers.length ? '' : ` ${a.state} ${a.covers.join('+')}`.trimEnd();
  return `${WHY[a.why]}${told ? '' : '?'} ${a.check}${points}${where}`;
}

function line(o: Outcome): string {
  const { end, world } = o;
  const stops = end.stops.map((s) => s.sign);
  const lifted = [...new Set(o.stopsSeen)].filter((s) => !stops.includes(s));
  const also = (['wrongPart', 'unsafeAsk', 'missedReferral'] as const).filter((x) => o[x]);
  return JSON.stringify({
    family: world.family,
    machine: world.machine,
    audience: world.audience,
    faults: world.faults.join(' '),
    end: end.conclusion?.is ?? (stops.length ? 'stopped' : 'stuck'),
    ...(end.conclusion && { named: end.conclusion.faults.join(' ') }),
    ...(stops.length && { stops: stops.join(' ') }),
    ...(lifted.length && { lifted: lifted.join(' ') }),
    ...(end.referral && { who: `${end.referral.trades.join('+')} ${end.referral.mayUse} ${end.referral.priority}` }),
    right: o.right,
    ...(also.length && { also: also.join(' ') }),
    min: Math.round(o.minutes * 100) / 100,
    asked: o.asked.map(asOne),
  });
}

export async function main(args: string[]): Promise<number> {
  const only = args.includes('--family') ? args[args.indexOf('--family') + 1] : undefined;
  const families = [...knowledge().families.keys()].filter((f) => !args.includes('--family') || f === only);
  if (!families.length) {
    console.error(`no family "${only}"; there are ${[...knowledge().families.keys()].join(', ')}`);
    return 1;
  }
  const lines: string[] = [];
  let right = 0;
  for (const family of families) {
    const worlds = [...AUDIENCES.flatMap((audience) => everyWorld(family, audience)), ...everyPair(family)];
    for (const w of worlds) {
      const o = await lead(w, answering(w));
      if (o.right) right++;
      lines.push(line(o));
    }
    console.error(`${family}: ${worlds.length} worlds`);
  }
  const [commit, date] = git('log', '-1', '--format=%H %cs').split(' ');
  const changed = git('status', '--porcelain', '--', ...HANG_ON) ? '+' : '';
  const text = `{"commit":"${commit}${changed}","date":"${date}","worlds":[\n${lines.join(',\n')}\n]}\n`;
  if (only === undefined) writeFileSync(join(ROOT, FILE), text);
  else process.stdout.write(text);
  console.error(
    `${lines.length} worlds, ${right} right, ${Math.round(text.length / 1000)} kB${only === undefined ? ` in ${FILE}` : ''}`,
  );
  return 0;
}
