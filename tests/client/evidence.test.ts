import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { leadTo, tell } from './lead-to.ts';
import { DESK, fitsAcross, launch, open, PHONE, turn, violations } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const IDLE = { between_legs_idle: 240.2, motor_leg_to_neutral_idle: 120, other_leg_to_neutral_idle: 120.2 };
const HEAT = { between_legs_heat: 236.1, motor_leg_to_neutral_heat: 118.2, other_leg_to_neutral_heat: 117.9 };

test.each([
  ['phone', PHONE],
  ['desk', DESK],
] as const)(
  'on a %s: readings with meter error, curves in words, what the next check leaves, who was ruled out by what',
  async (_, viewport) => {
    const led = await leadTo('supply-at-block-heat', { control_kind: 'dial' }, IDLE);
    const { page, wrong, close } = await open(browser, `#case/${led.id}`, { viewport });
    await page.locator('.question').waitFor();
    await page.evaluate(() => {
      for (const d of document.querySelectorAll<HTMLDetailsElement>('#evidence, #evidence details')) d.open = true;
    });
    const panel = page.locator('#evidence');
    const gauge = panel.locator('.row', { hasText: 'Leg to leg at the block, at rest' }).locator('.gauge');
    expect(await gauge.getAttribute('aria-label')).toMatch(
      /^Reading 240\.2 V, expected .*; true value by the meter's error 23\d\.?\d? to 24\d\.?\d?$/,
    );
    expect(await gauge.locator('.gauge-error').count()).toBe(1);
    // Curves: each has a picture with its words, and the words stand below it.
    await panel.locator('.curve').first().waitFor();
    expect(await panel.locator('.curve h4').allTextContents()).toEqual([
      'Supply at rest and with the heat on',
      'Heat by the volts between the legs',
    ]);
    expect(await panel.locator('.curve').nth(1).locator('svg').getAttribute('aria-label')).toContain('240.2 V');
    expect(await panel.locator('.curve').first().textContent()).toContain('Not read with the heat on yet');
    const { outlook } = led.reply;
    const left = panel.locator('.outlook > li');
    expect(await left.count()).toBe(outlook!.outcomes.length);
    expect((await left.first().textContent())!.toLowerCase()).toContain(outlook!.outcomes[0]!.label.toLowerCase());
    const out = led.reply.suspects.find((s) => !s.live && s.speaks?.some((one) => one.is === 'against' && one.would))!;
    const spoken = out.speaks!.find((one) => one.is === 'against' && one.would)!;
    const line = await panel
      .locator('.ruled-out li', { hasText: new RegExp(out.label, 'i') })
      .first()
      .textContent();
    expect(line).toContain(`with this fault ${spoken.would}`);
    await fitsAcross(page);
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await violations(page), colorScheme).toEqual([]);
    }
    expect(wrong).toEqual([]);
    await close();
  },
);

test('a bar moves with the answer and says from where; who went out stands first among the ruled out', async () => {
  const led = await leadTo('coil-ohms', { control_kind: 'buttons' }, { ...IDLE, ...HEAT });
  const labelOf = (fault: string) => led.reply.suspects.find(({ faults }) => faults.join() === fault)!.label;
  const of = (fault: string, reply = led.reply) => reply.suspects.find(({ label }) => label === labelOf(fault))!;
  const { page, wrong, close } = await open(browser, `#case/${led.id}`);
  const row = page.locator('.suspect', { hasText: new RegExp(of('thermal-cutoff-open').label, 'i') });
  const bar = row.locator('.bar-share');
  const before = Number(await bar.getAttribute('width'));
  const node = await bar.elementHandle();
  expect(await page.locator('.moved').count()).toBe(0);
  await page.locator('#read-coil_ohms').fill('10.4');
  const { reply } = await turn(page, () => page.getByRole('button', { name: 'Enter reading' }).click());
  // The very same bar: that is what lets it move instead of jumping.
  expect(await node!.evaluate((el) => el.isConnected)).toBe(true);
  const after = Number(await bar.getAttribute('width'));
  expect(after).toBeGreaterThan(before);
  expect(after).toBeCloseTo(100 * of('thermal-cutoff-open', reply).share, 0);
  expect(await row.locator('.moved').textContent()).toMatch(/up from about \d in 10/);
  expect(of('element-open', reply).live).toBe(false);
  await page.getByText(/^Ruled out so far/).click();
  const out = page.locator('.ruled-out li', { hasText: 'just now' });
  expect((await out.allTextContents()).some((text) => /with this fault/.test(text) && /10\.4 Ω/.test(text))).toBe(true);
  expect(await page.locator('.ruled-out li').first().textContent()).toContain('just now');
  expect(wrong).toEqual([]);
  await close();
});

test('a thermistor reading is drawn on its curves, in the person’s degrees, with its sources', async () => {
  const led = await leadTo('supply-at-block-idle', { control_kind: 'buttons' });
  await tell(led.id, [['thermistor-ohms', 'thermistor_ohms', 9100]]);
  const { page, wrong, close } = await open(browser, `#case/${led.id}`, { viewport: DESK });
  const curve = page.locator('.curve', { hasText: 'resistance by temperature' });
  await curve.waitFor();
  expect(await curve.locator('svg .dot').count()).toBe(2);
  expect(await curve.textContent()).toMatch(/Read: 9\.1 kΩ\. That is 8\d or 8\d °F/);
  await curve.getByText('Sources').click();
  expect(await curve.locator('.noted li').first().isVisible()).toBe(true);
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    expect(await violations(page), colorScheme).toEqual([]);
  }
  expect(wrong).toEqual([]);
  await close();
});
