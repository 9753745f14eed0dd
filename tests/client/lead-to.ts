import { expect, inject } from 'vitest';
import type { Audience, TurnTaken } from '../../client/types.ts';
import type { AnswerInput } from '../../server/conversation-port.ts';
import { post } from '../server/load/built-server.ts';
import { wholeTurn } from './pages.ts';

/** What is answered where a test does not say otherwise: a dryer that stays cold, and nothing odd about it. */
export const USUAL: Record<string, string> = {
  'ask-kind': 'electric-vented',
  slots: 'four',
  qualified: 'yes',
  plate_supply: '120-240',
  complaint: 'no-heat',
  warm_in_5_min: 'cold',
  dial_automatic: 'still',
};
const MOST = 60;

/**
 * A case led over the API until a check is asked. Choices come from `told`, then from what is usual, then the first one;
 * a measured check that comes before has its readings in `readings` (by fact), else it is declined.
 * @returns the last reply, its question the wanted check
 */
export async function leadTo(
  check: string,
  told: Record<string, string> = {},
  readings: Record<string, number | 'open'> = {},
  audience: Audience = 'technician',
): Promise<TurnTaken & { id: string }> {
  const url = inject('url');
  let last = await wholeTurn(await (await post(url, '/api/cases', { audience })).text());
  const { id } = last.case;
  const asked: string[] = [];
  const answer = async (given: AnswerInput) => {
    const said = await post(url, `/api/cases/${id}/say`, { answer: given });
    const body = await said.text();
    expect(said.status, body).toBe(200);
    last = await wholeTurn(body);
  };
  for (let i = 0; i < MOST && last.reply.ask?.check !== check; i++) {
    const { ask } = last.reply;
    if (!ask) break;
    asked.push(ask.check);
    if (ask.kind === 'readings') {
      const have = ask.reads.filter(({ fact }) => fact in readings);
      if (have.length < ask.reads.length) await answer({ fact: ask.check, act: 'declined' });
      else for (const { fact } of have) await answer({ fact, value: readings[fact]!, check: ask.check });
    } else {
      const { fact = '', id: first } = ask.choices[0]!;
      const value = ask.kind === 'many' ? 'none' : (told[fact] ?? USUAL[fact] ?? first);
      await answer({ fact, value });
    }
  }
  expect(last.reply.ask?.check, `asked on the way: ${asked.join(', ')}`).toBe(check);
  return { ...last, id };
}

/** Readings told to a case over the API, asked or not. @returns the last reply */
export async function tell(
  id: string,
  readings: [check: string, fact: string, value: number | 'open' | string][],
): Promise<TurnTaken> {
  let last: TurnTaken | undefined;
  for (const [check, fact, value] of readings) {
    const said = await post(inject('url'), `/api/cases/${id}/say`, { answer: { check, fact, value } });
    const body = await said.text();
    expect(said.status, body).toBe(200);
    last = await wholeTurn(body);
  }
  return last!;
}
