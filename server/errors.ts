import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { Deps } from './deps.ts';

/** Every error the API answers. `code` is for programs and stays stable; `message`, where there is one, is for people. */
export interface ErrorBody {
  error: { code: string; message?: string; [more: string]: unknown };
}

export const refuse = <S extends ContentfulStatusCode>(c: Context, status: S, code: string, more: Record<string, unknown> = {}) =>
  c.json<ErrorBody, S>({ error: { code, ...more } }, status);

interface Issue {
  path: readonly PropertyKey[];
  message: string;
}
/** Hook for zod at the door: every problem with its place, not the first alone. What was sent is not repeated. */
export const door = (result: { success: boolean; error?: { issues: readonly Issue[] } }, c: Context) => {
  if (result.success) return;
  const problems = (result.error?.issues ?? []).slice(0, 20).map((i) => ({ at: i.path.join('.'), message: i.message }));
  return refuse(c, 400, 'not-readable', { problems });
};

/** A 500 is logged in full and answered in one word: what went wrong inside is nobody's business outside. */
export const onError = (deps: Deps) => (error: unknown, c: Context) => {
  if (error instanceof HTTPException && error.status === 400) return refuse(c, 400, 'not-json');
  if (error instanceof HTTPException && error.status === 413) return refuse(c, 413, 'too-large');
  deps.log.unexpected(error, { id: c.get('requestId'), method: c.req.method, path: maskedPath(c.req.path) });
  return refuse(c, 500, 'unexpected');
};

/** Whoever has a case's id has the case, so a log shows only its first letters. */
export const maskedPath = (path: string) => path.replace(/^(\/api\/cases\/[^/]{6})[^/]*/, '$1…');
