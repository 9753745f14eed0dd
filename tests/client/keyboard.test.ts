import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { TurnTaken } from '../../client/types.ts';
import { USUAL } from './lead-to.ts';
import { launch, open, turn } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

/** What is picked where a list is put; else its first. */
const TOLD: Record<string, string> = {
  ...USUAL,
  control_kind: 'dial',
  heater_coils: 'one',
};
/** What the meter shows: both legs are there, the coil is whole, the cut-off is open. */
const READ: Record<string, string> = {
  between_legs_idle: '240.2',
  motor_leg_to_neutral_idle: '120',
  other_leg_to_neutral_idle: '120.2',
  between_legs_heat: '239.8',
  motor_leg_to_neutral_heat: '119.9',
  other_leg_to_neutral_heat: '120.1',
  coil_ohms: '10.6',
  limit_ohms: '0,2',
  cut_off_ohms: 'OL',
};
const MOST_TURNS = 60;
const MOST_TABS = 90;

const focus = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement;
    return at?.id || (at?.getAttribute('aria-label') ?? at?.textContent?.trim() ?? '');
  });
/** Presses Tab, or Shift+Tab, until focus is on what the selector says; everything on the way must be seen to have focus. */
async function tabTo(page: Page, selector: string, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  for (let n = 0; n < MOST_TABS; n++) {
    await page.keyboard.press(key);
    const [there, seen] = await page.evaluate((selector) => {
      const at = document.activeElement as HTMLElement;
      const { outlineStyle, boxShadow } = getComputedStyle(at);
      // A tick or a radio may show its ring on its label.
      const label = at.closest('label');
      const ring = (el: Element | null) => el !== null && getComputedStyle(el).outlineStyle !== 'none';
      return [at.matches(selector), outlineStyle !== 'none' || boxShadow !== 'none' || ring(label)];
    }, selector);
    expect(seen, `focus is seen on ${await focus(page)}`).toBe(true);
    if (there) return;
  }
  throw new Error(`${selector} is not reached by ${key}; focus is on ${await focus(page)}`);
}

/** Answers the open question by keys alone. */
async function answer(page: Page, { reply }: TurnTaken): Promise<TurnTaken> {
  const ask = reply.ask!;
  if (ask.kind === 'readings') {
    const have = ask.reads.filter(({ fact }) => READ[fact]);
    if (have.length === 0) {
      await tabTo(page, '.tools button:nth-of-type(2)');
      return turn(page, () => page.keyboard.press('Enter'));
    }
    for (const { fact } of have) {
      await tabTo(page, `#read-${fact}`);
      await page.keyboard.type(READ[fact]!);
    }
    return turn(page, () => page.keyboard.press('Enter'), have.length);
  }
  const id = ask.kind === 'many' ? 'none' : (TOLD[ask.choices[0]!.fact ?? ''] ?? ask.choices[0]!.id);
  const at = ask.choices.findIndex((choice) => choice.id === id);
  if (ask.kind === 'one' && at < 9) return turn(page, () => page.keyboard.press(String(at + 1)));
  // Past nine keys a list is walked like any other.
  const target = ask.kind === 'many' ? '.many-end button[type=button]' : `.choices > li:nth-child(${at + 1}) button`;
  await tabTo(page, target);
  return turn(page, () => page.keyboard.press('Enter'));
}

test('a technician leads a whole case by keyboard alone, and focus is on the question after every turn', async () => {
  const { page, wrong, close } = await open(browser);
  await tabTo(page, 'input[name=audience]');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  expect(await page.getByRole('radio', { name: /do the repair/ }).isChecked()).toBe(true);
  await tabTo(page, '#first-words');
  await page.keyboard.type('the drum turns and the air is cold');
  let last = await turn(page, () => page.keyboard.press('Enter'));
  let taken = 0;
  let typed = 0;
  let undone = false;
  for (; taken < MOST_TURNS && !last.reply.consultation.conclusion && last.reply.ask; taken++) {
    // the page paints after its reply is in: focus comes with the painting
    await page
      .waitForFunction(() => document.activeElement?.id === 'question', undefined, { timeout: 10_000 })
      .catch(() => undefined);
    expect(await focus(page), `after ${taken} answers`).toBe('question');
    expect(await page.locator('#question').evaluate((el) => el.getBoundingClientRect().top)).toBeGreaterThanOrEqual(0);
    const reads = last.reply.ask.kind === 'readings';
    const { check: asked, reads: fields } = last.reply.ask;
    last = await answer(page, last);
    if (reads) typed += 1;
    if (!reads || undone) continue;
    // The first readings are taken back, all of that visit at once, and the same is asked again; then they are entered after all.
    undone = true;
    await tabTo(page, '.tools button:last-of-type');
    last = await turn(page, () => page.keyboard.press('Enter'), fields.length);
    expect(last.reply.ask?.check).toBe(asked);
    expect(await focus(page)).toBe('question');
  }
  expect(typed).toBeGreaterThanOrEqual(3);
  expect(last.reply.consultation.conclusion?.faults).toEqual(['thermal-cutoff-open']);
  const outcome = await page.locator('.outcomes').textContent();
  expect(outcome).toMatch(/cut-off/i);
  expect(await focus(page)).toMatch(/^(question|Outcome)$/);

  // A line is opened where it stands, left by Escape, opened again and changed: no part can stay condemned on a reading that is good.
  const { seq } = last.reply.evidence.find(({ fact }) => fact === 'cut_off_ohms')!;
  await tabTo(page, `#line-${seq} .change-button`, 'Shift+Tab');
  const button = await focus(page);
  // Focus comes with the painting, and Escape is heard only where focus is.
  const opened = page.locator('.change input:focus');
  await page.keyboard.press('Enter');
  await opened.waitFor();
  await page.keyboard.press('Escape');
  expect(await focus(page)).toBe(button);
  await page.keyboard.press('Enter');
  await opened.waitFor();
  await page.keyboard.type('0.1');
  last = await turn(page, () => page.keyboard.press('Enter'));
  expect(last.reply.consultation.conclusion?.faults ?? []).not.toContain('thermal-cutoff-open');
  expect(await focus(page)).toBe('question');

  // The sheet: its tab, a block, a field.
  await tabTo(page, '.masthead nav a:nth-of-type(2)', 'Shift+Tab');
  await page.keyboard.press('Enter');
  await page.locator('.sheet-text').waitFor();
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('record');
  await tabTo(page, '.job-form summary');
  await page.keyboard.press('Enter');
  await tabTo(page, '#job-contact_name');
  await page.keyboard.type('Ines Harbor');
  await page.keyboard.press('Tab');
  await page.getByText('Kept: Name.').waitFor();
  await page.locator('.sheet-text', { hasText: 'Ines Harbor' }).waitFor();
  expect(await page.evaluate(() => document.activeElement !== document.body)).toBe(true);
  expect(wrong).toEqual([]);
  await close();
});
