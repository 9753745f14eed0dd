import { zValidator } from '@hono/zod-validator';
import { Hono } from 'hono';
import type { AppEnv, Deps } from './deps.ts';
import { door, refuse } from './errors.ts';
import { readingInput } from './shapes/input.ts';

/** One reading judged now, without a case: nothing is asked, nothing is kept. */
export const readingRoutes = ({ conversation }: Pick<Deps, 'conversation'>) =>
  new Hono<AppEnv>().post('/', zValidator('json', readingInput, door), async (c) => {
    const judged = await conversation.reading(c.req.valid('json'));
    if ('problem' in judged) return refuse(c, 422, judged.problem.code, judged.problem);
    return c.json(judged, 200);
  });
