import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { callersWords, clock } from '../../client/agent/call.ts';
import type { Line } from '../../client/types.ts';
import { DESK, fitsAcross, launch, open, PHONE, start, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const WORDS = 'she says it tumbles fine but everything comes out wet and cold';

describe('an agent with a caller on the line', () => {
  test('reads a line out, answers by digit, and sees the caller’s words, the time and the sheet', async () => {
    const { page, wrong, close } = await open(browser, '', { viewport: DESK });
    const first = await start(page, /take the calls/, WORDS);
    const script = page.locator('.script');
    expect(await script.textContent()).toContain(first.reply.ask!.script);
    expect(await page.locator('.caller-words').textContent()).toContain(WORDS);
    const time = page.getByRole('timer', { name: 'Time on call' });
    await expect.poll(() => time.textContent()).toMatch(/^(?!0:00)\d+:\d\d$/);
    // None of the dangers, then the first choice, by keys alone.
    await turn(page, () => page.keyboard.press(String(first.reply.ask!.choices.length)));
    await page.locator('.so-far-rows', { hasText: 'Asked, none' }).waitFor();
    await turn(page, () => page.keyboard.press('1'));
    await page.locator('.so-far-rows', { hasText: 'Electricity' }).waitFor();
    expect(await script.count()).toBe(1);
    // A field of the sheet is written while the talk goes on; the next answer counts on top of it.
    await page.getByLabel('Best number').fill('555 0100');
    await page.keyboard.press('Tab');
    await page.getByText('Kept: Best number.').waitFor();
    // Left and answered in one breath: the field goes first, the answer on top of it, and neither is lost.
    await page.getByLabel('Address').fill('9 Harbor Row');
    const said = page.waitForResponse((response) => response.url().endsWith('/say'));
    await page.locator('#own-words').fill('none of these');
    await page.keyboard.press('Enter');
    expect((await said).status()).toBe(200);
    await page.getByText('Kept: Address.').waitFor();
    await page.getByRole('link', { name: 'Whole sheet' }).click();
    await page.locator('.sheet-text', { hasText: /555 0100.*9 Harbor Row/ }).waitFor();
    await page.getByRole('link', { name: 'Back to the case' }).click();
    await page.locator('.question').waitFor();
    await page.getByRole('button', { name: 'End call' }).click();
    const took = await time.textContent();
    await page.reload();
    await time.waitFor();
    expect(await time.textContent()).toBe(took);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  });

  test('has all of it on a phone too', async () => {
    const { page, close } = await open(browser, '', { viewport: PHONE });
    await start(page, /take the calls/, WORDS);
    await page.locator('.so-far summary').first().click();
    expect(await page.getByLabel('Best number').isVisible()).toBe(true);
    await fitsAcross(page);
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await violations(page)).toEqual([]);
    }
    await close();
  });
});

test.each([
  [0, '0:00'],
  [187_000, '3:07'],
  [3_787_999, '1:03:07'],
])('%d ms on a call are shown as %s', (ms, shown) => expect(clock(ms)).toBe(shown));

test('the caller’s words are what was typed, each once, and no pressed button', () => {
  const line = (said: string, shown: string): Line => ({ seq: 1, turn: 1, label: 'x', shown, said, act: 'tell' });
  expect(
    callersWords([
      line('it blows cold', 'Complaint'),
      line('it blows cold', 'Cold'),
      line('Not sure', 'Not sure'),
      line('electric', 'Electricity'),
    ]),
  ).toEqual(['it blows cold']);
});
