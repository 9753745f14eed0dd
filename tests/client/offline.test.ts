import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import type { CaseHistory } from '../../server/cases/store.ts';
import { type BadLine, badLine } from './bad-line.ts';
import { CUT_OFF_OPEN } from './cases.ts';
import { launch, open, say, stands, start, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

/** A page whose worker is there, on a line that can be cut. */
async function onLine(hash = ''): Promise<{ page: Page; wire: BadLine; wrong: string[]; close: () => Promise<void> }> {
  const wire = await badLine(inject('url'));
  const { page, wrong, close } = await open(browser, hash, { serviceWorkers: 'allow' }, wire.url);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await device(page, 'Ready to go on without a network');
  // A busy machine may keep the server from answering for longer than the worker waits; here the line alone says whether it is there.
  await page
    .context()
    .serviceWorkers()[0]!
    .evaluate(() => {
      AbortSignal.timeout = () => new AbortController().signal;
    });
  return {
    page,
    wire,
    wrong,
    close: async () => {
      await close();
      await wire.close();
    },
  };
}
const device = (page: Page, words: string) => page.locator('.device', { hasText: words }).waitFor();
const caseOf = (page: Page) => /#(?:case|demo\/[^/]+)\/([\w-]+)/.exec(page.url())![1]!;
const onServer = async (id: string): Promise<CaseHistory> => {
  const response = await fetch(`${inject('url')}/api/cases/${id}/turns`);
  expect(response.status).toBe(200);
  return (await response.json()) as CaseHistory;
};
/** A technician's talk from the first words to the part. */
const TALK = (
  JSON.parse(readFileSync(resolve('transcripts-demo/cut-off-and-blocked-vent.json'), 'utf8')) as { steps: { say: string }[] }
).steps.map((step) => step.say);
const ended = (page: Page) => page.locator('.stop-text, .outcomes .prose').allTextContents();
/** What a turn came to, without what differs from store to store. */
const bare = ({ turns }: CaseHistory) => turns.map(({ rev, answers, key }) => ({ rev, key, answers }));

describe('with no network', () => {
  test('a whole case is led to its end, its sheet written, one reading judged; back online it is sent, once', async () => {
    const { page, wire, wrong, close } = await onLine();
    const kept = await page.evaluate(async () => (await caches.match('/fonts/text-400.woff2'))?.status);
    expect(kept, 'the letters are on the device').toBe(200);
    wire.line = 'down';
    await page.reload();
    const began = Date.now();
    await start(page, /do the repair/, TALK[0]!);
    await device(page, 'No network. This device answers; 2 answers wait to be sent.');
    for (const words of TALK.slice(1)) await say(page, words);
    const toldAll = Date.now();
    expect((await ended(page)).join('\n')).toContain('cut-off');
    const id = caseOf(page);
    expect((await fetch(`${inject('url')}/api/cases/${id}`)).status).toBe(404);
    expect(await violations(page)).toEqual([]);
    // A reload, and everything else there is.
    await page.reload();
    await page.locator('.ledger-line').first().waitFor();
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.locator('.sheet-text').waitFor();
    expect(await page.locator('.sheet-text').textContent()).toContain('Ω');
    await page.getByRole('link', { name: 'One reading' }).click();
    await page.getByLabel('Reading', { exact: true }).fill('10.2');
    await page.getByRole('button', { name: 'Judge it' }).click();
    await page.locator('.judged').waitFor();
    await page.getByRole('link', { name: 'Demo' }).click();
    await page.locator('.demo-list a').first().waitFor();
    wire.line = 'through';
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await device(page, 'All that was entered here was sent');
    const { turns, opened } = await onServer(id);
    expect(turns.length).toBe(TALK.length + 1);
    expect(new Set(turns.map(({ key }) => key)).size).toBe(turns.length);
    // Opened when it was told, not when it was sent.
    expect(Date.parse(opened)).toBeGreaterThanOrEqual(began);
    expect(Date.parse(opened)).toBeLessThan(toldAll);
    // The same words told to the server with a network make the same case.
    const told = await tellServer(TALK);
    expect(turns.map(({ answers }) => answers)).toEqual(told.turns.map(({ answers }) => answers));
    expect(wrong.filter((line) => !/ERR_|Failed to (load|fetch)/.test(line))).toEqual([]);
    await close();
  });

  test('a case begun with a network goes on without, and on again with it', async () => {
    const { page, wire, close } = await onLine();
    await start(page, /do the repair/, CUT_OFF_OPEN[0]!);
    for (const words of CUT_OFF_OPEN.slice(1, 4)) await say(page, words);
    wire.line = 'down';
    for (const words of CUT_OFF_OPEN.slice(4, 7)) await say(page, words);
    await device(page, '3 answers wait');
    expect(await stands(page, 'no network, answers wait')).toEqual([]);
    // Taken back and changed in place without a network too.
    await turn(page, () => page.getByRole('button', { name: 'Take back' }).click());
    await say(page, CUT_OFF_OPEN[6]!);
    wire.line = 'through';
    // Nothing is asked to be sent: the next words take the rest along, and go last.
    const after = await say(page, CUT_OFF_OPEN[7]!);
    await device(page, 'All that was entered here was sent');
    const { turns } = await onServer(caseOf(page));
    expect(turns.at(-1)?.rev).toBe(after.case.rev);
    expect(turns.length).toBe(1 + 7 + 2 + 1);
    await close();
  });

  test('a turn whose answer was lost on the way counts once', async () => {
    const { page, wire, close } = await onLine();
    await start(page, /my dryer/, 'the drum turns and the air is cold');
    const id = caseOf(page);
    wire.line = 'swallowed';
    await say(page, 'none');
    expect((await onServer(id)).turns.length).toBe(3);
    wire.line = 'down';
    await say(page, 'it is electric');
    wire.line = 'through';
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await device(page, 'All that was entered here was sent');
    const { turns } = await onServer(id);
    expect(turns.map(({ rev }) => rev)).toEqual([1, 2, 3, 4]);
    await close();
  });

  test('a case opened while its answer was lost is one case', async () => {
    const { page, wire, close } = await onLine();
    wire.line = 'swallowed';
    await start(page, /my dryer/, 'the drum turns and the air is cold');
    wire.line = 'through';
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await device(page, 'All that was entered here was sent');
    expect((await onServer(caseOf(page))).turns.length).toBe(2);
    await close();
  });

  test('a case this device has no copy of says so', async () => {
    const other = await tellServer(CUT_OFF_OPEN.slice(0, 2));
    const { page, wire, close } = await onLine();
    wire.line = 'down';
    await page.goto(`${wire.url}/#case/${other.id}`);
    await page.getByText('this case is not on this device yet').waitFor();
    wire.line = 'through';
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('.question').waitFor();
    await close();
  });

  test('the browser’s own word that there is no network is enough', async () => {
    const { page, close } = await onLine();
    await page.context().setOffline(true);
    await page.reload();
    await start(page, /my dryer/, 'the drum turns and the air is cold');
    await device(page, '2 answers wait to be sent');
    await page.context().setOffline(false);
    await device(page, 'All that was entered here was sent');
    expect((await onServer(caseOf(page))).turns.length).toBe(2);
    await close();
  });
});

describe('a case that went two ways', () => {
  /** Two answers on this device, one elsewhere, and the line is back. */
  async function split() {
    const opened = await onLine();
    const { page, wire } = opened;
    await start(page, /my dryer/, 'the drum turns and the air is cold');
    await say(page, 'none');
    const id = caseOf(page);
    wire.line = 'down';
    await say(page, 'it is electric');
    await say(page, 'the drum is stainless, by the way');
    const elsewhere = await fetch(`${inject('url')}/api/cases/${id}/say`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ text: 'it burns gas' }),
    });
    expect(elsewhere.status).toBe(200);
    wire.line = 'through';
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await page.getByRole('heading', { name: 'This case went two ways' }).waitFor();
    return { ...opened, id };
  }

  test('is shown as it stands, with what was not sent beside it; left out, nothing of it goes in', async () => {
    const { page, id, close } = await split();
    const panel = page.locator('.conflict');
    expect(await panel.textContent()).toContain('Electricity');
    expect(await panel.textContent()).toContain('the drum is stainless');
    await page.locator('.ledger-line', { hasText: 'Heats with' }).filter({ hasText: 'Gas' }).waitFor();
    expect(await stands(page, 'a case that went two ways')).toEqual([]);
    const before = bare(await onServer(id));
    await panel.getByRole('button', { name: 'Leave them out' }).click();
    await panel.waitFor({ state: 'detached' });
    expect(bare(await onServer(id))).toEqual(before);
    await close();
  });

  test('is entered on top in plain sight where the person says so', async () => {
    const { page, id, close } = await split();
    await page.locator('.conflict').getByRole('button', { name: 'Enter these now' }).click();
    await page.locator('.conflict').waitFor({ state: 'detached' });
    const { turns } = await onServer(id);
    expect(turns.length).toBe(1 + 2 + 1 + 2);
    expect(turns.at(-2)?.answers.map(({ said }) => said)).toContain('it is electric');
    await page.reload();
    await page.locator('.ledger-line').first().waitFor();
    expect(await page.locator('.conflict').count()).toBe(0);
    await close();
  });
});

