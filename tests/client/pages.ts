import axe from 'axe-core';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { expect, inject } from 'vitest';
import { ARGS } from './find-browser.ts';

export const PHONE = { width: 360, height: 640 };
export const DESK = { width: 1280, height: 800 };

export function launch(): Promise<Browser> {
  const { executablePath, env } = inject('browser');
  return chromium.launch({ executablePath, args: ARGS, env: { ...process.env, ...env } as Record<string, string> });
}

export interface Opened {
  page: Page;
  /** Script errors, console errors and requests to any other host. Must stay empty. */
  wrong: string[];
  close: () => Promise<void>;
}

/** A page of its own, with everything that must not happen written down. The worker stays out, so that a test sees the network. */
export async function open(browser: Browser, hash = '', options: BrowserContextOptions = {}): Promise<Opened> {
  const url = inject('url');
  const context = await browser.newContext({ viewport: DESK, serviceWorkers: 'block', reducedMotion: 'reduce', ...options });
  const page = await context.newPage();
  const wrong: string[] = [];
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('console', (message) => {
    // The two networks faults the tests bring about themselves are told by the browser as well.
    if (message.type() === 'error' && !/409|ERR_INTERNET_DISCONNECTED/.test(message.text())) wrong.push(message.text());
  });
  page.on('request', (request) => {
    if (!request.url().startsWith(url) && !request.url().startsWith('data:')) wrong.push(`asked another host: ${request.url()}`);
  });
  await page.goto(`${url}/${hash}`);
  await page.locator('h1').first().waitFor({ state: 'attached' });
  return { page, wrong, close: () => context.close() };
}

/** From the first page into a case. */
export async function start(page: Page, who: RegExp, words: string): Promise<void> {
  await page.getByRole('radio', { name: who }).check();
  await page.getByLabel('What does it do?').fill(words);
  await page.getByRole('button', { name: 'Open a case' }).click();
  await page.locator('.question, .stop').first().waitFor();
}

/** Every rule axe has, on the page as it stands; the names of what it finds, with the first place. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const found = await (globalThis as unknown as { axe: typeof axe }).axe.run();
    return found.violations.map((v) => `${v.id}: ${v.nodes[0]?.html.slice(0, 160)} ${v.nodes[0]?.failureSummary}`);
  });
}

/** Nothing is cut off or pushed out to the side. */
export async function fitsAcross(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBe(0);
}
