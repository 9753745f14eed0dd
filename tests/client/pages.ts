import axe from 'axe-core';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
  type Response,
} from 'playwright-core';
import { expect, inject } from 'vitest';
import type { Audience, TurnTaken } from '../../client/types.ts';
import { wholeCase } from '../../client/whole.ts';
import type { Drawing, SentTurn } from '../../server/types.ts';
import { post } from '../server/load/built-server.ts';
import { WHOLE } from '../whole.ts';
import { ARGS } from './find-browser.ts';

export const PHONE = { width: 360, height: 640 };
export const DESK = { width: 1280, height: 800 };

/** Ends what hangs and is no measure of speed: on a busy machine anything may take long. */
export const HANGS_MS = 300_000;

export async function launch(): Promise<Browser> {
  const { executablePath, env } = inject('browser');
  return chromium.launch({
    executablePath,
    args: ARGS,
    env: { ...process.env, ...env } as Record<string, string>,
    timeout: HANGS_MS,
  });
}

/** A context of its own, in English whatever the machine speaks. */
export async function contextOf(browser: Browser, options: BrowserContextOptions = {}): Promise<BrowserContext> {
  const context = await browser.newContext({ locale: 'en-US', serviceWorkers: 'block', ...options });
  context.setDefaultTimeout(HANGS_MS);
  return context;
}

export interface Opened {
  page: Page;
  /** Script errors, console errors and requests to any other host. Must stay empty. */
  wrong: string[];
  close: () => Promise<void>;
}

/** A page of its own, with everything that must not happen written down. The worker stays out, so that a test sees the network. */
export async function open(
  browser: Browser,
  hash = '',
  options: BrowserContextOptions = {},
  url = inject('url'),
): Promise<Opened> {
  const context = await contextOf(browser, { viewport: DESK, reducedMotion: 'reduce', ...options });
  const page = await context.newPage();
  const wrong: string[] = [];
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('console', (message) => {
    // The two faults of the network the tests bring about themselves are told by the browser as well.
    if (message.type() === 'error' && !/409|ERR_INTERNET_DISCONNECTED/.test(message.text())) wrong.push(message.text());
  });
  page.on('request', (request) => {
    if (!request.url().startsWith(url) && !request.url().startsWith('data:')) wrong.push(`asked another host: ${request.url()}`);
  });
  await page.goto(`${url}/${hash}`);
  await page.locator('h1').first().waitFor({ state: 'attached' });
  return { page, wrong, close: () => context.close() };
}

/** A turn's answer as the page puts it together. */
export const wholeTurn = (text: string): Promise<TurnTaken> =>
  wholeCase(JSON.parse(text) as SentTurn, async (id) => {
    const drawn = await fetch(`${inject('url')}/api/cases/${id}/drawing`).catch(() => undefined);
    return drawn?.ok ? ((await drawn.json()) as Drawing) : undefined;
  });

/** A case led so far by words sent to the API. @returns its id and the last reply */
export async function lead(audience: Audience, words: readonly string[]): Promise<TurnTaken & { id: string }> {
  const url = inject('url');
  let last = await wholeTurn(await (await post(url, '/api/cases', { audience })).text());
  const { id } = last.case;
  for (const text of words) {
    const said = await post(url, `/api/cases/${id}/say`, { text });
    expect(said.status, text).toBe(200);
    last = await wholeTurn(await said.text());
  }
  return { ...last, id };
}

/** A page on a case that was led so far. */
export async function openAt(
  browser: Browser,
  audience: Audience,
  words: readonly string[],
  options: BrowserContextOptions = {},
): Promise<Opened & { id: string; led: TurnTaken }> {
  const led = await lead(audience, words);
  const opened = await open(browser, `#case/${led.id}`, options);
  await opened.page.locator(`main[data-rev="${led.case.rev}"]`).waitFor();
  return { ...opened, id: led.id, led };
}

