import { html, raw } from 'hono/html';
import type { Sheet } from '../conversation-port.ts';
import { markdown } from '../markdown.ts';
import type { RouteDoc } from '../openapi.ts';

/** Two plain pages without a script. Their one style sheet is a route of its own, since the policy allows nothing inline. */
const page = (title: string, body: unknown, language = 'en', look = '') => html`<!doctype html>
<html lang="${language}">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title}</title>
<link rel="stylesheet" href="/api/page.css"></head>
<body class="${look}"><main>${body}</main></body>
</html>`;

/** Signs up to which a sheet fits one page in the usual small print. Nothing measures here: the page has no script. */
const LONG = 7000;
export const sheetPage = (sheet: Sheet) =>
  page(sheet.title ?? 'Job sheet', raw(markdown(sheet.markdown)), sheet.language, sheet.markdown.length > LONG ? 'long' : '');

export const notBuiltPage = () =>
  page(
    'Cold Drum',
    html`<h1>The page is not built yet</h1>
<p>The program runs, but its page is missing. Stop it, run <code>npm run build</code>, and start it again.</p>
<p>The API works without the page: <a href="/api/docs">how to call it</a>.</p>`,
  );

interface Documented {
  info: { title: string; version: string };
  components: { schemas: Record<string, unknown> };
}
export const docsPage = (routes: readonly RouteDoc[], doc: Documented) =>
  page(
    `${doc.info.title} API`,
    html`<h1>${doc.info.title} API</h1>
<p>Version ${doc.info.version}. For programs: <a href="/openapi.json">OpenAPI 3.1</a>.</p>
${routes.map(
  (r) => html`<section><h2><code>${r.method.toUpperCase()} ${r.path}</code></h2><p>${r.summary}</p>
<p>Answers ${Object.keys(r.answers).join(', ')}${r.errors.length > 0 ? `, or an error: ${r.errors.join(', ')}` : ''}.</p></section>`,
)}
<h2>Shapes</h2>
${Object.entries(doc.components.schemas).map(
  ([name, schema]) => html`<details><summary>${name}</summary><pre>${JSON.stringify(schema, null, 2)}</pre></details>`,
)}`,
  );

const cut = (file: string, weight: number, signs = '') =>
  `@font-face { font-family: "Sheet Text"; src: url(/fonts/${file}.woff2) format("woff2"); font-weight: ${weight}; font-display: swap; ${signs} }`;
const OHM = 'unicode-range: U+03A9;';
/** In the page's own letters, where that is built. */
export const PAGE_CSS = `${cut('text-400', 400)}
${cut('text-omega-400', 400, OHM)}
${cut('text-700', 700)}
${cut('text-omega-700', 700, OHM)}
:root { color-scheme: light; }
body { margin: 0; font: 17px/1.45 "Sheet Text", Arial, sans-serif; color: #1b1f23; background: #fff; }
main { max-width: 46rem; margin: 0 auto; padding: 1.5rem 1rem; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; } h2 { font-size: 1.15rem; margin-top: 1.6rem; }
table { border-collapse: collapse; width: 100%; } th, td { border: 1px solid #8a939b; padding: .3rem .5rem; text-align: left; vertical-align: top; }
pre { overflow-x: auto; background: #f3f5f6; padding: .6rem; } a { color: #0b4f8a; }
@page { margin: 8mm; }
@media print { main { max-width: none; padding: 0; columns: 2; column-gap: 5mm; } body { font-size: 6.8pt; line-height: 1.2; } body.long { font-size: 6pt; }
h1 { font-size: 11pt; margin: 0; } h2 { font-size: 8pt; margin: 1.2mm 0 .4mm; border-bottom: .6pt solid #000; } p, ul, blockquote { margin: .5mm 0; } ul { padding-left: 3mm; }
table { column-span: all; } th, td { padding: .2mm .8mm; } td:nth-child(5) { white-space: nowrap; } h2, table tr { break-inside: avoid; } a { color: inherit; } }
`;
