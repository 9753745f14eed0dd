import type { z } from 'zod';
import type { CaseRecord } from '../types.ts';
import { answerSchema, audienceSchema, settingsSchema } from './schema.ts';
import { UnreadableCase } from './store.ts';

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
