import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import type { Audience } from '../../client/types.ts';
import type { JobSheet } from '../../server/shapes/sheet.ts';
import { GAS } from './cases.ts';
import { fitsAcross, launch, lead, open, PHONE, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

interface Talk {
  audience: Audience;
  steps: { say: string }[];
}
const talk = (name: string) => JSON.parse(readFileSync(resolve(`transcripts-demo/${name}.json`), 'utf8')) as Talk;
const led = new Map<string, Promise<string>>();
/** A talk led to its end once for all tests. @returns the case's id */
function ended(name: string): Promise<string> {
  const { audience, steps } = talk(name);
  const id =
    led.get(name) ??
    lead(
      audience,
      steps.map(({ say }) => say),
    ).then((one) => one.id);
  led.set(name, id);
  return id;
}
async function sheetOf(id: string, options = {}) {
  const opened = await open(browser, `#sheet/${id}`, options);
  await opened.page.locator('.sheet-text').waitFor();
  await opened.page.locator('.written-in').waitFor();
  await opened.page.locator('.sheet-text[class*=print-]').waitFor();
  return opened;
}
async function downloaded(page: Page, button: string): Promise<{ name: string; text: string }> {
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: button }).click()]);
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
}
/** Pages of a PDF as the browser prints it. */
const pagesOf = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

