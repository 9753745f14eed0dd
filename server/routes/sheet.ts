import type { Context } from 'hono';
import { accepts } from 'hono/accepts';
import type { Sheet } from '../conversation-port.ts';
import { sheetPage } from './pages.ts';

const TYPES = ['application/json', 'text/markdown', 'text/html'];
const BY_NAME = { json: TYPES[0], markdown: TYPES[1], page: TYPES[2] };

/** The job sheet as asked for: `as` wins, then the Accept header, then JSON. */
export function sendSheet(c: Context, sheet: Sheet, as: keyof typeof BY_NAME | undefined) {
  const type = as ? BY_NAME[as] : accepts(c, { header: 'Accept', supports: TYPES, default: TYPES[0]! });
  c.header('vary', 'accept');
  if (type === 'text/html') return c.html(sheetPage(sheet));
  if (type === 'text/markdown') return c.body(sheet.markdown, 200, { 'content-type': 'text/markdown; charset=utf-8' });
  return c.json(sheet.json, 200);
}