/** From the first page into a case. */
export async function start(page: Page, who: RegExp, words: string): Promise<TurnTaken> {
  await page.getByRole('radio', { name: who }).check();
  await page.getByLabel('What does it do?').fill(words);
  return turn(page, () => page.getByRole('button', { name: 'Open a case' }).click());
}

const takesTurn = (response: Response) =>
  !['GET', 'HEAD'].includes(response.request().method()) &&
  (response.request().method() === 'PATCH' || /\/api\/cases\/[^/]+\/./.test(new URL(response.url()).pathname));

/** Does something that sends `sends` turns, and waits until the page shows what came of it. @returns the last reply */
export async function turn(page: Page, act: () => Promise<unknown>, sends = 1): Promise<TurnTaken> {
  let seen = 0;
  const answered = page.waitForResponse((response) => {
    if (takesTurn(response)) seen += 1;
    return seen === sends;
  });
  await act();
  const response = await answered;
  const text = await response.text();
  expect(response.status(), text).toBe(200);
  const taken = await wholeTurn(text);
  await page.locator(`main[data-rev="${taken.case.rev}"][aria-busy="false"]`).waitFor();
  return taken;
}

export const say = (page: Page, text: string) =>
  turn(page, async () => {
    // By its id: a name is worked out for every element of the page, and this is done hundreds of times.
    await page.locator('#own-words').fill(text);
    await page.keyboard.press('Enter');
  });

export const question = (page: Page) => page.locator('.question');
/** Presses the button of the open question that says this. */
export const choose = (page: Page, label: string) =>
  turn(page, () =>
    question(page)
      .getByRole('button')
      .filter({ has: page.getByText(label, { exact: true }) })
      .click(),
  );
/** Presses "none of these" of a list. */
export const none = (page: Page) =>
  turn(page, () =>
    question(page)
      .getByRole('button', { name: /None of these/ })
      .click(),
  );

/** Light on a desk and dark on a phone: colours do not hang on the width, and the access rules take long. */
export const themesAt = ({ width }: { width: number }) =>
  WHOLE ? (['dark', 'light'] as const) : ([width === PHONE.width ? 'dark' : 'light'] as const);

/** Every rule axe has, on the page as it stands; the names of what it finds, with the first place. */
export async function violations(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const found = await (globalThis as unknown as { axe: typeof axe }).axe.run();
    return found.violations.map((v) => `${v.id}: ${v.nodes[0]?.html.slice(0, 160)} ${v.nodes[0]?.failureSummary}`);
  });
}

/**
 * What a view must stand, in both themes: every access rule; 320 px across, which is a desk's page at four times its size; and
 * letters twice as large on a phone. The page is left as it was.
 * @returns what is wrong, each with the name of the view
 */
export async function stands(page: Page, view: string): Promise<string[]> {
  const before = page.viewportSize()!;
  const found: string[] = [];
  const across = async (how: string) => {
    const wide = await page.evaluate(() => {
      const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
      if (over <= 0) return '';
      const edge = document.documentElement.clientWidth;
      const out = [...document.querySelectorAll('body *')].filter((el) => el.getBoundingClientRect().right > edge + 1);
      return `${over} px too wide: ${out.slice(0, 3).map((el) => el.outerHTML.slice(0, 80))}`;
    });
    if (wide) found.push(`${view}, ${how}: ${wide}`);
  };
  await page.setViewportSize({ width: 320, height: 640 });
  await across('320 px');
  await page.setViewportSize({ width: 360, height: 640 });
  await page.evaluate(() => document.documentElement.style.setProperty('font-size', '200%'));
  await across('letters twice as large');
  await page.evaluate(() => document.documentElement.style.removeProperty('font-size'));
  for (const viewport of [{ width: 360, height: 640 }, before])
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.setViewportSize(viewport);
      await page.emulateMedia({ colorScheme });
      found.push(...(await violations(page)).map((v) => `${view}, ${viewport.width} px, ${colorScheme}: ${v}`));
    }
  return found;
}

/** Nothing is cut off or pushed out to the side. */
export async function fitsAcross(page: Page): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBe(0);
}
