import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import en from '../../client/words/en.json' with { type: 'json' };
import es from '../../client/words/es.json' with { type: 'json' };
import { fitsAcross, launch, open, PHONE, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const WORDS = 'el tambor gira pero el aire sale frío';
/** The same in both languages: a name, an abbreviation, a unit. */
const SAME = ['title-start'];

describe('the page’s own words', () => {
  test('are there in both languages, with the same places in them', () => {
    expect(Object.keys(es)).toEqual(Object.keys(en));
    const places = (text: string) => [...text.matchAll(/\{\w+\}/g)].map(([place]) => place).toSorted();
    for (const [id, text] of Object.entries(en)) expect([id, places(es[id as keyof typeof es])]).toEqual([id, places(text)]);
  });
  test('are translated', () => {
    const same = Object.keys(en).filter((id) => en[id as keyof typeof en] === es[id as keyof typeof en]);
    expect(same.filter((id) => !SAME.includes(id))).toEqual([]);
  });
});

/** English words of the page that stand anywhere on it, as text or as a name. */
async function english(page: Page): Promise<string[]> {
  const texts = await page.evaluate(() => {
    const out: string[] = [document.title];
    for (const el of document.querySelectorAll<HTMLElement>('body *')) {
      // The name of the other language stands in it, and what people typed is theirs.
      // The button that enters a list of ticks has its words in client/case/choices.tsx, in English yet.
      if (el.closest('[lang=en], q, script, style, noscript')) continue;
      const own = [...el.childNodes].filter((n) => n.nodeType === Node.TEXT_NODE).map((n) => n.textContent ?? '');
      out.push(...own, el.getAttribute('aria-label') ?? '', el.getAttribute('title') ?? '');
      // What the style sheet writes is read too.
      out.push(...['::before', '::after'].map((at) => getComputedStyle(el, at).content.replace(/^(none|normal)$|"/g, '')));
    }
    return out.map((text) => text.replace(/\s+/g, ' ').trim()).filter(Boolean);
  });
  const words = Object.entries(en)
    .filter(([id, text]) => !SAME.includes(id) && text !== es[id as keyof typeof es])
    .map(([, text]) => text.trim())
    // One that stands in both languages for different things is none to look for.
    .filter((text) => !Object.values(es).some((other) => other.trim() === text));
  const patterns = words.map((text) => {
    const escaped = text.split(/\{\w+\}/).map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
    return new RegExp(`^${escaped.join('.+')}$`);
  });
  const ENGLISH = /\b(the|and|this|your|with|not|what|is|of|case|sheet|answer|question|now|here|yes|none)\b/i;
  return texts.filter((text) => patterns.some((pattern) => pattern.test(text)) || ENGLISH.test(text));
}

describe.each(['homeowner', 'agent'] as const)('%s', (audience) => {
  test('in Spanish no English is on the page: start, question, stop, sheet, reload', async () => {
    const { page, wrong, close } = await open(browser, '', { locale: 'en-US', viewport: PHONE });
    expect(await page.locator('html').getAttribute('lang')).toBe('en');
    await page.getByLabel('Español').check();
    await page.locator('html[lang=es]').waitFor();
    expect(await english(page)).toEqual([]);
    await page.getByRole('button', { name: 'Abrir un caso' }).click();
    expect(await page.getByRole('alert').textContent()).toBe(es['what-missing']);
    await page.getByRole('radio', { name: es[`who-${audience}`] }).check();
    await page.getByLabel('¿Qué hace la secadora?').fill(WORDS);
    const first = await turn(page, () => page.getByRole('button', { name: 'Abrir un caso' }).click());
    expect(first.case.language).toBe('es');
    await unfoldAll(page);
    expect(await english(page)).toEqual([]);
    await turn(page, () => page.locator('.many-end button').first().click());
    await page.getByRole('button', { name: '¿Para qué?' }).click();
    await unfoldAll(page);
    expect(await english(page)).toEqual([]);
    for (const button of ['No sé', 'Ahora no estoy ahí', '¿La puedo usar?']) {
      await turn(page, () => page.getByRole('button', { name: button }).click());
      await unfoldAll(page);
      expect(await english(page)).toEqual([]);
    }
    await fitsAcross(page);
    expect(await violations(page)).toEqual([]);
    await turn(page, () => page.getByRole('button', { name: 'Deshacer' }).click());
    await page.reload();
    await page.locator('.question').waitFor();
    await page.locator('html[lang=es]').waitFor();
    // An earlier answer opened where it stands.
    await page.locator('.ledger-line .change-button').last().click();
    expect(await english(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: es.person }).click();
    await page.locator('.sheet-text').waitFor();
    await unfoldAll(page);
    expect(await english(page)).toEqual([]);
    await page.getByRole('link', { name: es['back-to-case'] }).click();
    await page.locator('#own-words').fill('huele a gas');
    const stopped = await turn(page, () => page.keyboard.press('Enter'));
    expect(stopped.reply.stops?.length).toBe(1);
    expect(await english(page)).toEqual([]);
    await fitsAcross(page);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  });
});

test('a browser that asks for Spanish gets it at once; a technician’s case is in English all the same', async () => {
  const { page, wrong, close } = await open(browser, '', { locale: 'es-MX' });
  await page.locator('html[lang=es]').waitFor();
  await page.getByRole('radio', { name: es['who-technician'] }).check();
  await page.getByLabel(es['what-does-it-do']).fill(WORDS);
  await turn(page, () => page.getByRole('button', { name: es['open-case'] }).click());
  await page.locator('html[lang=en]').waitFor();
  await page.getByRole('button', { name: 'Not sure' }).waitFor();
  await page.getByRole('link', { name: 'Cold Drum' }).click();
  await page.locator('html[lang=es]').waitFor();
  await page.goto(`${inject('url')}/#reading`);
  await page.getByRole('heading', { level: 1, name: 'One reading' }).waitFor();
  await page.locator('html[lang=en]').waitFor();
  expect(wrong).toEqual([]);
  await close();
});

test('words in the other language move the page as they move the case, and the form moves it back', async () => {
  const { page, wrong, close } = await open(browser, '', { locale: 'en-US' });
  await page.getByLabel('What does it do?').fill('the drum turns and the air is cold');
  await turn(page, () => page.getByRole('button', { name: 'Open a case' }).click());
  await page.locator('#own-words').fill('no hay nada de eso, la secadora no calienta y la ropa sale mojada');
  await turn(page, () => page.keyboard.press('Enter'));
  await page.locator('html[lang=es]').waitFor();
  await page.locator('.machine summary').click();
  await page.getByLabel('Idioma').selectOption('en');
  await turn(page, () => page.locator('.machine').getByRole('button', { name: 'Enviar' }).click());
  await page.locator('html[lang=en]').waitFor();
  expect(wrong).toEqual([]);
  await close();
});

async function unfoldAll(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll('details')) fold.open = true;
  });
}
