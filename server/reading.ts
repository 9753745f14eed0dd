import { zValidator } from '@hono/zod-validator';
import { Hono } from 'hono';
import type { ReadingInput } from './conversation-port.ts';
import type { AppEnv, Deps } from './deps.ts';
import { door, refuse } from './errors.ts';
import { readingBody } from './routes/bodies.ts';

/** One reading judged now, without a case: nothing is asked, nothing is kept. */
export const readingRoutes = ({ conversation }: Pick<Deps, 'conversation'>) =>
  new Hono<AppEnv>().post('/', zValidator('json', readingBody, door), async (c) => {
    const judged = await conversation.reading(c.req.valid('json') as ReadingInput);
    if ('problem' in judged) return refuse(c, 422, judged.problem.code, judged.problem);
    return c.json(judged, 200);
  });
