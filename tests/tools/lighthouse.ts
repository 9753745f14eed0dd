import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import lighthouse, { desktopConfig } from 'lighthouse';
import { chromium } from 'playwright-core';
import { buildAll, SERVER } from '../client/build-all.ts';
import { ARGS, findBrowser } from '../client/find-browser.ts';
import { start } from '../server/load/built-server.ts';

const HELP = `Runs Lighthouse on the built page, as on a phone and as on a desk.

  npm run lighthouse         build, serve, measure; fails below performance 95, accessibility 100, best practices 100`;

const LEAST = { performance: 0.95, accessibility: 1, 'best-practices': 1 } as const;

export async function main(args: string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(HELP);
    return 0;
  }
  await buildAll();
  const { executablePath, env } = await findBrowser();
  const data = mkdtempSync(join(tmpdir(), 'cold-drum-lighthouse-'));
  const { child, address, ended } = await start(SERVER, { COLD_DRUM_DATA: data, LOG_LEVEL: 'warn' });
  const port = await freePort();
  const browser = await chromium.launch({
    executablePath,
    args: [...ARGS, `--remote-debugging-port=${port}`],
    env: { ...process.env, ...env } as Record<string, string>,
  });
  try {
    let good = true;
    for (const [name, config] of [
      ['phone', undefined],
      ['desk', desktopConfig],
    ] as const) {
      const onlyCategories = Object.keys(LEAST);
      const result = await lighthouse(`${address}/`, { port, logLevel: 'error', onlyCategories }, config);
      if (!result) throw new Error('Lighthouse gave no result');
      const { categories, audits } = result.lhr;
      const scores = Object.entries(LEAST).map(([id, least]) => ({ id, least, score: categories[id]?.score ?? 0 }));
      good &&= scores.every(({ score, least }) => score >= least);
      const shown = scores.map(({ id, score }) => `${id} ${Math.round(score * 100)}`).join(', ');
      const times = ['first-contentful-paint', 'largest-contentful-paint', 'interactive', 'total-blocking-time'];
      console.log(`${name}: ${shown}; ${times.map((id) => `${id} ${Math.round(audits[id]?.numericValue ?? 0)} ms`).join(', ')}`);
      for (const { id } of scores)
        for (const { id: audit, weight } of categories[id]?.auditRefs ?? [])
          if (weight > 0 && (audits[audit]?.score ?? 1) < 0.9)
            console.log(`  ${id}: ${audits[audit]?.title} (${audits[audit]?.score})`);
    }
    return good ? 0 : 1;
  } finally {
    await browser.close();
    child.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  }
}

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => done(port));
    });
  });