/** The same talk told straight to the server. */
async function tellServer(words: readonly string[]): Promise<CaseHistory> {
  const url = inject('url');
  const send = (path: string, body: object) =>
    fetch(url + path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  const opened = (await (await send('/api/cases', { audience: 'technician', units: 'us' })).json()) as { case: { id: string } };
  for (const text of words) await send(`/api/cases/${opened.case.id}/say`, { text });
  return onServer(opened.case.id);
}

test('it can be installed: a manifest of its own, with icons that are there in the size they say', async () => {
  const get = (path: string) => fetch(inject('url') + path);
  const response = await get('/app.webmanifest');
  expect(response.headers.get('content-type')).toContain('application/manifest+json');
  const { icons, start_url, display } = (await response.json()) as {
    icons: { src: string; sizes: string; type: string; purpose?: string }[];
    start_url: string;
    display: string;
  };
  expect([start_url, display]).toEqual(['/', 'standalone']);
  expect(icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
  for (const { src, sizes, type } of icons) {
    const icon = await get(src);
    expect([icon.status, icon.headers.get('content-type')?.split(';')[0]]).toEqual([200, type]);
    if (type !== 'image/png') continue;
    const bytes = Buffer.from(await icon.arrayBuffer());
    expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes);
  }
  expect(readFileSync(resolve('client/index.html'), 'utf8')).toContain('/app.webmanifest');
});
