import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ASKED_FUEL } from './cases.ts';
import { leadTo } from './lead-to.ts';
import { DESK, fitsAcross, launch, open, openAt, PHONE, question, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const IDLE = { between_legs_idle: 240.2, motor_leg_to_neutral_idle: 120, other_leg_to_neutral_idle: 120.2 };
const asks = (check: string, told: Record<string, string>) => leadTo(check, told, IDLE);

test.each([
  ['one coil', { control_kind: 'dial' }],
  ['two coils', { control_kind: 'dial', heater_coils: 'two' }],
  ['a board', { control_kind: 'buttons' }],
])('with %s a technician sees the circuit, the leads on it, the way the current should go', async (_, told) => {
  const { id } = await asks('supply-at-block-heat', told);
  for (const viewport of [PHONE, DESK]) {
    const { page, wrong, close } = await open(browser, `#case/${id}`, { viewport });
    const picture = page.getByRole('img', { name: /^Wiring: / });
    await picture.waitFor();
    const desc = await page.locator('#wiring-desc').textContent();
    expect(desc).toContain('Red lead: terminal block, post of the motor');
    expect(await page.locator('.wiring-places').textContent()).toContain('Black lead: terminal block, post of the other leg');
    expect(await page.locator('.wiring-picture .probe').count()).toBe(2);
    // Heavy, double and thin lines are all there, and the key says what each means.
    for (const tone of ['dead', 'carries']) expect(await picture.locator(`.wire.${tone}`).count(), tone).toBeGreaterThan(0);
    expect(await page.locator('.wiring-key').textContent()).toMatch(/live.*current should flow.*suspect here/s);
    // The type is never shown smaller than 11 px.
    const scale = await picture.evaluate(
      (svg) => svg.getBoundingClientRect().width / (svg as SVGSVGElement).viewBox.baseVal.width,
    );
    expect(12 * scale).toBeGreaterThanOrEqual(11);
    await fitsAcross(page);
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await violations(page), colorScheme).toEqual([]);
    }
    await page.emulateMedia({ media: 'print' });
    expect(await picture.isVisible()).toBe(true);
    expect(wrong).toEqual([]);
    await close();
  }
});

test('another reading of the same visit moves the leads; the words list live points, path and suspects', async () => {
  const { id } = await asks('supply-at-block-heat', { control_kind: 'dial' });
  const { page, wrong, close } = await open(browser, `#case/${id}`);
  await page.getByRole('img', { name: /^Wiring: / }).waitFor();
  const second = page.locator('.wiring-reads button').nth(2);
  await second.click();
  expect(await second.getAttribute('aria-pressed')).toBe('true');
  expect(await page.locator('#wiring-desc').textContent()).toContain('Black lead: terminal block, center post');
  await page.getByText('The picture in words').click();
  const words = page.locator('.wiring .noted');
  const list = (title: string) => words.locator('.speaks').filter({ hasText: title }).locator('li').allTextContents();
  expect(await list('Live now')).toContain('Middle of the coil');
  expect(await list('Current should flow through')).toEqual(expect.arrayContaining(['Coil, first half', 'Motor run winding']));
  expect((await list('Suspects on it')).some((text) => text.startsWith('One-shot thermal cut-off: '))).toBe(true);
  expect(wrong).toEqual([]);
  await close();
});

test('the drawing is fetched only where it is shown; without it the words stand', async () => {
  const { id } = await asks('supply-at-block-idle', { control_kind: 'dial' });
  const { page, close } = await open(browser, '#start');
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.route(/\/assets\/picture-[^/]*\.js/, (route) => route.abort());
  await page.reload();
  await page.locator('h1').waitFor();
  expect(asked.some((url) => /picture-/.test(url))).toBe(false);
  await page.goto(`${page.url().split('#')[0]}#case/${id}`);
  await page.getByText('The drawing could not be fetched').waitFor();
  expect(asked.some((url) => /picture-/.test(url))).toBe(true);
  expect(await page.locator('.wiring-places').textContent()).toContain('Red lead');
  await close();
});

test('nobody who does not measure sees where a lead goes', async () => {
  const { page, wrong, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
  await question(page).waitFor();
  expect(await page.locator('.wiring').count()).toBe(0);
  expect(wrong).toEqual([]);
  await close();
});
