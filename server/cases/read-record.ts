import type { z } from 'zod';
import type { CaseRecord } from '../types.ts';
import { answerSchema, audienceSchema, settingsSchema } from './schema.ts';
import { type CaseHistory, UnreadableCase } from './store.ts';

export interface StoredCase {
  id: string;
  opened: string;
  audience: string;
  rev: number;
  /** JSON texts, in order of seq. */
  settings: string;
  answers: { seq: number; body: string }[];
}

/** @throws UnreadableCase naming the first row that is not what we wrote */
export function readRecord(stored: StoredCase): CaseRecord {
  const settings = parse(settingsSchema, stored.settings, `settings of revision ${stored.rev}`);
  const answers = stored.answers.map(({ seq, body }) => {
    const answer = parse(answerSchema, body, `answer ${seq}`);
    if (answer.seq !== seq) throw new UnreadableCase(`answer ${seq} of a stored case says it is ${answer.seq}`);
    return answer;
  });
  const audience = audienceSchema.safeParse(settings.audience ?? stored.audience);
  if (!audience.success) throw new UnreadableCase('the audience of a stored case is not one we know');
  return { id: stored.id, rev: stored.rev, opened: stored.opened, audience: audience.data, settings, answers };
}

export interface StoredHistory {
  id: string;
  opened: string;
  audience: string;
  /** In order of revision; `settings` is a JSON text. */
  turns: { rev: number; settings: string; key?: string | null | undefined; asked?: string | null | undefined }[];
  /** JSON texts, in order of seq. */
  answers: { seq: number; rev: number; body: string }[];
}

/** @throws UnreadableCase naming the first row that is not what we wrote */
export function readHistory({ id, opened, audience, turns, answers }: StoredHistory): CaseHistory {
  const by = audienceSchema.safeParse(audience);
  if (!by.success) throw new UnreadableCase('the audience of a stored case is not one we know');
  return {
    id,
    opened,
    audience: by.data,
    turns: turns.map(({ rev, settings, key, asked }) => ({
      rev,
      settings: parse(settingsSchema, settings, `settings of revision ${rev}`),
      answers: answers.filter((a) => a.rev === rev).map((a) => parse(answerSchema, a.body, `answer ${a.seq}`)),
      ...(key && { key, asked: asked ?? '' }),
    })),
  };
}

function parse<T>(schema: z.ZodType<T>, json: string, what: string): T {
  let raw: unknown;
  try {
    raw = JSON.parse(json);
  } catch {
    // The parser's own message quotes the text, which a person may have typed.
    throw new UnreadableCase(`${what} of a stored case is not JSON`);
  }
  const parsed = schema.safeParse(raw);
  if (parsed.success) return parsed.data;
  const where = parsed.error.issues.map((i) => `${i.path.join('.') || '(root)'}: ${i.code}`).join(', ');
  throw new UnreadableCase(`${what} of a stored case is not readable (${where})`);
}