describe('the job sheet', () => {
  test('is copied as text, and kept as Markdown and as JSON with the same in it; the letter by itself', async () => {
    const { page, wrong, close } = await sheetOf(await ended('lost-leg-backfed'), {
      permissions: ['clipboard-read', 'clipboard-write'],
      acceptDownloads: true,
    });
    const clipboard = () => page.evaluate(() => navigator.clipboard.readText());
    await page.getByRole('button', { name: 'Copy as text' }).click();
    await page.getByText('Sheet copied.').waitFor();
    const copied = await clipboard();
    expect(copied).toContain('# Job sheet');
    const markdown = await downloaded(page, 'Download Markdown');
    expect(markdown.name).toMatch(/^job-sheet-.{6}\.md$/);
    expect(markdown.text).toBe(copied);
    const json = JSON.parse((await downloaded(page, 'Download JSON')).text) as JobSheet;
    expect(json.closeOut.find(({ values }) => values.includes('0.1 V'))).toMatchObject({
      where: expect.stringContaining('post'),
      state: expect.stringContaining('plug in'),
      asLeft: null,
    });
    await page.getByRole('button', { name: 'Copy the letter' }).click();
    await page.getByText('Letter copied.').waitFor();
    const letter = await clipboard();
    for (const reading of json.letter!.readings) expect(letter).toContain(reading);
    expect(letter).toContain('licensed electrician');
    expect(letter).not.toContain('rules out');
    expect(await page.locator('.letter').count()).toBe(1);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  });

  test('keeps what is written in it, shows it at once, and after a reload', async () => {
    const { page, wrong, close } = await sheetOf(await ended('cut-off-and-blocked-vent'), { viewport: PHONE });
    const block = (title: string) => page.locator('.job-form summary', { hasText: title }).click();
    await block('Contact');
    await page.getByLabel('Name', { exact: true }).fill('R. Example <b>');
    await page.getByLabel('Address').fill('9 Harbor Row');
    await page.keyboard.press('Tab');
    await page.locator('.sheet-text', { hasText: '9 Harbor Row' }).waitFor();
    expect(await page.locator('.sheet-text').textContent()).toContain('R. Example <b>');
    await block('Visit');
    await page.getByRole('button', { name: 'In: now' }).click();
    await page.getByLabel('Meter proved live, dead, live').selectOption('yes');
    await page.locator('.sheet-text', { hasText: /In: 2\d{3}-\d\d-\d\d \d\d:\d\d.*live: yes/ }).waitFor();
    await page.reload();
    await page.locator('.sheet-text', { hasText: '9 Harbor Row' }).waitFor();
    expect(await page.getByLabel('Address').inputValue()).toBe('9 Harbor Row');
    await fitsAcross(page);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  });

  const ENDS = ['caller-with-a-cold-dryer', 'open-coil', 'cut-off-and-blocked-vent', 'lost-leg-backfed', 'sagging-leg'];
  test.each(ENDS)('of %s is printed on one page, letter and all, on either paper, in six points or more', async (name) => {
    const { page, close } = await sheetOf(await ended(name));
    const [, tenths] = /print-(\d+)/.exec((await page.locator('.sheet-text').getAttribute('class')) ?? '')!;
    expect(Number(tenths)).toBeGreaterThanOrEqual(60);
    for (const format of ['Letter', 'A4']) {
      const pdf = await page.pdf({ format });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      expect(pagesOf(pdf), format).toBe(1);
    }
    // The same as the plain page the API gives, without a script.
    const plain = await page.context().newPage();
    await plain.goto(`${inject('url')}/api/cases/${await ended(name)}/sheet?as=page`);
    for (const format of ['Letter', 'A4']) expect(pagesOf(await plain.pdf({ format })), `as page, ${format}`).toBe(1);
    await page.emulateMedia({ media: 'print' });
    for (const gone of ['.sheet-tools', '.written-in', '.masthead', '.device'])
      expect(await page.locator(gone).isVisible()).toBe(false);
    await close();
  });

  test('loses no letter while an answer is on its way, and sends a field once it is left', async () => {
    const { page, wrong, close } = await sheetOf(await ended('open-coil'));
    const sent: string[] = [];
    // Whatever is written is answered late: only once the next field has been begun.
    let release = () => {};
    const begun = new Promise<void>((done) => {
      release = done;
    });
    await page.route('**/api/cases/*', async (route) => {
      if (route.request().method() !== 'PATCH') return route.continue();
      sent.push(route.request().postData() ?? '');
      await begun;
      await route.continue();
    });
    await page.locator('.job-form summary', { hasText: 'Contact' }).click();
    const name = page.getByLabel('Name', { exact: true });
    await name.focus();
    await page.keyboard.type('R. Exa');
    await page.keyboard.press('Enter');
    await page.keyboard.type('mple');
    release();
    await page.locator('.sheet-text', { hasText: 'R. Exa' }).waitFor();
    expect(await name.inputValue()).toBe('R. Example');
    await page.keyboard.press('Tab');
    await page.locator('.sheet-text', { hasText: 'R. Example' }).waitFor();
    expect(sent.map((body) => (JSON.parse(body) as { job: object }).job)).toEqual([
      { contact_name: 'R. Exa' },
      { contact_name: 'R. Example' },
    ]);
    expect(wrong).toEqual([]);
    await close();
  });

  test('is printed as large as one page allows, on a phone too, and smaller where letters are wider', async () => {
    const { page, close } = await sheetOf(await ended('cut-off-and-blocked-vent'), { viewport: PHONE });
    const sheet = page.locator('.sheet-text');
    const size = async () => Number((await sheet.getAttribute('class'))?.match(/print-(\d+)/)?.[1] ?? 0);
    const own = await size();
    const pages = async () => [pagesOf(await page.pdf({ format: 'Letter' })), pagesOf(await page.pdf({ format: 'A4' }))];
    expect(await pages()).toEqual([1, 1]);
    // Half a point larger, one of the two papers is too small.
    await sheet.evaluate((el, tenths) => (el as HTMLElement).style.setProperty('font-size', `${tenths / 10}pt`), own + 5);
    expect(await pages()).toContain(2);
    await page.evaluate(() => document.documentElement.style.setProperty('letter-spacing', '0.06em'));
    await page.getByRole('link', { name: 'One reading' }).click();
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.locator('.sheet-text[class*=print-]').waitFor();
    expect(await size()).toBeLessThan(own);
    expect(await pages()).toEqual([1, 1]);
    await close();
  });

  test('under a stop names the danger and who comes, and no suspect', async () => {
    const { id } = await lead('homeowner', GAS);
    const { page, close } = await sheetOf(id);
    const text = await page.locator('.sheet-text').textContent();
    expect(text).toContain('Gas');
    expect(text).not.toMatch(/rules out|Still possible|%/);
    expect(pagesOf(await page.pdf())).toBe(1);
    await close();
  });
});
