import { zValidator } from '@hono/zod-validator';
import { Hono } from 'hono';
import type { AppEnv, Deps } from '../deps.ts';
import { door, refuse } from '../errors.ts';
import { caseParam, explainQuery, sheetQuery, turnsQuery } from './bodies.ts';
import { sentCase } from './sent.ts';
import { sendSheet } from './sheet.ts';

export const NO_SUCH_CASE = { message: 'No case is kept here under this id. Check the id, or open a new case.' };

/** Whatever looks at a case and leaves it as it is. */
export function lookRoutes({ conversation, store }: Deps) {
  const asked = zValidator('query', explainQuery, door);
  const which = zValidator('param', caseParam, door);
  return new Hono<AppEnv>()
    .get('/:id/turns', which, zValidator('query', turnsQuery, door), async (c) => {
      const history = await store.history(c.req.valid('param').id, c.req.valid('query').after);
      return history ? c.json(history, 200) : refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
    })
    .get('/:id/drawing', which, async (c) => {
      const record = await store.get(c.req.valid('param').id);
      const drawing = record && (await conversation.drawing(record));
      return drawing ? c.json(drawing, 200) : refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
    })
    .get('/:id', which, asked, async (c) => {
      const record = await store.get(c.req.valid('param').id);
      if (!record) return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
      const turn = await conversation.look(record);
      if ('problem' in turn) return refuse(c, 422, turn.problem.code, turn.problem);
      return c.json(sentCase(record.id, record.rev, turn.view, turn.reply, c.req.valid('query').explain === '1'), 200);
    })
    .get('/:id/sheet', which, zValidator('query', sheetQuery, door), async (c) => {
      const record = await store.get(c.req.valid('param').id);
      if (!record) return refuse(c, 404, 'no-such-case', NO_SUCH_CASE);
      return sendSheet(c, await conversation.sheet(record), c.req.valid('query').as);
    });
}
