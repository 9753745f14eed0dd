import { mkdtempSync, rmSync } from 'node:fs';
import { mkdir, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { buildAll, SERVER } from '../client/build-all.ts';
import { AT_COIL, CUT_OFF_OPEN, GAS } from '../client/cases.ts';
import { ARGS, findBrowser } from '../client/find-browser.ts';
import { post, start } from '../server/load/built-server.ts';

const HELP = `Pictures of the page for the README, taken of the built program with three short invented cases.

  npm run pictures           build, lead the cases, write client/pictures/*.png`;

const FOLDER = resolve('client/pictures');
const MOST_BYTES = 150_000;
const DESK = { width: 1040, height: 690 };
const LOW_DESK = { width: 1120, height: 600 };
const TALL_DESK = { width: 1120, height: 940 };
const CALL = ['caller says the drum goes round but the air stays cold'];
const PHONE = { width: 360, height: 640 };

export async function main(args: string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(HELP);
    return 0;
  }
  await buildAll();
  const { executablePath, env } = await findBrowser();
  const data = mkdtempSync(join(tmpdir(), 'cold-drum-pictures-'));
  const { child, address, ended } = await start(SERVER, { COLD_DRUM_DATA: data, LOG_LEVEL: 'warn' });
  const browser = await chromium.launch({
    executablePath,
    args: ARGS,
    env: { ...process.env, ...env } as Record<string, string>,
  });
  try {
    await mkdir(FOLDER, { recursive: true });
    return (await takeAll(browser, address)) ? 0 : 1;
  } finally {
    await browser.close();
    child.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  }
}

/** @returns whether every picture is small enough to sit in a README */
async function takeAll(browser: Browser, address: string): Promise<boolean> {
  const fed = await lead(address, 'technician', AT_COIL);
  const open = await lead(address, 'technician', CUT_OFF_OPEN);
  const call = await lead(address, 'agent', CALL);
  const gas = await lead(address, 'homeowner', GAS);
  const sizes = [
    await take(browser, 'start', LOW_DESK, address, ''),
    await take(browser, 'case', DESK, address, `#case/${fed}`, toQuestion),
    await take(browser, 'case-phone', PHONE, address, `#case/${fed}`, toQuestion),
    await take(browser, 'stop-phone', PHONE, address, `#case/${gas}`),
    await take(browser, 'agent', DESK, address, `#case/${call}`, async (page) => {
      await page.locator('.so-far-rows').waitFor();
    }),
    await take(browser, 'job-sheet', TALL_DESK, address, `#sheet/${open}`),
    await take(browser, 'one-reading', TALL_DESK, address, '#reading', async (page) => {
      await page.getByLabel('In one line').fill('coil 10.6 ohm 5600 W 240 V');
      await page.keyboard.press('Enter');
      await page.locator('.judged').waitFor();
    }),
  ];
  return sizes.every((size) => size <= MOST_BYTES);
}

/** Opens a case and says the words of a talk one after the other. @returns its id */
async function lead(address: string, audience: string, words: readonly string[]): Promise<string> {
  const opened = (await (await post(address, '/api/cases', { audience })).json()) as { case: { id: string } };
  for (const text of words) {
    const said = await post(address, `/api/cases/${opened.case.id}/say`, { text });
    if (!said.ok) throw new Error(`"${text}" was not taken: ${await said.text()}`);
  }
  return opened.case.id;
}

async function take(
  browser: Browser,
  name: string,
  viewport: { width: number; height: number },
  address: string,
  hash: string,
  then: (page: Page) => Promise<void> = async () => {},
): Promise<number> {
  const context = await browser.newContext({ viewport, colorScheme: 'light', reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`${address}/${hash}`);
  await page.locator('form, .stop, .question, .sheet-text').first().waitFor();
  await page.locator('.device', { hasText: 'Ready' }).waitFor();
  await then(page);
  const path = join(FOLDER, `${name}.png`);
  await page.screenshot({ path });
  await context.close();
  const { size } = await stat(path);
  console.log(`${size <= MOST_BYTES ? 'written' : 'TOO LARGE'}  client/pictures/${name}.png  ${Math.round(size / 1000)} kB`);
  return size;
}

const toQuestion = (page: Page) => page.locator('.question').evaluate((question) => question.scrollIntoView({ block: 'start' }));
