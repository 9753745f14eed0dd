import { beforeAll, describe, expect, test } from 'vitest';
import { wholeCase } from '../../../client/whole.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import type { Conversation } from '../../../server/conversation-port.ts';
import type { CaseView, ExplainedReply } from '../../../server/types.ts';
import { type App, fortyReadings, play, talks } from '../../tools/turns.ts';
import { testApp } from './ask.ts';

/** The app whose every answer is held against the published shape of its route, as something that can be played to. */
function strictApp(conversation: Conversation, seen: (path: string, body: Body) => void | Promise<void>, query = ''): App {
  const { ask } = testApp({ conversation });
  return {
    async request(path, { body } = {}) {
      const answer = await ask('POST', path + query, JSON.parse(String(body)));
      expect(answer.status, JSON.stringify(answer.body)).toBeLessThan(300);
      await seen(path, answer.body);
      return Response.json(answer.body);
    },
  };
}
// biome-ignore lint/suspicious/noExplicitAny: read from JSON
type Body = any;

/** Remembers what the conversation itself said last. */
function overheard(conversation: Conversation) {
  const last: { reply?: ExplainedReply; view?: CaseView } = {};
  const hear = <Turn extends object>(turn: Turn): Turn => {
    if ('reply' in turn) last.reply = turn.reply as ExplainedReply;
    if ('view' in turn) last.view = turn.view as CaseView;
    return turn;
  };
  const listening: Conversation = {
    ...conversation,
    open: async (input) => hear(await conversation.open(input)),
    say: async (record, text) => hear(await conversation.say(record, text)),
    answer: async (record, given) => hear(await conversation.answer(record, given)),
    undo: async (record) => hear(await conversation.undo(record)),
  };
  return { listening, last };
}

let conversation: Conversation;
beforeAll(async () => {
  conversation = await createConversation();
});
const bytes = (value: unknown): number => Buffer.byteLength(JSON.stringify(value));

describe('what the real conversation says, turn by turn', () => {
  test.each(talks().map((talk) => [talk.name, talk] as const))('%s: in the published shapes', async (_, talk) => {
    let turns = 0;
    await play(
      strictApp(conversation, (_path, body) => {
        turns++;
        expect(body.reply).not.toHaveProperty('consultation');
      }),
      talk,
    );
    expect(turns).toBeGreaterThan(talk.steps.length);
  });

  test.each(talks().map((talk) => [talk.name, talk] as const))(
    '%s: in them with all that the rules make of it',
    async (_, talk) => {
      await play(
        strictApp(
          conversation,
          (_path, body) =>
            expect(body.reply.consultation.stops.map((s: Body) => s.sign)).toEqual(
              (body.reply.stops ?? []).map((s: Body) => s.sign),
            ),
          '?explain=1',
        ),
        talk,
      );
    },
  );

  test('put together by the page it is what was said, but for what is shown nowhere', async () => {
    const { listening, last } = overheard(conversation);
    const drawn = new Set<string>();
    const { ask } = testApp({ conversation: listening });
    const get = async (id: string) => (await ask('GET', `/api/cases/${id}/drawing`)).body;
    for (const talk of talks()) {
      const { name } = talk;
      const app: App = {
        async request(path, { body } = {}) {
          const { body: sent } = await ask('POST', path, JSON.parse(String(body)));
          const { case: view, reply } = await wholeCase(sent, get);
          expect(shownOf(reply), name).toEqual(shownOf(last.reply!));
          expect({ ...view, id: '', rev: 0 }, name).toEqual(JSON.parse(JSON.stringify(last.view)));
          if (reply.ask?.wiring) drawn.add(reply.ask.wiring.drawing);
          return Response.json(sent);
        },
      };
      await play(app, talk);
    }
    expect(drawn.size).toBeGreaterThan(2);
  });
});

/** All of a reply that the page shows, numbers to the digits that are sent. */
function shownOf(reply: Body) {
  const { consultation: _, evidence, suspects, ask, ...rest } = reply;
  const digits = (range: Body) => range && [range.lo, range.hi].map((n: number) => Number(n.toPrecision(4)));
  const share = (n: number) => Number(n.toPrecision(4));
  return JSON.parse(
    JSON.stringify({
      ...rest,
      ask: ask && {
        ...ask,
        wiring: ask.wiring && {
          ...ask.wiring,
          branches: ask.wiring.branches.map((b: Body) => ({
            ...b,
            suspects: b.suspects.map((s: Body) => [s.label, share(s.share)]),
          })),
        },
      },
      evidence: evidence.map((row: Body) => {
        const judged = row.verdict !== 'noted' || row.expected;
        const { seq, fact, label, value, shown, said, unit } = row;
        const { verdict, verdictWords, standing, because, sources, expected, expectedShown, meter } = row;
        const told = { seq, fact, label, value, shown, said, unit, verdict };
        const band = [digits(expected), expected?.open ?? false, expected?.unit, expectedShown, digits(meter)];
        return judged ? { ...told, verdictWords, standing, because, sources, band } : told;
      }),
      live: suspects
        .filter((s: Body) => s.live)
        .map(({ faults, label, share: n, speaks }: Body) => [faults, label, share(n), speaks]),
      out: suspects.filter((s: Body) => !s.live).map(({ label, speaks }: Body) => [label, speaks]),
    }),
  );
}

describe('how much it is', () => {
  test('from the first reading to the fortieth a technician’s case is answered in 12,000 bytes, with the case beside it in 28,000', async () => {
    const read = (body: Body) => body.case.answers.filter((a: Body) => a.unit && a.value !== undefined).length;
    let [most, whole] = [0, 0];
    const last = await play(
      strictApp(conversation, (_path, body) => {
        if (!read(body)) return;
        most = Math.max(most, bytes(body.reply));
        whole = Math.max(whole, bytes(body));
      }),
      fortyReadings(),
    );
    expect(read(last)).toBeGreaterThanOrEqual(40);
    expect(last.reply.evidence.length).toBeGreaterThanOrEqual(40);
    expect(most).toBeLessThanOrEqual(12_000);
    expect(whole).toBeLessThanOrEqual(28_000);
  });
});
