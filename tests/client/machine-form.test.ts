import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import type { CaseView } from '../../server/types.ts';
import { ASKED_FUEL, AT_BLOCK } from './cases.ts';
import { leadTo } from './lead-to.ts';
import { fitsAcross, launch, open, openAt, PHONE, start, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const onServer = async (id: string): Promise<CaseView> =>
  ((await (await fetch(`${inject('url')}/api/cases/${id}`)).json()) as { case: CaseView }).case;
const form = (page: Page) => page.locator('.machine');
async function unfold(page: Page): Promise<void> {
  await page.evaluate(() => {
    (document.querySelector('#evidence') as HTMLDetailsElement).open = true;
  });
  await form(page).locator('summary').click();
}
const enter = (page: Page) => turn(page, () => form(page).getByRole('button', { name: 'Enter' }).click());

test('a technician says how this machine is built and what meter reads it; the circuit and the bands follow', async () => {
  const readings = {
    between_legs_idle: 240.2,
    motor_leg_to_neutral_idle: 120,
    other_leg_to_neutral_idle: 120.2,
    between_legs_heat: 239.8,
    motor_leg_to_neutral_heat: 119.9,
    other_leg_to_neutral_heat: 120.1,
    coil_ohms: 10.6,
  };
  const { id, reply } = await leadTo('limit-and-cutoff-ohms', { control_kind: 'dial' }, readings);
  const { page, wrong, close } = await open(browser, `#case/${id}`);
  await page.locator('.question').waitFor();
  await unfold(page);
  const moved = page.getByLabel('The high limit and the cut-off sit between the coil and the motor contact');
  await moved.check();
  await page.getByLabel('Meter', { exact: true }).selectOption({ label: 'simple 2000-count meter' });
  await page.getByLabel('Leads held together').fill('lots');
  await form(page).getByRole('button', { name: 'Enter' }).click();
  expect(await form(page).getByRole('alert').textContent()).toContain('between 0 and 5');
  await page.getByLabel('Leads held together').fill('0.4');
  const taken = await enter(page);
  const { machine } = await onServer(id);
  expect([machine.variants, machine.meter, machine.leads_ohm]).toEqual([['limit-on-motor-side'], 'meter-2000-count', 0.4]);
  const points = (of: typeof reply) => of.ask!.reads.find(({ fact }) => fact === 'cut_off_ohms')!.points;
  expect(points(taken.reply)).not.toEqual(points(reply));
  const coil = (of: typeof reply) => of.evidence.find(({ fact }) => fact === 'coil_ohms')!.expected!;
  // Leads that were read leave no room for leads that might be: the band is another one.
  expect(coil(taken.reply)).not.toEqual(coil(reply));
  // What was told stands in the form, and is taken out again there.
  expect(await moved.isChecked()).toBe(true);
  expect(await page.getByLabel('Leads held together').inputValue()).toBe('0.4');
  await moved.uncheck();
  await enter(page);
  expect((await onServer(id)).machine.variants).toEqual([]);
  // No line of the record is left empty by it.
  for (const shown of await page.locator('.ledger-answer .shown').allTextContents()) expect(shown.trim()).not.toBe('');
  expect(wrong).toEqual([]);
  await close();
});

test('the next case on this device starts with the same meter; a meter that is no longer known holds no case up', async () => {
  const { page, wrong, close } = await open(browser);
  const first = await start(page, /do the repair/, AT_BLOCK[0]!);
  await unfold(page);
  await page.getByLabel('Meter', { exact: true }).selectOption({ label: 'simple 2000-count meter' });
  await page.getByLabel('Leads held together').fill('0.3');
  await enter(page);
  await page.goto(`${inject('url')}/#`);
  const second = await start(page, /do the repair/, AT_BLOCK[0]!);
  expect(second.case.id).not.toBe(first.case.id);
  const { machine } = await onServer(second.case.id);
  expect([machine.meter, machine.leads_ohm]).toEqual(['meter-2000-count', 0.3]);
  // Somebody who reads no meter has none.
  await page.goto(`${inject('url')}/#`);
  const third = await start(page, /my dryer/, ASKED_FUEL[0]!);
  expect((await onServer(third.case.id)).machine.meter).toBeUndefined();
  await page.evaluate(() => localStorage.setItem('cold-drum.meter', JSON.stringify({ meter: 'sold-long-ago' })));
  await page.goto(`${inject('url')}/#`);
  const fourth = await start(page, /do the repair/, AT_BLOCK[0]!);
  expect((await onServer(fourth.case.id)).machine.meter).toBeUndefined();
  expect(wrong.filter((line) => !/422/.test(line))).toEqual([]);
  await close();
});

test('on a phone the form fits across in both themes; a homeowner is shown neither meter nor circuit', async () => {
  const { id } = await leadTo('supply-at-block-idle', { control_kind: 'dial' });
  const { page, close } = await open(browser, `#case/${id}`, { viewport: PHONE });
  await page.locator('.question').waitFor();
  await unfold(page);
  await page.getByLabel('Meter', { exact: true }).waitFor();
  await fitsAcross(page);
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    expect(await violations(page), colorScheme).toEqual([]);
  }
  await close();
  const other = await openAt(browser, 'homeowner', ASKED_FUEL);
  await unfold(other.page);
  expect(await form(other.page).getByLabel('Meter', { exact: true }).count()).toBe(0);
  expect(await form(other.page).getByLabel('Language').count()).toBe(1);
  await other.close();
});
