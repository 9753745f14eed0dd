import type { MiddlewareHandler } from 'hono';
import type { AppEnv, Deps } from './deps.ts';
import { refuse } from './errors.ts';

const WINDOW_MS = 60_000;
/** Above this many clients the counts of past windows are dropped; memory stays bounded. */
const MANY = 10_000;

/** Counts requests a client and minute, in memory: enough to keep one runaway program from starving everybody else. */
export function rateLimit({
  now,
  clientKey,
  perMinute,
}: Pick<Deps, 'now' | 'clientKey' | 'perMinute'>): MiddlewareHandler<AppEnv> {
  const seen = new Map<string, { since: number; count: number }>();
  return async function rateLimit(c, next) {
    if (perMinute === 0) return next();
    const key = clientKey(c);
    const at = now().getTime();
    let entry = seen.get(key);
    if (!entry || at - entry.since >= WINDOW_MS) {
      if (seen.size >= MANY) for (const [k, e] of seen) if (at - e.since >= WINDOW_MS || seen.size > 2 * MANY) seen.delete(k);
      entry = { since: at, count: 0 };
      seen.set(key, entry);
    }
    entry.count++;
    if (entry.count <= perMinute) return next();
    const wait_s = Math.max(1, Math.ceil((entry.since + WINDOW_MS - at) / 1000));
    c.header('retry-after', String(wait_s));
    return refuse(c, 429, 'too-many', { wait_s });
  };
}
