/**
 * npm run bench [-- --json] [-- --quick] [-- --worlds [--every N]] [-- --stops [--every N]] [-- --family ID]
 * Minutes against a fixed order and against the exact optimum, right ends over every world, and milliseconds; measured, never typed in.
 * --quick: every sixth world. --worlds: each world once more with one slip and one "can't" at every place; takes hours.
 * --every N: with --worlds, only every Nth slip; with --stops, every Nth world.
 * --stops: nothing else than this: a stop told at every place of every world, for everybody; what is asked with power after it. Half an hour.
 */
import { cpus } from 'node:os';
import { knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { answering, everyPair, everyWorld } from '../bench/every-world.ts';
import { modelDryer } from '../bench/model-dryer.ts';
import { fixed, optimum, ours } from '../bench/optimum.ts';
import { afterGates } from '../bench/planner.ts';
import { SLIPS, type Slip, type Slipped, slipped } from '../bench/slips.ts';
import { stoppedEverywhere } from '../bench/stopped.ts';
import { turnMilliseconds } from '../bench/turns.ts';
import { lead, type Outcome, type World } from '../bench/worlds.ts';

interface Minutes {
  family: string;
  circuit: string;
  audience: Audience;
  ours: number;
  fixed: number;
  optimum: number | 'not computed';
}
const AUDIENCES: Audience[] = ['technician', 'homeowner', 'agent'];

/** A person who cannot tell, or cannot do, one thing. */
const LOST: Slip[] = (['volts', 'ohms', 'amps', 'choice'] as const).map((of) => ({
  id: `"can't", of ${of}`,
  of,
  repeats: true,
  wrong: () => 'cannot',
}));

export async function main(args: string[]): Promise<number> {
  const only = args.includes('--family') ? args[args.indexOf('--family') + 1] : undefined;
  const families = [...knowledge().families.keys()].filter((f) => only === undefined || f === only);
  const every = args.includes('--quick') ? 6 : 1;
  const nth = args.includes('--every') ? Math.max(1, Number(args[args.indexOf('--every') + 1]) || 1) : 1;
  if (args.includes('--stops')) return afterStops(families, nth);
  const minutes: Minutes[] = [];
  for (const family of families)
    for (const m of knowledge().machines.values()) {
      const sound: World = { machine: m.id, faults: [], audience: 'technician', family };
      const { world, node } = await afterGates(family, answering(sound));
      if (world.suspects.length < 2) continue;
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
  const slips: Slipped[] = [];
  for (const family of families) {
    for (const audience of AUDIENCES)
      for (const [i, w] of everyWorld(family, audience).entries()) {
        if (i % every) continue;
        outcomes.push(await lead(w, answering(w)));
        if (args.includes('--worlds'))
          slips.push(...(await slipped(w, () => answering(w), [...SLIPS, ...LOST], { every: nth, from: i })).runs);
      }
    for (const [i, w] of everyPair(family).entries()) if (i % every === 0) outcomes.push(await lead(w, answering(w)));
  }
  const out = {
    machine: `${cpus()[0]?.model ?? 'unknown'}, ${cpus().length} threads, Node ${process.version}`,
    date: new Date().toISOString().slice(0, 10),
    minutes,
    turnMs: await turnTimes(),
    consultMs: spread(outcomes.flatMap((o) => o.consultMs)),
    worlds: families.flatMap((family) => AUDIENCES.map((audience) => row(family, audience, outcomes))),
    questions: AUDIENCES.map((audience) => ({
      audience,
      median: middle(outcomes.filter((o) => o.world.audience === audience).map((o) => o.asked.length)),
    })),
    slips: AUDIENCES.map((audience) => slipRow(audience, slips)),
  };
  if (args.includes('--json')) console.log(JSON.stringify(out, null, 2));
  else print(out);
  return out.worlds.every((r) => r.right === r.worlds && !r.wrongPart && !r.unsafeAsk && !r.missedReferral) ? 0 : 1;
}

/** After a stop nothing gives the dryer power or uses it: over all worlds, the danger signs told and denied. */
async function afterStops(families: readonly string[], every: number): Promise<number> {
  let wrong = 0;
  for (const audience of AUDIENCES)
    for (const family of families) {
      const sum = { worlds: 0, runs: 0, asked: 0, wrong: 0 };
      for (const quiet of [true, false])
        for (const [i, w] of everyWorld(family, audience).entries()) {
          if (i % every) continue;
          const all = await stoppedEverywhere(w, () => modelDryer(w.machine, w.faults, family, { quiet }), i + (quiet ? 0 : 11));
          for (const line of all.wrong) console.log(line);
          sum.worlds++;
          sum.runs += all.runs;
          sum.asked += all.asked;
          sum.wrong += all.wrong.length;
        }
      console.log(`${audience}, ${family}: ${JSON.stringify(sum)}`);
      wrong += sum.wrong;
    }
  console.log(`asked with power after a stop: ${wrong}`);
  return wrong ? 1 : 0;
}

function row(family: string, audience: Audience, all: readonly Outcome[]) {
  const mine = all.filter((o) => o.world.family === family && o.world.audience === audience);
  const count = (f: (o: Outcome) => boolean) => mine.filter(f).length;
  return {
    family,
    audience,
    worlds: mine.length,
    right: count((o) => o.right),
    wrongPart: count((o) => o.wrongPart),
    unsafeAsk: count((o) => o.unsafeAsk),
    missedReferral: count((o) => o.missedReferral),
    questions: middle(mine.map((o) => o.asked.length)),
    minutes: round(mine.reduce((sum, o) => sum + o.minutes, 0) / Math.max(1, mine.length)),
  };
}
const middle = (all: readonly number[]): number => [...all].sort((x, y) => x - y)[all.length >> 1] ?? 0;
function slipRow(audience: Audience, all: readonly Slipped[]) {
  const mine = all.filter((r) => r.outcome.world.audience === audience);
  const count = (f: (o: Outcome) => boolean) => mine.filter((r) => f(r.outcome)).length;
  return {
    audience,
    runs: mine.length,
    right: count((o) => o.right),
    wrongPart: count((o) => o.wrongPart),
    unsafeAsk: count((o) => o.unsafeAsk),
    stuck: count((o) => o.stuck),
    minutes: round(mine.reduce((sum, r) => sum + r.outcome.minutes, 0) / Math.max(1, mine.length)),
  };
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

function print(out: {
  machine: string;
  date: string;
  minutes: Minutes[];
  turnMs: object;
  consultMs: object;
  worlds: ReturnType<typeof row>[];
  questions: { audience: Audience; median: number }[];
  slips: ReturnType<typeof slipRow>[];
}): void {
  console.log(`${out.machine}; ${out.date}\n`);
  console.log('| complaint | machine | ours, min | fixed order, min | optimum, min | ours / optimum | ours / fixed |');
  console.log('|---|---|--:|--:|--:|--:|--:|');
  for (const m of out.minutes) {
    const best = typeof m.optimum === 'number' && m.optimum > 0 ? (m.ours / m.optimum).toFixed(3) : '-';
    const ratio = m.fixed > 0 ? (m.ours / m.fixed).toFixed(2) : '-';
    console.log(`| ${m.family} | ${m.circuit} | ${m.ours} | ${m.fixed} | ${m.optimum} | ${best} | ${ratio} |`);
  }
  const known = out.minutes.filter((m) => typeof m.optimum === 'number');
  const sum = (of: (m: Minutes) => number, all = out.minutes) => all.reduce((total, m) => total + of(m), 0);
  console.log(
    `\nall together: ours / optimum ${(sum((m) => m.ours, known) / sum((m) => m.optimum as number, known)).toFixed(3)} (${known.length} of ${out.minutes.length} computed), ours / fixed ${(sum((m) => m.ours) / sum((m) => m.fixed)).toFixed(2)}`,
  );
  console.log(
    '\n| complaint | who | worlds | right end | wrong part | unsafe request | missed referral | questions, median | minutes, mean |\n|---|---|--:|--:|--:|--:|--:|--:|--:|',
  );
  for (const r of out.worlds)
    console.log(
      `| ${r.family} | ${r.audience} | ${r.worlds} | ${r.right} | ${r.wrongPart} | ${r.unsafeAsk} | ${r.missedReferral} | ${r.questions} | ${r.minutes} |`,
    );
  console.log(`\nquestions over all complaints, median: ${out.questions.map((q) => `${q.audience} ${q.median}`).join(', ')}`);
  if (out.slips.some((r) => r.runs)) {
    console.log(
      '\n| who, with one slip | runs | right end | wrong part | unsafe request | stuck | minutes, mean |\n|---|--:|--:|--:|--:|--:|--:|',
    );
    for (const r of out.slips)
      console.log(`| ${r.audience} | ${r.runs} | ${r.right} | ${r.wrongPart} | ${r.unsafeAsk} | ${r.stuck} | ${r.minutes} |`);
  }
  console.log(`\nturn ${JSON.stringify(out.turnMs)} ms, consult ${JSON.stringify(out.consultMs)} ms`);
}
