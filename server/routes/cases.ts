import { Hono } from 'hono';
import type { AppEnv, Deps } from '../deps.ts';
import { lookRoutes } from './look.ts';
import { openRoutes } from './open.ts';
import { turnRoutes } from './turns.ts';

/** Talking: open a case, add to it, look at it, take it along. */
export const caseRoutes = (deps: Deps) =>
  new Hono<AppEnv>().route('/', openRoutes(deps)).route('/', turnRoutes(deps)).route('/', lookRoutes(deps));
