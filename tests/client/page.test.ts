import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { DESK, fitsAcross, launch, open, PHONE, start, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const TECHNICIAN = /do the repair/;
const HOMEOWNER = /my dryer/;

describe('a case', () => {
  test('is opened by typing, and its record starts with the words', async () => {
    const { page, wrong, close } = await open(browser);
    await start(page, HOMEOWNER, 'drum turns, air is cold');
    expect(page.url()).toMatch(/#case\/[\w-]{20,}$/);
    expect(await page.getByRole('log').getByText('drum turns, air is cold').count()).toBeGreaterThan(0);
    expect(await page.getByRole('heading', { level: 2, name: 'Is any of these true right now?' }).count()).toBe(1);
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

  test('goes from the first page to a judged answer by keyboard alone', async () => {
    const { page, wrong, close } = await open(browser);
    const tab = (times: number) =>
      Array.from({ length: times }).reduce<Promise<void>>((p) => p.then(() => page.keyboard.press('Tab')), Promise.resolve());
    await tab(1);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the record');
    await page.keyboard.press('Enter');
    await tab(1);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await tab(1);
    await page.keyboard.type('no heat');
    await page.keyboard.press('Enter');
    await page.getByText('Is any of these true').waitFor();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('question');
    await page.keyboard.press('2');
    expect(await page.getByRole('checkbox', { name: /flame or smoke/ }).isChecked()).toBe(true);
    await page.keyboard.press('2');
    await page.keyboard.press('5');
    await page.getByText('What heats the air').waitFor();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('question');
    await page.keyboard.press('1');
    await page.getByText('How warm is the air').waitFor();
    expect(await page.locator('.ledger-line').last().textContent()).toContain('Electric');
    // A letter on the question goes on in the free-text field; digits in the field are text.
    await page.keyboard.type('cold 1');
    expect(await page.getByLabel('In your own words').inputValue()).toBe('cold 1');
    expect(wrong).toEqual([]);
    await close();
  });

  test('takes answers by a click, and several ticked at once', async () => {
    const { page, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.getByRole('checkbox', { name: 'Somebody felt a shock or a tingle' }).check();
    await page.getByRole('checkbox', { name: /hands or a meter/ }).check();
    expect(await page.getByRole('button', { name: /None of these/ }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Enter 2 ticked' }).click();
    await page.locator('.stop').waitFor();
    const list = page.locator('.ledger-group');
    expect(await list.textContent()).toContain('Somebody felt a shock or a tingle, Somebody has hands or a meter inside');
    await list.locator('summary').click();
    expect(await list.locator('.ledger-line', { hasText: 'Shock or tingle' }).last().textContent()).toContain('Yes');
    expect(await list.locator('.ledger-line', { hasText: 'Smell of gas' }).last().textContent()).toContain('No');
    await close();
  });

  test('takes "not sure" as an answer, and takes back the last turn', async () => {
    const { page, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.getByRole('button', { name: /None of these/ }).click();
    await page.getByText('What heats the air').waitFor();
    await page.getByRole('button', { name: 'Not sure' }).click();
    await page.getByText('How warm is the air').waitFor();
    expect(await page.getByRole('log').textContent()).toContain('not sure');
    await page.getByRole('button', { name: 'Take back' }).click();
    await page.getByText('What heats the air').waitFor();
    expect(await page.getByRole('log').textContent()).not.toContain('not sure');
    await close();
  });

  test('changes an earlier answer in its place', async () => {
    const { page, wrong, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.getByRole('button', { name: /None of these/ }).click();
    await page.getByRole('button', { name: 'Electric' }).click();
    await page.getByText('How warm is the air').waitFor();
    const line = page.locator('.ledger-line', { hasText: 'What heats it' });
    await line.getByRole('button', { name: /Change line 6/ }).click();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Electric');
    await page.keyboard.press('Escape');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Change line 6: What heats it');
    await page.keyboard.press('Enter');
    await line.getByRole('button', { name: 'Gas' }).click();
    await line.getByText('Gas', { exact: true }).waitFor();
    expect(await line.textContent()).not.toContain('Electric');
    expect(await page.locator('.ledger-line').last().textContent()).toContain('What heats it');
    expect(wrong).toEqual([]);
    await close();
  });

  test('changes an earlier reading in its place, and asks for a number where there is none', async () => {
    const { page, close } = await open(browser);
    await toCoil(page);
    const line = page.locator('.ledger-line', { hasText: 'Block, L1 to L2' });
    await line.getByRole('button', { name: /^Change line/ }).click();
    await line.getByLabel('New reading').fill('lots');
    await line.getByRole('button', { name: 'Change it' }).click();
    expect(await line.getByText('A number is needed').count()).toBe(1);
    await line.getByLabel('New reading').fill('120,5');
    await line.getByRole('button', { name: 'Change it' }).click();
    await line.getByText('120.5 V').waitFor();
    const row = page.locator('.evidence .row', { hasText: 'Block, L1 to L2' });
    expect(await row.textContent()).toContain('Too low');
    await close();
  });

  test('resumes after a reload where it stood', async () => {
    const { page, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.getByRole('button', { name: /None of these/ }).click();
    await page.getByText('What heats the air').waitFor();
    await page.reload();
    await page.getByText('What heats the air').waitFor();
    expect(await page.locator('.ledger > li').count()).toBe(2);
    await page.goto(`${inject('url')}/`);
    await page.getByRole('link', { name: /Go on with case/ }).click();
    await page.getByText('What heats the air').waitFor();
    await close();
  });
});

describe('a stop', () => {
  test('takes the page: what to do now, told once, and the way back', async () => {
    const { page, wrong, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.getByLabel('In your own words').fill('I can smell gas in here');
    await page.keyboard.press('Enter');
    await page.locator('.stop').waitFor();
    expect(await page.getByRole('alert').count()).toBe(1);
    expect(await page.getByRole('alert').textContent()).toContain('Go outside');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('stop');
    const pressable = page.locator('main :is(button, a, input, textarea, select, summary):visible');
    expect(await pressable.allTextContents()).toEqual(['That was wrong, correct it']);
    expect(await page.getByRole('navigation').isVisible()).toBe(false);
    const { x, width } = (await page.locator('.stop').boundingBox())!;
    expect([x, width]).toEqual([0, DESK.width]);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await page.getByRole('button', { name: 'That was wrong, correct it' }).click();
    await page
      .getByRole('group', { name: /Smell of gas/ })
      .getByRole('button', { name: 'No', exact: true })
      .click();
    await page.getByRole('heading', { name: 'What heats the air' }).waitFor();
    expect(await page.locator('.stop').count()).toBe(0);
    await close();
  });
});

describe('evidence', () => {
  test('shows reading, band, verdict in words, source on demand, suspects with their share', async () => {
    const { page, wrong, close } = await open(browser);
    await toCoil(page);
    const panel = page.locator('#evidence');
    const row = panel.locator('.row', { hasText: 'Block, L1 to N' });
    expect(await row.locator('.row-shown').textContent()).toBe('118.6 V');
    expect(await row.textContent()).toContain('As it should be');
    expect(await row.getByRole('img', { name: 'Reading 118.6 V, expected 108 to 126 V' }).count()).toBe(1);
    expect(await row.getByText('ANSI C84.1').isVisible()).toBe(false);
    await row.locator('summary').click();
    expect(await row.getByText('ANSI C84.1').isVisible()).toBe(true);
    const coil = panel.locator('.suspect', { hasText: 'Heater coil open' });
    expect(await coil.locator('.share').textContent()).toMatch(/^about \d in 10$/);
    await coil.locator('summary').click();
    expect(await coil.textContent()).toContain('as cold as the room');
    expect(await panel.getByText(/^Ruled out so far: [1-9]/).count()).toBe(1);
    expect(await panel.locator('.progress').textContent()).toContain('suspects left');
    expect(wrong).toEqual([]);
    await close();
  });

  test('is folded below the record on a phone and opens from the count', async () => {
    const { page, close } = await open(browser, '', { viewport: PHONE });
    await start(page, HOMEOWNER, 'cold');
    expect(await page.locator('#suspects').isVisible()).toBe(false);
    await page.getByRole('button', { name: /suspects left/ }).click();
    expect(await page.locator('#suspects').isVisible()).toBe(true);
    await close();
  });
});

describe('when something goes wrong', () => {
  test('without a network the words stay, and go out once when sent again', async () => {
    const { page, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    await page.context().setOffline(true);
    const field = page.getByLabel('In your own words');
    await field.fill('it is electric');
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByText('No connection').waitFor();
    expect(await field.inputValue()).toBe('it is electric');
    await page.context().setOffline(false);
    await page.getByRole('button', { name: 'Send' }).click();
    await page.locator('.ledger-line', { hasText: 'What heats it' }).waitFor();
    expect(await field.inputValue()).toBe('');
    expect(await page.getByText('No connection').count()).toBe(0);
    await close();
  });

  test('a case changed elsewhere is shown as it stands, the words kept', async () => {
    const { page, close } = await open(browser);
    await start(page, HOMEOWNER, 'cold');
    const id = page.url().split('#case/')[1];
    const elsewhere = await page
      .context()
      .request.post(`${inject('url')}/api/cases/${id}/say`, { data: { text: 'it is electric' } });
    expect(elsewhere.status()).toBe(200);
    await page.getByLabel('In your own words').fill('gas smell no');
    await page.keyboard.press('Enter');
    await page.getByText('changed somewhere else').waitFor();
    expect(await page.locator('.ledger-line', { hasText: 'What heats it' }).count()).toBe(1);
    expect(await page.getByLabel('In your own words').inputValue()).toBe('gas smell no');
    await close();
  });

  test('typed markup stays letters everywhere', async () => {
    const { page, wrong, close } = await open(browser);
    let dialogs = 0;
    page.on('dialog', (dialog) => {
      dialogs += 1;
      void dialog.dismiss();
    });
    const evil = '<img src=x onerror=alert(1)><b id="evil">no heat</b> **bold** [x](javascript:alert(1))';
    await start(page, HOMEOWNER, evil);
    expect(await page.getByText('<b id="evil">no heat</b>').count()).toBeGreaterThan(0);
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.locator('.sheet-text').waitFor();
    expect(await page.locator('#evil, main img, a[href^="javascript"]').count()).toBe(0);
    expect(dialogs).toBe(0);
    expect(wrong).toEqual([]);
    await close();
  });
});

test('a reading half typed is still there after something else was asked', async () => {
  const { page, close } = await open(browser);
  await toCoil(page);
  await page.getByRole('textbox', { name: 'Heater coil, cold' }).fill('10.2');
  await page.getByLabel('In your own words').fill('what is that');
  await page.keyboard.press('Enter');
  await page.getByText('I could not make anything of that').waitFor();
  expect(await page.getByRole('textbox', { name: 'Heater coil, cold' }).inputValue()).toBe('10.2');
  await page.getByRole('button', { name: 'Enter reading' }).click();
  await page.locator('.ledger-line', { hasText: '10.2 Ω' }).waitFor();
  // The last question is answered: what the case came to has the focus.
  expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('Outcome');
  await close();
});

test('the access check itself finds a fault that is put in', async () => {
  const { page, close } = await open(browser);
  await page.evaluate(() => document.querySelector('main')?.append(document.createElement('button')));
  expect((await violations(page)).join()).toContain('button-name');
  await close();
});

describe('the other pages', () => {
  test('one reading is judged with its band and remembered', async () => {
    const { page, wrong, close } = await open(browser, '#reading');
    await page.getByLabel('Check', { exact: true }).selectOption({ label: 'Heater coil, cold' });
    await page.getByRole('button', { name: 'Judge it' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('The reading is missing');
    await page.getByLabel('Reading', { exact: true }).fill('0.0102');
    await page.getByLabel('Unit of Reading').selectOption('kΩ');
    await page.getByLabel('Plate, volts').fill('240');
    await page.getByRole('button', { name: 'Judge it' }).click();
    await page.locator('.judged').waitFor();
    expect(await page.locator('.judged h2').textContent()).toContain('10.2 Ω: As it should be');
    await page.getByLabel('OL (over range)').check();
    await page.getByRole('button', { name: 'Judge it' }).click();
    await page.locator('.judged h2', { hasText: 'OL: Open' }).waitFor();
    await page.reload();
    expect(await page.locator('.last-readings li').count()).toBe(2);
    expect(wrong).toEqual([]);
    await close();
  });

  test('the job sheet is shown, copied as text and kept as JSON', async () => {
    const { page, wrong, close } = await open(browser, '', {
      permissions: ['clipboard-read', 'clipboard-write'],
      acceptDownloads: true,
    });
    await start(page, HOMEOWNER, 'cold since monday');
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.getByRole('heading', { level: 2, name: 'What was found' }).waitFor();
    await page.getByRole('button', { name: 'Copy as text' }).click();
    await page.getByText('Copied.').waitFor();
    expect(await page.evaluate(() => navigator.clipboard.readText())).toContain('# Job sheet');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Download JSON' }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/^job-sheet-.{6}\.json$/);
    await page.emulateMedia({ media: 'print' });
    expect(await page.getByRole('button', { name: 'Print' }).isVisible()).toBe(false);
    expect(wrong).toEqual([]);
    await close();
  });

  test('an invented talk plays step by step against the program', async () => {
    const { page, wrong, close } = await open(browser, '#demo');
    await page.getByRole('link', { name: 'Cold since the storm' }).click();
    for (const step of ['Step 1 of 3', 'Step 2 of 3', 'Step 3 of 3']) {
      await page.getByText(step).waitFor();
      await page.getByRole('button', { name: 'Play next step' }).click();
    }
    await page.getByText('That was the last step').waitFor();
    expect(await page.getByRole('log').textContent()).toContain('Electric');
    expect(wrong).toEqual([]);
    await close();
  });
});

describe.each([
  ['phone', PHONE],
  ['narrow phone', { width: 320, height: 568 }],
  ['desk', DESK],
  ['wide desk', { width: 1400, height: 900 }],
])('on a %s', (_, viewport) => {
  test.each(['light', 'dark'] as const)('in %s nothing breaks a rule of access or runs out of the side', async (colorScheme) => {
    const { page, wrong, close } = await open(browser, '', { viewport, colorScheme });
    const check = async (where: string) => {
      expect(await violations(page), where).toEqual([]);
      await fitsAcross(page);
    };
    await check('start');
    await toCoil(page, () => check('a question'));
    await page.getByRole('button', { name: 'Why this?' }).click();
    await page.locator('#evidence').evaluate((panel: HTMLDetailsElement) => {
      for (const d of [panel, ...panel.querySelectorAll('details')]) d.open = true;
    });
    await check('readings');
    await page.getByLabel('OL (over range)').check();
    await page.getByRole('button', { name: 'Enter reading' }).click();
    await page.locator('.outcome').first().waitFor();
    await page.getByRole('button', { name: /^Change line 6/ }).click();
    await check('the end, a line open for change');
    await page.getByRole('link', { name: 'Job sheet', exact: true }).click();
    await page.locator('.sheet-text').waitFor();
    await check('job sheet');
    await page.getByRole('link', { name: 'One reading' }).click();
    await page.getByLabel('Reading', { exact: true }).fill('90');
    await page.getByRole('button', { name: 'Judge it' }).click();
    await page.locator('.judged').waitFor();
    await check('one reading');
    await page.getByRole('link', { name: 'Demo' }).click();
    await page.getByRole('link', { name: 'Cold since the storm' }).click();
    await page.getByText('Step 1 of 3').waitFor();
    await check('demo');
    expect(wrong).toEqual([]);
    await close();
  });
});

test('on a phone everything that is pressed is at least 44 px high', async () => {
  const { page, close } = await open(browser, '', { viewport: PHONE });
  await toCoil(page);
  const small = await page
    .locator(':is(button, select, textarea, input:not([type=checkbox]), summary, .tick, .masthead a):visible')
    .evaluateAll((all) =>
      all.filter((el) => el.getBoundingClientRect().height < 43.5).map((el) => `${el.tagName} ${el.className} ${el.textContent}`),
    );
  expect(small).toEqual([]);
  await close();
});

test('the worker keeps the page for when the network is gone', async () => {
  const { page, close } = await open(browser, '', { serviceWorkers: 'allow' });
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await page.context().setOffline(true);
  await page.reload();
  expect(await page.getByRole('button', { name: 'Open a case' }).count()).toBe(1);
  await close();
});

/** A technician's case up to the coil: gate, fuel, warmth, three volts. */
async function toCoil(page: Page, on: () => Promise<void> = async () => {}): Promise<void> {
  await start(page, TECHNICIAN, 'no heat');
  await page.getByRole('button', { name: /None of these/ }).click();
  await page.getByRole('button', { name: 'Electric' }).click();
  await page.getByText('How warm is the air').waitFor();
  await on();
  await page.getByRole('button', { name: 'As cold as the room' }).click();
  await page.getByLabel('Block, L1 to N').fill('118.6');
  await page.getByLabel('Block, L2 to N').fill('119');
  await page.getByLabel('Block, L1 to L2').fill('237.9');
  await page.getByRole('button', { name: 'Enter readings' }).click();
  await page.getByText('What does the cold heater coil read?').waitFor();
}
