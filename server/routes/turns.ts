import { zValidator } from '@hono/zod-validator';
import { type Context, Hono } from 'hono';
import { type Outcome, takeTurn } from '../cases/take-turn.ts';
import type { Turn } from '../conversation-port.ts';
import type { AppEnv, Deps } from '../deps.ts';
import { door, refuse } from '../errors.ts';
import type { CaseRecord } from '../types.ts';
import { answerParam, caseParam, changeBody, explainQuery, patchBody, sayBody, undoBody } from './bodies.ts';
import { NO_SUCH_CASE } from './look.ts';
import { present } from './present.ts';
import { sentCase } from './sent.ts';

const STALE =
  'The case was added to since that revision. Read it again, and send this on the revision given here if it still holds.';

interface Asked {
  rev?: number | undefined;
  /** The caller's key. */
  turn?: string | undefined;
}

/** Whatever adds to a case: each goes through `takeTurn`. */
export function turnRoutes({ conversation, store }: Deps) {
  const asked = zValidator('query', explainQuery, door);
  /** One turn of a case, asked for as `what`. */
  const taken = async (
    c: Context,
    id: string,
    { rev, turn: key }: Asked,
    what: unknown,
    take: (record: CaseRecord) => Promise<Turn>,
  ) => send(c, id, await takeTurn(store, id, { rev, key, what }, take));
  return new Hono<AppEnv>()
    .post('/:id/say', asked, zValidator('param', caseParam, door), zValidator('json', sayBody, door), async (c) => {
      const { text, answer, ...body } = c.req.valid('json');
      return taken(c, c.req.valid('param').id, body, ['say', text, answer], (record) =>
        answer ? conversation.answer(record, present(answer)) : conversation.say(record, text ?? ''),
      );
    })
    .post('/:id/undo', asked, zValidator('param', caseParam, door), zValidator('json', undoBody, door), async (c) =>
      taken(c, c.req.valid('param').id, c.req.valid('json'), ['undo'], conversation.undo),
    )
    .put('/:id/answers/:seq', asked, zValidator('param', answerParam, door), zValidator('json', changeBody, door), async (c) => {
      const { id, seq } = c.req.valid('param');
      const { value, ...body } = c.req.valid('json');
      return taken(c, id, body, ['change', seq, value], (record) => conversation.change(record, seq, value));
    })
    .patch('/:id', asked, zValidator('param', caseParam, door), zValidator('json', patchBody, door), async (c) => {
      const { rev, turn, ...settings } = c.req.valid('json');
      return taken(c, c.req.valid('param').id, { rev, turn }, ['patch', settings], (record) =>
        conversation.patch(record, present(settings)),
      );
    });
}

function send(c: Context, id: string, outcome: Outcome) {
  switch (outcome.is) {
    case 'done': {
      const { view, reply, understood } = outcome.turn;
      return c.json({ ...sentCase(id, outcome.rev, view, reply, c.req.query('explain') === '1'), understood }, 200);
    }
    case 'no-such-case':
      return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
    case 'stale':
      return refuse(c, 409, 'stale', { rev: outcome.rev, message: STALE });
    case 'key-reused':
      return refuse(c, 422, 'key-reused', { message: 'This turn’s key was used for something else in this case.' });
    case 'full':
      return refuse(c, 422, 'case-full', { message: 'This case holds as many answers as a case can. Open a new one.' });
    case 'refused':
      return refuse(c, 422, outcome.problem.code, outcome.problem);
  }
}
