import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import type { Audience, TurnTaken } from '../../client/types.ts';
import { audienceTitle } from '../../client/words.ts';
import type { Ask, Part } from '../../server/types.ts';
import { post } from '../server/load/built-server.ts';
import { partOf } from '../whole.ts';
import { DESK, fitsAcross, launch, open, PHONE, question, say, start, turn, wholeTurn } from './pages.ts';

interface Talk {
  name: string;
  audience: Audience;
  steps: { say: string }[];
  replies: { parts: Part[]; stops?: string[] }[];
}
const folder = resolve('transcripts-demo');
const talks = readdirSync(folder)
  .filter((file) => file.endsWith('.json'))
  .map((file) => JSON.parse(readFileSync(join(folder, file), 'utf8')) as Talk)
  .filter((talk) => talk.replies);

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

test('there are talks to play', () => expect(talks.length).toBeGreaterThan(8));

describe.concurrent('played on the page', () => {
  const named = talks.map((talk) => [talk.name, talk] as const);
  test.each(partOf(named, 2, 0))('%s, typed on a phone', async (_, talk) => {
    const { end, wrong } = await play(talk, PHONE, (page, at) => say(page, talk.steps[at]!.say));
    expect(end).toBe(plain(endOf(talk)));
    expect(wrong).toEqual([]);
  });

  test.each(partOf(named, 2, 1))('%s, pressed on a desk', async (_, talk) => {
    const turns = await told(talk);
    const clicks = { done: 0, of: 0 };
    const { end, wrong } = await play(talk, DESK, async (page, at) => {
      const press = pressed(page, turns[at - 1]!.reply.ask, turns[at]!, talk.steps[at]!.say);
      clicks.of += 1;
      if (!press) return say(page, talk.steps[at]!.say);
      clicks.done += 1;
      return turn(page, press.act, press.sends);
    });
    expect(end).toBe(plain(endOf(talk)));
    // All but what was told beside the question can be answered without typing a word.
    expect(clicks.of - clicks.done).toBeLessThanOrEqual(2);
    expect(wrong).toEqual([]);
  });
});

/** The same words told to the server alone. @returns the reply of each step */
async function told({ audience, steps }: Talk): Promise<TurnTaken[]> {
  const url = inject('url');
  const { case: opened } = (await (await post(url, '/api/cases', { audience })).json()) as TurnTaken;
  const turns: TurnTaken[] = [];
  for (const { say } of steps)
    turns.push(await wholeTurn(await (await post(url, `/api/cases/${opened.id}/say`, { text: say })).text()));
  return turns;
}

/** Plays a talk from the first page to its end. @returns what the page says the case came to */
async function play(talk: Talk, viewport: typeof PHONE, step: (page: Page, at: number) => Promise<TurnTaken>) {
  const { page, wrong, close } = await open(browser, '', { viewport });
  await start(page, new RegExp(audienceTitle(talk.audience)), talk.steps[0]!.say);
  for (let at = 1; at < talk.steps.length; at++) await step(page, at);
  await fitsAcross(page);
  const end = plain((await page.locator('.stop-text, .outcomes .prose').allTextContents()).join(''));
  await close();
  return { end, wrong };
}

/** How a step that was typed is pressed or filled in instead; undefined where it was no answer to the open question. */
function pressed(page: Page, ask: Ask | undefined, taken: TurnTaken, words: string) {
  const told = taken.case.answers.filter((line) => line.turn === Math.max(...taken.case.answers.map((a) => a.turn)));
  const box = question(page);
  // By class: a role is worked out for every element of the page, and this is done hundreds of times.
  const button = (label: string) => box.locator('button.choice').filter({ has: page.locator(`text="${label}"`) });
  if (!ask) return undefined;
  if (ask.kind === 'many') {
    const ticks = ask.choices.filter((choice) => choice.label.toLowerCase() === words.toLowerCase());
    if (ticks.length === 0) return { act: () => box.locator('.many-end button', { hasText: 'None of these' }).click(), sends: 1 };
    return {
      act: async () => {
        for (const { id, label } of ticks) {
          const line = ask.groups?.find(({ of }) => of.includes(id));
          if (line) await box.getByRole('checkbox', { name: line.label, exact: true }).check();
          await box.getByRole('checkbox', { name: label, exact: true }).check();
        }
        await box.getByRole('button', { name: /^Enter/ }).click();
      },
      sends: 1,
    };
  }
  if (ask.kind === 'readings') {
    const given = ask.reads.flatMap(({ fact }) => {
      const row = taken.reply.evidence.findLast((one) => one.fact === fact && told.some((line) => line.seq === one.seq));
      return row ? [{ fact, value: row.value }] : [];
    });
    if (given.length === 0) return undefined;
    return {
      act: async () => {
        for (const { fact, value } of given) await page.locator(`#read-${fact}`).fill(value === 'open' ? 'OL' : String(value));
        await box.locator('button[type=submit]').click();
      },
      sends: given.length,
    };
  }
  const line = told.find(({ fact }) => ask.choices.some((choice) => choice.fact === fact));
  if (line?.act === 'unsure') return { act: () => page.getByRole('button', { name: 'Not sure' }).last().click(), sends: 1 };
  // One choice may tell two things at once: then it is known by the words typed.
  const choice = ask.choices.find(({ label }) => label === line?.shown || label.toLowerCase() === words.toLowerCase());
  return choice && { act: () => button(choice.label).click(), sends: 1 };
}

/** What a talk came to: its stop, else the newest outcome, which stands while what follows is about the cause. */
function endOf({ replies }: Talk): string {
  const last = replies.at(-1)!;
  const kinds = last.stops ? ['stop'] : ['conclude', 'refer'];
  const end = replies.findLast(({ parts }) => parts.some(({ kind }) => kinds.includes(kind)))!;
  return end.parts
    .filter(({ kind }) => kinds.includes(kind))
    .map(({ text }) => text)
    .join('\n');
}

/** Letters and signs alone: no marks of Markdown, no blanks. */
const plain = (text: string) => text.replace(/\*\*|\\|^- |\s/gm, '');
