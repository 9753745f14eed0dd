/**
 * npm run bench [-- --json] [-- --quick]
 * Minutes against a fixed order and against the exact optimum, right ends over every world, and milliseconds; measured, never typed in.
 */
import { cpus } from 'node:os';
import { knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { dryerFor, everyWorld } from '../bench/every-world.ts';
import { fixed, optimum, ours } from '../bench/optimum.ts';
import { afterGates } from '../bench/planner.ts';
import { turnMilliseconds } from '../bench/turns.ts';
import { lead, type Outcome } from '../bench/worlds.ts';

interface Minutes {
  family: string;
  circuit: string;
  audience: Audience;
  ours: number;
  fixed: number;
  optimum: number | 'not computed';
}
const AUDIENCES: Audience[] = ['technician', 'homeowner', 'agent'];
const FAMILIES = ['no-heat'];

export async function main(args: string[]): Promise<number> {
  const minutes: Minutes[] = [];
  for (const family of FAMILIES)
    for (const m of knowledge().machines.values()) {
      const { world, node } = await afterGates(family, dryerFor({ machine: m.id, faults: [], audience: 'technician', family }));
      const best = optimum(world, node);
      minutes.push({
        family,
        circuit: m.id,
        audience: 'technician',
        ours: round(ours(world, node)),
        fixed: round(fixed(world, node)),
        optimum: best ? round(best.min) : 'not computed',
      });
    }
  const outcomes: Outcome[] = [];
  for (const family of FAMILIES)
    for (const audience of AUDIENCES) for (const w of everyWorld(family, audience)) outcomes.push(await lead(w, dryerFor(w)));
  const out = {
    machine: `${cpus()[0]?.model ?? 'unknown'}, ${cpus().length} threads, Node ${process.version}`,
    date: new Date().toISOString().slice(0, 10),
    minutes,
    turnMs: await turnTimes(),
    consultMs: spread(outcomes.flatMap((o) => o.consultMs)),
    worlds: {
      run: outcomes.length,
      rightEnd: outcomes.filter((o) => o.right).length,
      wrongPart: outcomes.filter((o) => o.wrongPart).length,
      unsafeAsk: outcomes.filter((o) => o.unsafeAsk).length,
      missedReferral: outcomes.filter((o) => o.missedReferral).length,
    },
  };
  if (args.includes('--json')) console.log(JSON.stringify(out, null, 2));
  else print(out, outcomes);
  const { run, rightEnd, wrongPart, unsafeAsk, missedReferral } = out.worlds;
  return rightEnd === run && !wrongPart && !unsafeAsk && !missedReferral ? 0 : 1;
}

/** A whole turn without the disk: words in, reply out. */
async function turnTimes(): Promise<{ median: number; p99: number }> {
  return spread(await turnMilliseconds());
}

const round = (x: number, digits = 1) => Math.round(x * 10 ** digits) / 10 ** digits;
function spread(ms: readonly number[]): { median: number; p99: number } {
  const sorted = [...ms].sort((a, b) => a - b);
  return { median: round(sorted[Math.floor(sorted.length / 2)] ?? 0), p99: round(sorted[Math.floor(sorted.length * 0.99)] ?? 0) };
}

function print(
  out: { machine: string; date: string; minutes: Minutes[]; turnMs: object; consultMs: object; worlds: object },
  outcomes: readonly Outcome[],
): void {
  console.log(`${out.machine}; ${out.date}\n`);
  console.log(
    '| machine | ours, min | fixed order, min | optimum, min | ours / optimum | ours / fixed |\n|---|--:|--:|--:|--:|--:|',
  );
  for (const m of out.minutes) {
    const best = typeof m.optimum === 'number' ? (m.ours / m.optimum).toFixed(3) : '-';
    console.log(`| ${m.circuit} | ${m.ours} | ${m.fixed} | ${m.optimum} | ${best} | ${(m.ours / m.fixed).toFixed(2)} |`);
  }
  console.log(
    '\n| who | worlds | right end | wrong part | unsafe request | missed referral | questions, median |\n|---|--:|--:|--:|--:|--:|--:|',
  );
  for (const a of AUDIENCES) {
    const mine = outcomes.filter((o) => o.world.audience === a);
    const count = (f: (o: Outcome) => boolean) => mine.filter(f).length;
    const asked = mine.map((o) => o.asked.length).sort((x, y) => x - y);
    console.log(
      `| ${a} | ${mine.length} | ${count((o) => o.right)} | ${count((o) => o.wrongPart)} | ${count((o) => o.unsafeAsk)} | ${count((o) => o.missedReferral)} | ${asked[asked.length >> 1]} |`,
    );
  }
  console.log(`\nturn ${JSON.stringify(out.turnMs)} ms, consult ${JSON.stringify(out.consultMs)} ms`);
}
