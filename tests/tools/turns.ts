import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { runnerImport } from 'vite';
import longTalk from '../data/forty-readings.json' with { type: 'json' };

const HELP = `What a turn costs: the invented talks and a technician's forty readings, over the app in this process.

  npm run turns                    this program
  npm run turns -- FOLDER ...      each of these checkouts, in turn, in the same run; ask for several to compare them
  npm run turns -- --rounds N      how often each talk is played (5); the first time is not counted

Processor milliseconds of a turn (median, 90 in 100, most) and bytes of its answer.`;

/** Anything that answers requests: all that is used of a program. */
export interface App {
  request(path: string, init?: RequestInit): Response | Promise<Response>;
}
type Step = { say: string } | { answer: Record<string, unknown> } | { undo: true };
export interface Talk {
  name: string;
  open: Record<string, unknown>;
  /** Lists of choices that are asked before the steps are answered so; what is not here is answered "none", else its first choice. */
  usual?: Record<string, string>;
  steps: Step[];
}
export interface TurnCost {
  talk: string;
  cpu_ms: number;
  bytes: number;
}
// biome-ignore lint/suspicious/noExplicitAny: an older program's answers have shapes of their own
type Body = any;

/** The talks of the transcripts, then the long one. */
export function talks(folder = 'transcripts-demo'): Talk[] {
  const files = readdirSync(folder).filter((f) => f.endsWith('.json'));
  const demos = files.sort().map((f): Talk => {
    const { name, audience, units, machine, steps } = JSON.parse(readFileSync(join(folder, f), 'utf8'));
    return { name, open: { audience, ...(units && { units }), ...(machine && { machine }) }, steps };
  });
  return [...demos, fortyReadings()];
}

/** A technician who reads all there is to read on one machine, and asks something now and then. */
export const fortyReadings = (): Talk => longTalk as unknown as Talk;

const MOST_LISTS = 25;

/** Plays a talk over the app; `each` is told what every turn cost. @returns the last answer */
export async function play(app: App, talk: Talk, each: (cost: TurnCost) => void = () => {}): Promise<Body> {
  const send = async (path: string, body: unknown): Promise<Body> => {
    const from = process.cpuUsage();
    const init = { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
    const text = await (await app.request(path, init)).text();
    const { user, system } = process.cpuUsage(from);
    each({ talk: talk.name, cpu_ms: (user + system) / 1000, bytes: Buffer.byteLength(text) });
    return JSON.parse(text);
  };
  let last = await send('/api/cases', talk.open);
  const at = `/api/cases/${last.case.id}`;
  for (const step of talk.steps) {
    for (let i = 0; talk.usual && 'answer' in step && i < MOST_LISTS && last.reply?.ask?.choices.length > 0; i++) {
      const { check, choices, kind } = last.reply.ask;
      if (step.answer.fact === check) break;
      const fact = kind === 'many' ? check : (choices[0].fact ?? check);
      last = await send(`${at}/say`, { answer: { fact, value: kind === 'many' ? 'none' : (talk.usual[fact] ?? choices[0].id) } });
    }
    last = 'undo' in step ? await send(`${at}/undo`, {}) : await send(`${at}/say`, 'say' in step ? { text: step.say } : step);
  }
  return last;
}

/** The app of the program in a folder, with a store of its own in memory. */
export async function appIn(folder: string): Promise<App> {
  const load = async (file: string): Promise<Body> =>
    (await runnerImport(join(resolve(folder), file), { configFile: false, logLevel: 'error' })).module;
  const [{ createApp }, { createConversation }, { memoryStore }] = [
    await load('server/app.ts'),
    await load('server/conversation/index.ts'),
    await load('server/cases/memory.ts'),
  ];
  let ids = 0;
  return createApp({
    conversation: await createConversation(),
    store: memoryStore(),
    demos: { list: async () => [], read: async () => undefined },
    now: () => new Date(0),
    newId: () => `case-${String(++ids).padStart(24, '0')}`,
    log: { request: () => {}, unexpected: (e: unknown) => console.error(e) },
    clientKey: () => 'one',
    perMinute: 0,
    by: 'server',
  });
}

const quantile = (sorted: readonly number[], q: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? 0;

/** One line: median, 90 in 100 and most. */
export function told(costs: readonly TurnCost[]): string {
  const ms = costs.map((c) => c.cpu_ms).sort((a, b) => a - b);
  const bytes = costs.map((c) => c.bytes).sort((a, b) => a - b);
  const of = (list: number[], digits: number) => [0.5, 0.9, 1].map((q) => quantile(list, q).toFixed(digits)).join(' / ');
  return `${costs.length} turns; ms ${of(ms, 1)}; bytes ${of(bytes, 0)}`;
}

export async function main(args: string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(HELP);
    return 0;
  }
  const at = args.indexOf('--rounds');
  const [, given] = at < 0 ? [] : args.splice(at, 2);
  const rounds = Number(given ?? 5);
  if (!Number.isInteger(rounds) || rounds < 2) {
    console.error('--rounds wants a whole number from 2 on.');
    return 2;
  }
  const programs: { folder: string; app: App; costs: TurnCost[] }[] = [];
  for (const folder of args.length ? args : ['.']) programs.push({ folder, app: await appIn(folder), costs: [] });
  const all = talks();
  for (let round = 0; round < rounds; round++)
    for (const talk of all) for (const p of programs) await play(p.app, talk, (cost) => round > 0 && p.costs.push(cost));
  const long = fortyReadings().name;
  for (const { folder, costs } of programs) {
    console.log(`${folder}\n  the talks         ${told(costs.filter((c) => c.talk !== long))}`);
    console.log(`  forty readings    ${told(costs.filter((c) => c.talk === long))}`);
  }
  return 0;
}
