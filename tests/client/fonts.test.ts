import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { AT_BLOCK, CUT_OFF_OPEN, GAS } from './cases.ts';
import { launch, lead, open, PHONE } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

/** Of every element that is meant: the fonts of the machine its text was drawn with, beside its text. Empty when all letters are the page's own. */
async function foreign(page: Page, selector: string): Promise<string[]> {
  await page.evaluate(async () => {
    document.body.getBoundingClientRect();
    await document.fonts.ready;
  });
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('DOM.enable');
  await cdp.send('CSS.enable');
  const { root } = await cdp.send('DOM.getDocument');
  const { nodeIds } = await cdp.send('DOM.querySelectorAll', { nodeId: root.nodeId, selector });
  expect(nodeIds.length).toBeGreaterThan(0);
  const found: string[] = [];
  for (const [n, nodeId] of nodeIds.entries()) {
    const { fonts } = await cdp.send('CSS.getPlatformFontsForNode', { nodeId });
    const others = fonts.filter((font) => !font.isCustomFont).map((font) => font.familyName);
    if (others.length) found.push(`${others}: ${(await page.locator(selector).nth(n).textContent())?.slice(0, 60)}`);
  }
  await cdp.detach();
  return found;
}

const WORDS = ['client/words', 'client/quick', 'server/conversation', 'rules/knowledge', 'transcripts-demo'];
const json = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.json'))
    .map((file) => join(folder, file));

describe('the page brings its own letters', () => {
  test('every sign of its words is among them, for text and for figures, plain and bold', async () => {
    const words = WORDS.flatMap(json).map((file) => JSON.stringify(JSON.parse(readFileSync(file, 'utf8'))));
    const signs = [...new Set(`${words.join('')}½²¡−`)].filter((sign) => sign > ' ');
    expect(signs).toEqual(expect.arrayContaining([...'Ω°±–·…¿ñü“’']));
    const { page, close } = await open(browser);
    for (const font of ['var(--text)', 'var(--num)'])
      for (const weight of ['400', '700']) {
        await page.evaluate(
          ({ signs, font, weight }) => {
            const box = document.createElement('p');
            box.id = 'tried';
            Object.assign(box.style, { fontFamily: font, fontWeight: weight });
            for (const sign of signs) box.appendChild(document.createElement('span')).textContent = sign;
            document.querySelector('#tried')?.remove();
            document.body.append(box);
          },
          { signs, font, weight },
        );
        expect(await foreign(page, '#tried span'), `${font} ${weight}`).toEqual([]);
      }
    await close();
  });

  test('and no other is seen on any view', async () => {
    const cases = {
      block: (await lead('technician', AT_BLOCK)).id,
      part: (await lead('technician', CUT_OFF_OPEN)).id,
      stop: (await lead('homeowner', GAS)).id,
      spanish: (await lead('homeowner', ['la secadora gira pero el aire sale frío', 'nada'])).id,
    };
    const views = ['', '#reading', '#demo', ...Object.values(cases).map((id) => `#case/${id}`), `#sheet/${cases.part}`];
    for (const hash of views) {
      const { page, wrong, close } = await open(browser, hash, { viewport: PHONE });
      await page.locator('form, .stop, .question, .sheet-text, .demo-list a').first().waitFor();
      await page.evaluate(() => {
        for (const folded of document.querySelectorAll('details')) folded.open = true;
      });
      expect(await foreign(page, 'body'), hash).toEqual([]);
      expect(wrong).toEqual([]);
      await close();
    }
  });

  test('the server sends them with their licenses beside them, to be kept', async () => {
    const { headers } = await fetch(`${inject('url')}/fonts/text-400.woff2`);
    expect(headers.get('content-type')).toBe('font/woff2');
    expect(headers.get('cache-control')).toMatch(/max-age=\d{6}/);
    for (const license of ['text', 'figures'])
      expect(await (await fetch(`${inject('url')}/fonts/${license}-LICENSE.txt`)).text()).toMatch(
        /Copyright 2023.*SIL OPEN FONT LICENSE/s,
      );
  });
});
