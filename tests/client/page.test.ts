import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import type { TurnTaken } from '../../client/types.ts';
import { ASKED_FUEL, AT_BLOCK, AT_COIL, GAS } from './cases.ts';
import { choose, DESK, launch, none, open, openAt, PHONE, question, say, start, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const HOMEOWNER = /my dryer/;
const COLD = 'the drum turns and the air is cold';

describe.concurrent('a case', () => {
  test('is opened by typing, and its record starts with the words', async () => {
    const { page, wrong, close } = await open(browser);
    const { reply } = await start(page, HOMEOWNER, COLD);
    expect(page.url()).toMatch(/#case\/[\w-]{20,}$/);
    expect(await page.getByRole('log').getByText(COLD).count()).toBeGreaterThan(0);
    expect(await page.getByRole('heading', { level: 2 }).first().textContent()).toBe(reply.ask?.text);
    expect(await question(page).getByRole('checkbox').count()).toBe(reply.ask!.choices.length - 1);
    expect(wrong).toEqual([]);
    await close();
  });

  test('is not opened without words; the field says so and takes the focus', async () => {
    const { page, close } = await open(browser);
    await page.getByRole('button', { name: 'Open a case' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('Write a few words');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('first-words');
    await close();
  });

  test('goes from the first page to a stop by keyboard alone', async () => {
    const { page, wrong, close } = await open(browser);
    const focus = () => page.evaluate(() => document.activeElement?.id);
    const press = (key: string) => page.keyboard.press(key);
    await press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the record');
    await press('Enter');
    await press('Tab');
    await press('ArrowDown');
    await press('ArrowDown');
    await press('Tab');
    await page.keyboard.type('no heat');
    const gate = (await turn(page, () => press('Enter'))).reply.ask!;
    expect(await focus()).toBe('question');
    const ticked = question(page).getByRole('checkbox', { name: gate.choices[1]!.label });
    await press('2');
    expect(await ticked.isChecked()).toBe(true);
    await press('2');
    expect(await ticked.isChecked()).toBe(false);
    const fuel = (await turn(page, () => press(String(gate.choices.length)))).reply.ask!;
    expect(fuel.choices.map(({ id }) => id)).toContain('electric-vented');
    expect(await focus()).toBe('question');
    const key = fuel.choices.findIndex(({ id }) => id === 'electric-vented') + 1;
    await turn(page, () => press(String(key)));
    expect(await page.locator('.ledger-line').last().textContent()).toContain('Electric');
    // A letter on the question goes on in the free-text field; digits in the field are text.
    await page.keyboard.type('smoke 1');
    expect(await page.getByLabel('In your own words').inputValue()).toBe('smoke 1');
    for (let n = 0; n < 'smoke 1'.length; n++) await press('Backspace');
    await page.keyboard.type('smoke comes out of it now');
    const { reply } = await turn(page, () => press('Enter'));
    expect(reply.parts.every(({ kind }) => kind === 'stop')).toBe(true);
    expect(await focus()).toBe('stop');
    await press('Tab');
    expect(await page.evaluate(() => document.activeElement?.closest('.stop') !== null)).toBe(true);
    expect(wrong).toEqual([]);
    await close();
  });

  test('takes answers by a click, and several ticked at once', async () => {
    const { page, led, close } = await openAt(browser, 'homeowner', [COLD]);
    const dangers = led.reply.ask!.choices.filter(({ id }) => id === 'flame-or-smoke-now' || id === 'hands-inside-with-power-on');
    for (const { label } of dangers) await page.getByRole('checkbox', { name: label }).check();
    expect(await page.getByRole('button', { name: /None of these/ }).isDisabled()).toBe(true);
    await turn(page, () => page.getByRole('button', { name: 'Enter 2 ticked' }).click());
    const list = page.locator('.ledger-group');
    for (const { label } of dangers) expect(await list.textContent()).toContain(label);
    await list.locator('summary').click();
    expect(await list.locator('.ledger-line', { hasText: 'Hands inside' }).last().textContent()).toContain('Yes');
    expect(await list.locator('.ledger-line', { hasText: 'Gas smell' }).last().textContent()).toContain('No');
    await close();
  });

  test('takes "not sure" as an answer, and takes back the last turn', async () => {
    const { page, led, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    const before = await page.locator('.ledger > li').count();
    const next = await turn(page, () =>
      page
        .getByRole('group', { name: /^Without an answer/ })
        .getByText('Not sure')
        .click(),
    );
    expect(next.reply.ask?.check).not.toBe(led.reply.ask!.check);
    expect(await page.locator('.ledger-line').last().textContent()).toContain('Not sure');
    const back = await turn(page, () => page.getByRole('button', { name: 'Take back' }).click());
    expect(back.reply.ask?.check).toBe(led.reply.ask!.check);
    expect(await page.locator('.ledger > li').count()).toBe(before);
    await close();
  });

  test('has the ways out always in the same place: not now, may it be used, a person', async () => {
    const { page, led, wrong, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    const tools = page.getByRole('group', { name: /^Without an answer/ });
    const names = ['Not sure', 'Can’t', 'Not at it now', 'Why this?', 'May I use it?', 'Stop, get a person', 'Take back'];
    expect(await tools.getByRole('button').allTextContents()).toEqual(names);
    const used = await turn(page, () => tools.getByText('May I use it?').click());
    expect(used.reply.parts.map(({ text }) => text).join()).toContain('Leave the dryer off');
    expect(used.reply.ask?.check).toBe(led.reply.ask!.check);
    const later = await turn(page, () => tools.getByText('Not at it now').click());
    expect(later.reply.ask?.check).not.toBe(led.reply.ask!.check);
    expect(await tools.getByRole('button').allTextContents()).toEqual(names);
    await tools.getByText('Stop, get a person').click();
    await page.locator('.sheet-text').waitFor();
    await page.getByRole('link', { name: 'Back to the case' }).click();
    await page.locator('.notes', { hasText: 'I want a person' }).waitFor();
    expect(wrong).toEqual([]);
    await close();
  });

  test('changes an earlier answer in its place, and the talk follows', async () => {
    const { page, led, wrong, close } = await openAt(browser, 'technician', AT_BLOCK.slice(0, 8));
    const timer = ({ reply }: TurnTaken) =>
      reply.suspects.find(({ faults }) => faults.join() === 'timer-heat-contact-open')?.live;
    const line = page.locator('.ledger-line', { hasText: 'Controls' });
    const number = await line.locator('.line-number').textContent();
    const place = async () => [
      await line.locator('.line-number').textContent(),
      await line.locator('.ledger-answer .shown').textContent(),
    ];
    expect(timer(led)).toBe(true);
    await say(page, 'one');
    const name = `Change line ${number}: Controls`;
    await line.getByRole('button', { name }).click();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('A dial');
    await page.keyboard.press('Escape');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(name);
    await page.keyboard.press('Enter');
    // With a board there is no timer that could have failed.
    const changed = await turn(page, () => line.getByRole('button', { name: 'Buttons or a screen' }).click());
    expect(timer(changed)).not.toBe(true);
    expect(await page.locator('.suspect', { hasText: /timer heat contact/i }).count()).toBe(0);
    expect(await place()).toEqual([number, 'Buttons or a screen']);
    const back = await turn(page, () => page.getByRole('button', { name: 'Take back' }).click());
    expect(timer(back)).toBe(true);
    expect(await place()).toEqual([number, 'A dial']);
    expect(wrong).toEqual([]);
    await close();
  });

  test('changes an earlier reading in its place, and asks for a number where there is none', async () => {
    const { page, close } = await openAt(browser, 'technician', AT_COIL);
    const line = page.locator('.ledger-line', { hasText: 'Leg to leg at the block, with heat' });
    await line.getByRole('button', { name: /^Change line/ }).click();
    await line.getByLabel('New reading').fill('lots');
    await line.getByRole('button', { name: 'Change it' }).click();
    expect(await line.getByText('A number is needed').count()).toBe(1);
    await line.getByLabel('New reading').fill('120,5');
    await turn(page, () => line.getByRole('button', { name: 'Change it' }).click());
    expect(await line.locator('.shown').first().textContent()).toBe('120.5 V');
    const row = page.locator('.evidence .row', { hasText: 'Leg to leg at the block, with heat' });
    expect(await row.locator('.verdict').textContent()).toMatch(/low/i);
    await close();
  });

  test('takes a reading nobody asked for, judges it, and goes on with its question', async () => {
    const { page, led, close } = await openAt(browser, 'technician', AT_BLOCK);
    const which = await say(page, 'the coil reads 10.6 ohm');
    expect(which.reply.ask?.choices.map(({ label }) => label)).toContain('Coil, end to end');
    const { reply } = await choose(page, 'Coil, end to end');
    const row = page.locator('.evidence .row', { hasText: 'Coil, end to end' });
    expect(await row.locator('.row-shown').textContent()).toBe('10.6 Ω');
    expect(await row.locator('.verdict').textContent()).toMatch(/good/i);
    expect(reply.ask?.check).toBe(led.reply.ask!.check);
    await close();
  });

  test('resumes after a reload where it stood', async () => {
    const { page, led, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    const asked = page.getByRole('heading', { name: led.reply.ask!.text.slice(0, 20) });
    const lines = await page.locator('.ledger > li').count();
    await page.reload();
    await asked.waitFor();
    expect(await page.locator('.ledger > li').count()).toBe(lines);
    // However long the record, what is asked is what is seen.
    await page.setViewportSize(PHONE);
    await page.reload();
    await asked.waitFor();
    await page.waitForFunction(() => {
      const { top, bottom } = document.querySelector('#question')!.getBoundingClientRect();
      return top >= 0 && bottom < innerHeight * 0.7;
    });
    await page.goto(`${inject('url')}/`);
    await page.getByRole('link', { name: /Go on with case/ }).click();
    await asked.waitFor();
    await close();
  });
});

describe.concurrent('a stop', () => {
  test('takes the page; corrected and read back with yes, it is lifted', async () => {
    const { page, wrong, close } = await openAt(browser, 'homeowner', [COLD]);
    const { reply } = await say(page, 'I can smell gas in here');
    expect(await page.getByRole('alert').count()).toBe(1);
    expect(await page.getByRole('alert').textContent()).toContain(reply.parts[0]!.text.split('\n\n')[1]);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('stop');
    const pressable = page.locator('main :is(button, a, input, textarea, select, summary):visible');
    expect(new Set(await pressable.allTextContents())).toEqual(new Set(['', 'Send', 'That was wrong, correct it']));
    // What is asked is answered in its place, and the field keeps the focus.
    const asked = await say(page, 'is it safe to unplug it');
    expect(asked.reply.parts[0]!.text).toMatch(/Leave the plug/);
    expect(await page.getByRole('alert').textContent()).toMatch(/Leave the plug.*The stop still stands/s);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('own-words');
    expect(await page.locator('#own-words').inputValue()).toBe('');
    await say(page, 'we are all outside');
    expect(await page.getByRole('alert').textContent()).toMatch(/Good: you are outside/);
    expect(await page.locator('.stop').count()).toBe(1);
    expect(await page.getByRole('navigation').isVisible()).toBe(false);
    const { x, width } = (await page.locator('.stop').boundingBox())!;
    expect([x, width]).toEqual([0, DESK.width]);
    expect(await violations(page)).toEqual([]);
    const cause = page.locator('.stop-wrong > p', { hasText: 'Gas smell' });
    await cause.getByRole('button').click();
    const read = await turn(page, () =>
      page
        .getByRole('group', { name: /Gas smell/ })
        .getByText('No', { exact: true })
        .click(),
    );
    expect(read.reply.ask?.check).toBe('read-back');
    expect(await page.locator('.stop').count()).toBe(1);
    expect(await violations(page)).toEqual([]);
    const yes = read.reply.ask!.choices.find(({ id }) => id === 'yes')!;
    const after = await choose(page, yes.label);
    expect(after.reply.stops ?? []).toEqual([]);
    expect(await page.locator('.stop').count()).toBe(0);
    expect(await question(page).count()).toBe(1);
    expect(wrong).toEqual([]);
    await close();
  });

  test('stands where the read-back is answered with no', async () => {
    const { page, close } = await openAt(browser, 'homeowner', GAS);
    await page.locator('.stop-wrong > p', { hasText: 'Gas smell' }).getByRole('button').click();
    const read = await turn(page, () =>
      page
        .getByRole('group', { name: /Gas smell/ })
        .getByText('No', { exact: true })
        .click(),
    );
    const after = await choose(page, read.reply.ask!.choices.find(({ id }) => id === 'no')!.label);
    expect(after.reply.stops?.length).toBe(1);
    expect(await page.locator('.stop').count()).toBe(1);
    await close();
  });
});

describe.concurrent('evidence', () => {
  test('shows reading, band, verdict in words, source on demand, suspects with their share', async () => {
    const { page, led, wrong, close } = await openAt(browser, 'technician', AT_COIL);
    const panel = page.locator('#evidence');
    const told = led.reply.evidence.find(({ fact }) => fact === 'between_legs_heat')!;
    const row = panel.locator('.row', { hasText: told.label });
    expect(await row.locator('.row-shown').textContent()).toBe('240.6 V');
    expect((await row.locator('.verdict').textContent())?.toLowerCase()).toContain(told.verdictWords.toLowerCase());
    expect(await row.getByRole('img', { name: `Reading 240.6 V, expected ${told.expectedShown}` }).count()).toBe(1);
    const because = row.getByText(told.because);
    expect(await because.isVisible()).toBe(false);
    await row.locator('summary').click();
    expect(await because.isVisible()).toBe(true);
    const likeliest = led.reply.suspects.filter(({ live }) => live).toSorted((a, b) => b.share - a.share)[0]!;
    const first = panel.locator('.suspect').first();
    expect((await first.textContent())?.toLowerCase()).toContain(likeliest.label.toLowerCase());
    expect(await first.locator('.share').textContent()).toMatch(/^about \d in 10$/);
    expect(await panel.getByText(/^Ruled out so far: [1-9]/).count()).toBe(1);
    expect(await panel.locator('.progress').textContent()).toContain(`${led.reply.progress.suspectsLeft}suspects left`);
    expect(wrong).toEqual([]);
    await close();
  });

  test('is folded below the record on a phone and opens from the count', async () => {
    const { page, close } = await openAt(browser, 'homeowner', ASKED_FUEL, { viewport: PHONE });
    expect(await page.locator('#suspects').isVisible()).toBe(false);
    await page.getByRole('button', { name: /suspects left/ }).click();
    expect(await page.locator('#suspects').isVisible()).toBe(true);
    await close();
  });
});

describe.concurrent('when something goes wrong', () => {
  test('without a network the words stay, and go out once when sent again', async () => {
    const { page, wrong, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    await page.context().setOffline(true);
    const field = page.getByLabel('In your own words');
    await field.fill('it is electric');
    await page.getByRole('button', { name: 'Send', exact: true }).click();
    await page.getByText('No connection').waitFor();
    expect(await field.inputValue()).toBe('it is electric');
    await page.context().setOffline(false);
    // Back online, the page offers to send it and sends nothing by itself.
    const offer = page.getByRole('button', { name: 'Send it now' });
    await offer.waitFor();
    expect(await page.locator('.ledger-line', { hasText: /^\d+Heats with/ }).count()).toBe(0);
    await turn(page, () => offer.click());
    expect(await page.locator('.ledger-line', { hasText: /^\d+Heats with/ }).count()).toBe(1);
    expect(await field.inputValue()).toBe('');
    expect(await page.getByRole('alert').count()).toBe(0);
    expect(wrong).toEqual([]);
    await close();
  });

  test('a pressed answer the line kept back is offered again as well, and what is being written stays', async () => {
    const { page, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    await page.context().setOffline(true);
    await question(page)
      .getByRole('button', { name: /^Electric, with a hose/ })
      .click();
    await page.getByText('No connection').waitFor();
    await page.getByLabel('In your own words').fill('and one more thing');
    await page.context().setOffline(false);
    await turn(page, () => page.getByRole('button', { name: 'Send it now' }).click());
    expect(await page.locator('.ledger-line', { hasText: /^\d+Heats with/ }).textContent()).toContain('Electric');
    expect(await page.getByLabel('In your own words').inputValue()).toBe('and one more thing');
    await close();
  });

  test('a case changed elsewhere is shown as it stands, the words kept', async () => {
    const { page, id, close } = await openAt(browser, 'homeowner', ASKED_FUEL);
    const elsewhere = await page
      .context()
      .request.post(`${inject('url')}/api/cases/${id}/say`, { data: { text: 'it is electric' } });
    expect(elsewhere.status()).toBe(200);
    await page.getByLabel('In your own words').fill('it blows out through a duct');
    await page.keyboard.press('Enter');
    await page.getByText('changed somewhere else').waitFor();
    expect(await page.locator('.ledger-line', { hasText: /^\d+Heats with/ }).count()).toBe(1);
    expect(await page.getByLabel('In your own words').inputValue()).toBe('it blows out through a duct');
    await close();
  });

  test('typed markup stays letters everywhere', async () => {
    const { page, wrong, close } = await open(browser);
    let dialogs = 0;
    page.on('dialog', (dialog) => {
      dialogs += 1;
      void dialog.dismiss();
    });
    const evil = '<img src=x onerror=alert(1)><b id="evil">drum turns but no heat</b> **bold** [x](javascript:alert(1))';
    await start(page, HOMEOWNER, evil);
    expect(await page.getByText('<b id="evil">drum turns').count()).toBeGreaterThan(0);
    await say(page, '<script>alert(2)</script><i class="evil">zzz</i>');
    expect(await page.getByText('<i class="evil">zzz</i>').count()).toBeGreaterThan(0);
    expect(await page.locator('#evil, .evil, main img, main script').count()).toBe(0);
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.locator('.sheet-text').waitFor();
    expect(await page.locator('.sheet-text').textContent()).toContain('<b id="evil">');
    expect(await page.locator('#evil, .evil, main img, a[href^="javascript"]').count()).toBe(0);
    expect(dialogs).toBe(0);
    expect(wrong).toEqual([]);
    await close();
  });

  test('what is half typed is still there after something else was asked', async () => {
    const { page, close } = await openAt(browser, 'technician', AT_COIL);
    const reading = page.getByRole('textbox', { name: 'Coil, end to end' });
    await reading.fill('10.2');
    await say(page, 'what is that');
    expect(await reading.inputValue()).toBe('10.2');
    await turn(page, () => page.getByRole('button', { name: 'Enter reading' }).click());
    expect(await page.locator('.ledger-line', { hasText: '10.2 Ω' }).count()).toBe(1);
    await close();
  });
});

test.concurrent('the access check itself finds a fault that is put in', async () => {
  const { page, close } = await open(browser);
  await page.evaluate(() => document.querySelector('main')?.append(document.createElement('button')));
  expect((await violations(page)).join()).toContain('button-name');
  await close();
});

test.concurrent('a list of dangers answered with none leads on', async () => {
  const { page, led, close } = await openAt(browser, 'agent', [COLD]);
  expect(await question(page).locator('.script').textContent()).toContain(led.reply.ask!.script);
  expect((await none(page)).reply.ask?.check).not.toBe(led.reply.ask!.check);
  await close();
});
