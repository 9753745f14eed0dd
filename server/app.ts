import { Hono } from 'hono';
import { methodNotAllowed } from 'hono/method-not-allowed';
import type { AppEnv, Deps } from './deps.ts';
import { onError, refuse } from './errors.ts';
import { bodyAtMost32k, headers, jsonFromHere, notStored, requestLog } from './guards.ts';
import { document } from './openapi.ts';
import { rateLimit } from './rate-limit.ts';
import { readingRoutes } from './reading.ts';
import { aboutRoutes } from './routes/about.ts';
import { caseRoutes } from './routes/cases.ts';
import { routeList } from './routes/list.ts';

/**
 * The whole API as a value on web standards. Where it runs (Node, a service worker, a test) is the caller's business, and
 * so are clock, ids, storage and log.
 *
 * @example
 * const app = createApp({ conversation, store: memoryStore(), demos, now: () => new Date(), newId, log, clientKey: () => 'me', perMinute: 0, by: 'worker' });
 * await app.request('/api/health');
 */
export function createApp(deps: Deps) {
  const app = new Hono<AppEnv>();
  app.onError(onError(deps));
  app.notFound((c) => refuse(c, 404, 'no-such-page'));
  app.use(requestLog(deps), headers());
  app.use(
    methodNotAllowed({
      app,
      onMethodNotAllowed: (c, methods) => {
        c.header('allow', methods.join(', '));
        return refuse(c, 405, 'wrong-method');
      },
    }),
  );
  app.use('/api/*', notStored(), rateLimit(deps), jsonFromHere(), bodyAtMost32k());
  return app
    .route('/api/cases', caseRoutes(deps))
    .route('/api/reading', readingRoutes(deps))
    .route('/api', aboutRoutes(deps))
    .get('/openapi.json', (c) => c.json(document(routeList), 200));
}
/** For a typed client: `hc<App>('/')`. */
export type App = ReturnType<typeof createApp>;
