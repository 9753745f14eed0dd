import { createConversation } from '../../server/conversation/index.ts';
import type { CaseRecord } from '../../server/types.ts';

/** Milliseconds of whole turns without the disk: a technician answers every question of one case in words. */
export async function turnMilliseconds(cases = 6): Promise<number[]> {
  const out: number[] = [];
  for (let i = 0; i < cases; i++) out.push(...(await oneCase()));
  return out;
}

async function oneCase(): Promise<number[]> {
  const conversation = await createConversation();
  const opened = await conversation.open({ audience: 'technician' });
  if ('problem' in opened) throw new Error(JSON.stringify(opened.problem));
  let record: CaseRecord = {
    id: 'bench',
    rev: 0,
    opened: '',
    audience: 'technician',
    settings: opened.settings,
    answers: opened.answers,
  };
  let reply = opened.reply;
  const out: number[] = [];
  const words = ['the drum turns but there is no heat', ...Array.from({ length: 40 }, () => '')];
  for (const first of words) {
    const ask = reply.ask;
    const text =
      first ||
      (ask?.kind === 'many'
        ? 'none of these'
        : ask?.kind === 'one'
          ? (ask.choices[0]?.label ?? 'not sure')
          : ask?.kind === 'readings'
            ? ask.reads.map(() => 'OL').join(', ')
            : '');
    if (!text) break;
    const from = performance.now();
    const turn = await conversation.say(record, text);
    out.push(performance.now() - from);
    if ('problem' in turn) break;
    record = {
      ...record,
      rev: record.rev + 1,
      settings: turn.settings ?? record.settings,
      answers: [...record.answers, ...turn.added],
    };
    reply = turn.reply;
  }
  return out;
}
