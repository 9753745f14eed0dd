import { zValidator } from '@hono/zod-validator';
import { Hono } from 'hono';
import type { AppEnv, Deps } from '../deps.ts';
import { door, refuse } from '../errors.ts';
import { document } from '../openapi.ts';
import { demoParam } from './bodies.ts';
import { routeList } from './list.ts';
import { docsPage, PAGE_CSS } from './pages.ts';

/** What the program says of itself: alive, what it knows, how it is called, what a talk with it looks like. */
export function aboutRoutes({ conversation, demos, by }: Deps) {
  return new Hono<AppEnv>()
    .get('/health', (c) => c.json({ ok: true as const, by, knowledge: conversation.catalogue().version }, 200))
    .get('/knowledge', (c) => c.json(conversation.catalogue(), 200))
    .get('/demo', async (c) => c.json(await demos.list(), 200))
    .get('/demo/:name', zValidator('param', demoParam, door), async (c) => {
      const demo = await demos.read(c.req.valid('param').name);
      return demo ? c.json(demo, 200) : refuse(c, 404, 'no-such-demo');
    })
    .get('/docs', (c) => c.html(docsPage(routeList, document(routeList))))
    .get('/page.css', (c) =>
      c.body(PAGE_CSS, 200, { 'content-type': 'text/css; charset=utf-8', 'cache-control': 'max-age=3600' }),
    );
}
