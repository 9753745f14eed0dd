import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launch, openAt, say } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

test('who has begun to write when the reply comes keeps the focus; who has not is taken to the question', async () => {
  const { page, close } = await openAt(browser, 'technician', ['It runs but stays cold']);
  await say(page, 'none of these');
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H2');

  let release = () => {};
  const held = new Promise<void>((done) => {
    release = done;
  });
  await page.route('**/say', async (route) => {
    await held;
    await route.continue();
  });
  const before = await page.locator('main').getAttribute('data-rev');
  await page.locator('#own-words').fill('vented');
  await page.locator('#own-words').press('Enter');
  await page.locator('main[aria-busy="true"]').waitFor();
  await page.locator('#own-words').fill('four slots');
  release();
  await page.locator(`main[aria-busy="false"]:not([data-rev="${before}"])`).waitFor();
  // The page has moved the focus, or not, two frames after the reply is painted.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await page.evaluate(() => new Promise((done) => setTimeout(done, 0)));
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('own-words');
  expect(await page.locator('#own-words').inputValue()).toBe('four slots');
  await close();
});
