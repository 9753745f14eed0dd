import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import { DANGER } from '../../../server/conversation/stand/danger-ask.ts';
import { isNoteOf } from '../../../server/conversation/stand/notes.ts';
import type { Ask, ExplainedReply as Reply } from '../../../server/types.ts';
import data from '../../data/talks-retold.json' with { type: 'json' };
import { Case } from '../conversation/parts.ts';

/**
 * Whole talks in people's own words: somebody with a story answers whatever is asked, each time worded another way. The right end
 * must come of it, nothing may be asked twice, and nothing that was told already.
 */
interface Talk {
  id: string;
  who: 'homeowner' | 'agent' | 'technician';
  story: string[];
  end: { anyOf: string[]; stop?: string; fault?: string };
  says: Record<string, string[]>;
  reads: Record<string, number | string>;
  /** Facts the story tells, which may then not be asked. */
  told: string[];
}
const { usual } = data;
const talks = data.talks as unknown as Talk[];
const conversation = await createConversation();
const k = knowledge();
const MOST_TURNS = 45;

/** A small generator, so that every wording can be had again. */
function dice(seed: number): (n: number) => number {
  let state = seed * 2654435761 + 1;
  return (n) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
}

function answerTo(ask: Ask, talk: Talk, roll: (n: number) => number): string {
  const pick = (list: readonly string[]) => list[roll(list.length)] ?? '';
  const fact = ask.choices[0]?.fact ?? ask.check;
  const says: Record<string, string[]> = { ...usual.says, ...talk.says };
  if (ask.reads.length) return readOut(ask, talk, roll) ?? pick(usual.cannot);
  // what is asked about one word of danger is denied: these talks tell theirs themselves
  const own = ask.check === DANGER ? says[DANGER] : (says[fact] ?? says[ask.check]);
  if (own) return pick(own);
  if (ask.kind === 'many') return pick(usual.gate);
  return pick(usual.unsure);
}

/** The readings of a question in one sentence: with names before or after, or as a bare list. */
function readOut(ask: Ask, talk: Talk, roll: (n: number) => number): string | undefined {
  const values = ask.reads.map((r) => talk.reads[r.fact]);
  if (values.some((v) => v === undefined)) return undefined;
  const shown = values.map((v) => (v === 'open' ? ['OL', 'open', 'reads OL'][roll(3)] : String(v)));
  if (ask.reads.length === 1) return `${['', 'it reads ', 'I get ', 'shows '][roll(4)]}${shown[0]}`;
  const way = roll(3);
  if (way === 0) return shown.join([', ', ' / ', ' and '][roll(2)]);
  return ask.reads.map((r, i) => (way === 1 ? `${r.label} ${shown[i]}` : `${shown[i]} ${r.label}`)).join(', ');
}

async function retell(talk: Talk, seed: number): Promise<{ reply: Reply; asked: string[]; lost: string[]; again: string[] }> {
  const roll = dice(seed);
  const c = await Case.open(conversation, talk.who);
  const [asked, lost, again]: [string[], string[], string[]] = [[], [], []];
  let reply = await c.say(talk.story[seed % talk.story.length] ?? '');
  for (let i = 0; i < MOST_TURNS && reply.ask && !reply.consultation.stops.length && !ended(reply); i++) {
    const { ask } = reply;
    const key = `${ask.check} ${ask.of ?? ''} ${ask.reads.map((r) => r.fact).join()}${ask.check === DANGER ? ask.about?.signs : ''}`;
    if (asked.includes(key)) again.push(key);
    asked.push(key);
    for (const fact of talk.told) if (ask.choices[0]?.fact === fact) again.push(`${fact} was told`);
    const said = answerTo(ask, talk, roll);
    reply = await c.say(said);
    if (c.last.added.some((a) => isNoteOf(a, 'not-understood') || isNoteOf(a, 'which')) || !c.last.added.length)
      lost.push(`${ask.check}: "${said}"`);
  }
  return { reply, asked, lost, again };
}
const ended = (reply: Reply): boolean => reply.consultation.conclusion !== undefined;

describe.each(talks)('$id, told by a $who', (talk) => {
  test.each([1, 2, 3, 4, 5])('worded the way of seed %i', async (seed) => {
    const { reply, lost, again } = await retell(talk, seed);
    const { consultation: c } = reply;
    expect(lost).toEqual([]);
    expect(again).toEqual([]);
    if (talk.end.stop) expect(c.stops.map((s) => s.sign)).toContain(talk.end.stop);
    if (talk.end.fault) expect(c.conclusion?.faults).toContain(talk.end.fault);
    expect(
      talk.end.anyOf.some((t) => (c.referral?.trades as string[] | undefined)?.includes(t)),
      JSON.stringify([c.referral, c.conclusion]),
    ).toBe(true);
  });
});

test('every word of the retold talks names something there is', () => {
  for (const talk of talks) {
    for (const fact of Object.keys(talk.reads)) expect(k.facts.has(fact), fact).toBe(true);
    if (talk.end.stop) expect(k.stops.has(talk.end.stop), talk.end.stop).toBe(true);
    if (talk.end.fault) expect(k.faults.has(talk.end.fault), talk.end.fault).toBe(true);
  }
  for (const fact of Object.keys(usual.says)) expect(k.facts.has(fact) || k.checks.has(fact) || fact === DANGER, fact).toBe(true);
});
