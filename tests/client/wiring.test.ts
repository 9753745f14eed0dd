import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { redraw } from '../../rules/engine/variants.ts';
import { knowledge, pointsOn } from '../../rules/index.ts';
import { ASKED_FUEL } from './cases.ts';
import { leadTo } from './lead-to.ts';
import { DESK, fitsAcross, launch, open, openAt, PHONE, question, themesAt, violations, wholeTurn } from './pages.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const IDLE = { between_legs_idle: 240.2, motor_leg_to_neutral_idle: 120, other_leg_to_neutral_idle: 120.2 };
const HEAT = { between_legs_heat: 239.8, motor_leg_to_neutral_heat: 119.9, other_leg_to_neutral_heat: 120.1 };
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
    for (const colorScheme of themesAt(viewport)) {
      await page.emulateMedia({ colorScheme });
      expect(await violations(page), colorScheme).toEqual([]);
    }
    await page.emulateMedia({ media: 'print' });
    expect(await picture.isVisible()).toBe(true);
    expect(wrong).toEqual([]);
    await close();
  }
});

test.each([
  ['dial-single-coil', 'limit-on-motor-side', 'limit-and-cutoff-ohms', { control_kind: 'dial' }],
  ['dial-single-coil', 'second-limit', 'limit-and-cutoff-ohms', { control_kind: 'dial' }],
  ['electronic-relay-thermistor', 'limit-on-motor-side', 'limit-and-cutoff-ohms', { control_kind: 'buttons' }],
  ['dial-two-coil', 'no-selector', 'supply-at-block-heat', { control_kind: 'dial', heater_coils: 'two' }],
] as const)(
  '%s built otherwise (%s): its own circuit is drawn, and the leads go where its parts are',
  async (machine, variant, check, told) => {
    const k = knowledge();
    const { id, reply: before } = await leadTo(check, { ...told }, { ...IDLE, ...HEAT, coil_ohms: 10.6 });
    const patched = await fetch(`${inject('url')}/api/cases/${id}`, {
      method: 'PATCH',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ machine: { variants: [variant] } }),
    });
    const { reply } = await wholeTurn(await patched.text());
    expect([patched.status, reply.ask?.check]).toEqual([200, check]);
    const plain = k.machines.get(machine)!;
    const own = redraw(plain, [variant], k.supply.wire_ohm);
    const wires = (list: { id: string; a: string; b: string; kind: string }[]) =>
      list.map(({ id, a, b, kind }) => [id, a, b, kind].join(' ')).toSorted();
    const inMachine = ({ branches }: { branches: { id: string; a: string; b: string; kind: string; supply: boolean }[] }) =>
      wires(branches.filter(({ supply }) => !supply));
    expect(inMachine(before.ask!.wiring!)).toEqual(wires(plain.branches));
    const wiring = reply.ask!.wiring!;
    expect(inMachine(wiring)).toEqual(wires(own.branches));
    for (const read of wiring.reads) {
      const measured = k.checks.get(check)!.measure!.reads.find((r) => r.fact === read.fact)!;
      expect(read.points).toEqual(pointsOn(own, measured.points));
    }
    const { page, wrong, close } = await open(browser, `#case/${id}`);
    await page.getByRole('img', { name: /^Wiring: / }).waitFor();
    expect(await page.locator('.wiring-first').textContent()).toContain(own.variants!.find((v) => v.id === variant)!.title);
    // The words at the fields, beside the picture and in the picture say the same points.
    const named = (point: string) => wiring.nodes.find((n) => n.id === point)!.name;
    const places = await page.locator('.wiring-places').textContent();
    for (const { points } of wiring.reads) {
      expect(places).toContain(`Red lead: ${named(points![0])}`);
      expect(places).toContain(`Black lead: ${named(points![1])}`);
    }
    for (const { points } of reply.ask!.reads) {
      if (own.moved && Object.keys(own.moved).length > 0)
        expect(await page.locator('.readings').textContent()).toContain(named(points![1]));
    }
    await fitsAcross(page);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  },
);

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

test('the outlet is read with the plug out: it is drawn live and called live, cord and dryer dead', async () => {
  const { id } = await leadTo('supply-at-receptacle', { control_kind: 'dial' });
  for (const viewport of [PHONE, DESK]) {
    const { page, wrong, close } = await open(browser, `#case/${id}`, { viewport });
    const picture = page.getByRole('img', { name: /^Wiring: / });
    await picture.waitFor();
    const first = await page.locator('.wiring-first').textContent();
    expect(first).toContain("The outlet is live. The dryer's cord is dead: the plug is out.");
    expect(first).not.toMatch(/nothing is live/);
    expect(await page.locator('main').textContent()).toMatch(/The outlet is live\..*Shrouded probes/s);
    // Both probes stand on thick lines; what hangs below the plug is thin.
    const at = async (selector: string) =>
      picture.locator(selector).evaluateAll((lines) => lines.map((l) => (l.getAttribute('points') ?? '').split(' ').map(Number)));
    const probes = await picture
      .locator('.probe circle, .probe rect')
      .evaluateAll((marks) =>
        marks.map((m) => (m as SVGGraphicsElement).getBBox()).map((b) => [b.x + b.width / 2, b.y + b.height / 2]),
      );
    const live = await at('.wire.live');
    const on = ([x = 0, y = 0]: number[], line: number[]) =>
      Math.abs(line[0]! - x) < 1 &&
      Math.abs(line[2]! - x) < 1 &&
      Math.min(line[1]!, line[3]!) <= y &&
      Math.max(line[1]!, line[3]!) >= y;
    expect(probes).toHaveLength(2);
    for (const probe of probes)
      expect(
        live.some((line) => on(probe, line)),
        probe.join(),
      ).toBe(true);
    const lowest = Math.max(...live.flatMap((line) => line.filter((_, i) => i % 2 === 1)));
    const post = Math.min(
      ...(await picture.locator('.post-ring').evaluateAll((p) => p.map((c) => Number(c.getAttribute('cy'))))),
    );
    expect(lowest).toBeLessThan(post);
    expect(await picture.locator('.wire.dead').count()).toBeGreaterThan(10);
    expect(await page.locator('.wiring-key').textContent()).toMatch(/live.*no voltage, plug out/s);
    expect(await page.locator('.wiring-key').textContent()).not.toContain('current should flow');
    await page.getByText('The picture in words').click();
    const words = page.locator('.wiring .noted .speaks').filter({ hasText: 'Live now' });
    expect(await words.locator('li').allTextContents()).toContain("Receptacle, motor's leg");
    expect(await words.textContent()).not.toMatch(/terminal block|plug blade/i);
    await fitsAcross(page);
    expect(await violations(page)).toEqual([]);
    expect(wrong).toEqual([]);
    await close();
  }
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
