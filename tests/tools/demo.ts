import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { z } from 'zod';
import { audienceSchema, machineSchema, takenSchema, unitSchema, unitsSchema } from '../../server/cases/schema.ts';
import { createConversation } from '../../server/conversation/index.ts';
import type { AnswerInput, Conversation, Turn } from '../../server/conversation-port.ts';
import type { CaseRecord, ExplainedReply as Reply } from '../../server/types.ts';

const HELP = `The invented talks of transcripts-demo, replayed: every reply must be the one that is written there.

  npm run demo             replay all; exit code 1 if a reply differs
  npm run demo -- NAME     replay one, and print it
  npm run demo -- --write  write down the replies as they are now; look at the difference before you keep it`;

const step = z.union([
  z.strictObject({ say: z.string().min(1) }),
  z.strictObject({
    answer: z.strictObject({
      fact: z.string(),
      value: z.union([z.number(), z.string()]).optional(),
      act: z.enum(['tell', 'unsure', 'declined', 'later']).optional(),
      check: z.string().optional(),
      unit: unitSchema.optional(),
      ...takenSchema.shape,
    }),
  }),
  z.strictObject({ undo: z.literal(true) }),
]);
const talkSchema = z.strictObject({
  name: z.string(),
  title: z.string(),
  scenario: z.string(),
  audience: audienceSchema,
  units: unitsSchema.optional(),
  machine: machineSchema.optional(),
  steps: z.array(step).min(1),
  /** One for the opening and one for each step. Absent = not written yet. */
  replies: z.array(z.unknown()).optional(),
});
export type Talk = z.infer<typeof talkSchema>;
/** What of a reply is kept: what is said and asked, and where the case stands. */
export interface Kept {
  parts: { kind: string; text: string }[];
  ask?: { check: string; choices?: string[]; reads?: string[] };
  stops?: string[];
  end?: { is: string; faults: string[] };
  refer?: { trades: string[]; mayUse: string; priority: number };
}

/** Plays a talk against the conversation. @returns one kept reply for the opening and each step; a refusal is kept as its problem. */
export async function play(conversation: Conversation, talk: Talk): Promise<(Kept | { problem: string })[]> {
  const opened = await conversation.open({
    audience: talk.audience,
    ...(talk.units && { units: talk.units }),
    ...(talk.machine && { machine: talk.machine as NonNullable<CaseRecord['settings']['machine']> }),
  });
  if ('problem' in opened) return [{ problem: opened.problem.message }];
  let record: CaseRecord = {
    id: talk.name,
    rev: 1,
    opened: '',
    audience: talk.audience,
    settings: opened.settings,
    answers: opened.answers,
  };
  const out: (Kept | { problem: string })[] = [keep(opened.reply)];
  for (const one of talk.steps) {
    const turn = await take(conversation, record, one);
    if ('problem' in turn) {
      out.push({ problem: turn.problem.message });
      continue;
    }
    out.push(keep(turn.reply));
    record = {
      ...record,
      rev: record.rev + 1,
      settings: turn.settings ?? record.settings,
      answers: [...record.answers, ...turn.added],
    };
  }
  return out;
}
const take = (c: Conversation, record: CaseRecord, one: Talk['steps'][number]): Promise<Turn> =>
  'say' in one ? c.say(record, one.say) : 'answer' in one ? c.answer(record, one.answer as AnswerInput) : c.undo(record);

function keep({ parts, ask, consultation: c }: Reply): Kept {
  const kept: Kept = { parts: parts.map(({ kind, text }) => ({ kind, text })) };
  if (ask) {
    kept.ask = { check: ask.check };
    if (ask.choices.length) kept.ask.choices = ask.choices.map((x) => x.id);
    if (ask.reads.length) kept.ask.reads = ask.reads.map((x) => x.fact);
  }
  if (c.stops.length) kept.stops = c.stops.map((s) => s.sign);
  if (c.conclusion) kept.end = c.conclusion;
  if (c.referral) kept.refer = { trades: c.referral.trades, mayUse: c.referral.mayUse, priority: c.referral.priority };
  return kept;
}

/** Where two lists of replies first differ, in a sentence; undefined = they are the same. */
export function difference(written: readonly unknown[], now: readonly unknown[]): string | undefined {
  if (written.length !== now.length) return `${written.length} replies are written, ${now.length} were given`;
  const at = written.findIndex((w, i) => JSON.stringify(w) !== JSON.stringify(now[i]));
  if (at < 0) return undefined;
  return `reply ${at} differs\n    written: ${JSON.stringify(written[at])}\n    now:     ${JSON.stringify(now[at])}`;
}

export async function main(args: string[]): Promise<number> {
  return run(args, await createConversation(), resolve('transcripts-demo'), console.log);
}

/** @returns the exit code: 0 all as written (or written now), 1 a reply differs, 2 nothing to play or not readable */
export async function run(
  args: string[],
  conversation: Conversation,
  folder: string,
  print: (text: string) => void,
): Promise<number> {
  if (args.includes('--help')) {
    print(HELP);
    return 0;
  }
  const write = args.includes('--write');
  const only = args.find((a) => !a.startsWith('--'));
  const files = (await readdir(folder).catch(() => [] as string[])).filter((f) => f.endsWith('.json')).sort();
  const wanted = only === undefined ? files : files.filter((f) => f === `${only}.json`);
  if (!wanted.length) {
    print(
      only === undefined
        ? `There are no talks in ${folder}.`
        : `There is no talk "${only}". There are: ${files.join(', ') || 'none'}.`,
    );
    return 2;
  }
  let code = 0;
  for (const file of wanted) {
    const path = join(folder, file);
    const read = readTalk(await readFile(path, 'utf8'));
    if (typeof read === 'string' || `${read.name}.json` !== file) {
      print(`${file}: ${typeof read === 'string' ? read : `its name is "${read.name}"; it must be the file's`}`);
      code = 2;
      continue;
    }
    const replies = await play(conversation, read);
    if (write) await writeFile(path, `${JSON.stringify({ ...read, replies }, null, 2)}\n`);
    const differs = write ? undefined : difference(read.replies ?? [], replies);
    print(`${differs ? 'differs' : write ? 'written' : 'same'}  ${file}  ${read.title}${differs ? `\n    ${differs}` : ''}`);
    if (only !== undefined) print(shown(read, replies));
    if (differs && code === 0) code = 1;
  }
  return code;
}

function readTalk(text: string): Talk | string {
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return 'it is not JSON';
  }
  const parsed = talkSchema.safeParse(raw);
  return parsed.success ? parsed.data : parsed.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`).join('; ');
}

function shown(talk: Talk, replies: readonly (Kept | { problem: string })[]): string {
  const said = (one: Talk['steps'][number] | undefined) =>
    one === undefined
      ? ''
      : 'say' in one
        ? `\n> ${one.say}\n`
        : 'answer' in one
          ? `\n> ${one.answer.fact}: ${one.answer.value ?? one.answer.act}\n`
          : '\n> undo\n';
  return replies
    .map(
      (r, i) => said(talk.steps[i - 1]) + ('problem' in r ? r.problem : r.parts.map((p) => `[${p.kind}] ${p.text}`).join('\n')),
    )
    .join('\n');
}
