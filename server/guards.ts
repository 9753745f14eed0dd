import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { secureHeaders } from 'hono/secure-headers';
import type { AppEnv, Deps } from './deps.ts';
import { maskedPath, refuse } from './errors.ts';

/** Scripts and styles only from our own files: none inline, none evaluated. No HSTS, since the program itself speaks plain http. */
export const headers = () =>
  secureHeaders({
    contentSecurityPolicy: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      fontSrc: ["'self'"],
      connectSrc: ["'self'"],
      workerSrc: ["'self'"],
      manifestSrc: ["'self'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
    xFrameOptions: 'DENY',
    referrerPolicy: 'no-referrer',
    strictTransportSecurity: false,
    permissionsPolicy: { camera: [], geolocation: [], payment: [] },
  });

export const bodyAtMost32k = () => bodyLimit({ maxSize: 32 * 1024, onError: (c) => refuse(c, 413, 'too-large') });

/**
 * Bodies are JSON and say so, and no foreign page may send one. A form on another site can neither set this type nor
 * hide where it comes from, so nothing more is needed against forged requests.
 */
export const jsonFromHere = (): MiddlewareHandler<AppEnv> =>
  async function jsonFromHere(c, next) {
    if (c.req.method === 'GET' || c.req.method === 'HEAD') return next();
    if (c.req.header('sec-fetch-site') === 'cross-site') return refuse(c, 403, 'cross-site');
    const type = c.req.header('content-type');
    if (type !== undefined && !/^application\/json(\s*;|$)/i.test(type)) return refuse(c, 400, 'not-json');
    return next();
  };

/** One line a request: id, method, path, status, milliseconds. */
export const requestLog = ({ now, newId, log }: Deps): MiddlewareHandler<AppEnv> =>
  async function requestLog(c, next) {
    const from = now().getTime();
    const id = newId().slice(0, 12);
    c.set('requestId', id);
    await next();
    c.header('x-request-id', id);
    log.request({
      id,
      method: c.req.method,
      path: maskedPath(c.req.path),
      status: c.res.status,
      ms: now().getTime() - from,
    });
  };

/** A case is private and changes with every turn. */
export const notStored = (): MiddlewareHandler<AppEnv> =>
  async function notStored(c, next) {
    await next();
    if (!c.res.headers.has('cache-control')) c.header('cache-control', 'no-store');
  };
