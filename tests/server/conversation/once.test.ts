import { describe, expect, test, vi } from 'vitest';
import { consult } from '../../../rules/index.ts';
import type { CaseFacts, Prepared } from '../../../rules/types.ts';
import { createConversation } from '../../../server/conversation/index.ts';
import { wiringOf } from '../../../server/conversation/show/wiring.ts';
import { openAsk } from '../../../server/conversation/stand/ask.ts';
import { understand } from '../../../server/understand/index.ts';
import { Case, k, throughGates } from './parts.ts';

// As they are, and counted.
vi.mock('../../../server/conversation/stand/ask.ts', async (whole) => {
  const all = await whole<typeof import('../../../server/conversation/stand/ask.ts')>();
  return { ...all, openAsk: vi.fn(all.openAsk) };
});
vi.mock('../../../server/conversation/show/wiring.ts', async (whole) => {
  const all = await whole<typeof import('../../../server/conversation/show/wiring.ts')>();
  return { ...all, wiringOf: vi.fn(all.wiringOf) };
});

/** A conversation that counts how often words are understood and the engine is asked. */
async function counted() {
  const count = { understood: 0, consulted: 0 };
  const talk = await createConversation({
    k,
    understand: (...said) => {
      count.understood++;
      return understand(...said);
    },
    consult: (machine: Prepared, facts: CaseFacts) => {
      count.consulted++;
      return consult(machine, facts);
    },
  });
  /** What one step cost. */
  const cost = async (step: () => Promise<unknown>) => {
    const before = { ...count };
    await step();
    return { understood: count.understood - before.understood, consulted: count.consulted - before.consulted };
  };
  return { talk, cost };
}
const technician = async (talk: Awaited<ReturnType<typeof counted>>['talk']) => {
  const c = await Case.open(talk, 'technician', { circuits: ['dial-single-coil'] });
  await c.tell('complaint', 'no-heat');
  await throughGates(c);
  return c;
};

describe('in one turn', () => {
  test('words are understood once and the case is reasoned out once; where it ends the next turn begins', async () => {
    const { talk, cost } = await counted();
    const c = await technician(talk);
    expect(await cost(() => c.say('the element reads 10.4 ohms across it'))).toEqual({ understood: 1, consulted: 1 });
    expect(c.fact('coil_ohms')).toBe(10.4);
    expect(await cost(() => c.tell('between_legs_idle', 240))).toEqual({ understood: 0, consulted: 1 });
    expect(await cost(() => c.undo())).toEqual({ understood: 0, consulted: 0 });
  });

  test('what changes nothing is reasoned about by nobody: a question, a note, words nobody understands, a look', async () => {
    const { talk, cost } = await counted();
    const c = await technician(talk);
    const nothing = { understood: 1, consulted: 0 };
    expect(await cost(() => c.say('why?'))).toEqual(nothing);
    expect(await cost(() => c.say('frobnicate the wibble'))).toEqual(nothing);
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'note', note: 'not-understood' });
    expect(await cost(() => c.say('send a person'))).toEqual(nothing);
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'note', note: 'noted' });
    expect(await cost(() => talk.look(c.record))).toEqual({ understood: 0, consulted: 0 });
    expect(await cost(() => talk.sheet(c.record))).toEqual({ understood: 0, consulted: 0 });
  });

  test('a case that comes from a store, in other objects and another order of keys, is known again', async () => {
    const { talk, cost } = await counted();
    const c = await technician(talk);
    const stored = () => {
      const turned = (o: object) => Object.fromEntries(Object.entries(o).reverse());
      const { answers, ...rest } = JSON.parse(JSON.stringify(c.record));
      return { ...rest, answers: answers.map(turned) };
    };
    c.record = stored();
    expect(await cost(() => talk.look(stored()))).toEqual({ understood: 0, consulted: 0 });
    await c.say('frobnicate the wibble');
    c.record = stored();
    expect(await cost(() => c.tell('coil_ohms', 10.4))).toEqual({ understood: 0, consulted: 1 });
  });

  test('a sentence asked back is not understood again while it is remembered', async () => {
    const { talk, cost } = await counted();
    const c = await technician(talk);
    expect(await cost(() => c.say('120 volts'))).toEqual({ understood: 1, consulted: 0 });
    expect(c.last.reply.ask?.check).toBe('which');
    const asked = c.record;
    expect(await cost(() => c.tell('which', '1'))).toEqual({ understood: 0, consulted: 1 });
    // Picked in words it is one of the choices, and nothing else is looked for in them.
    c.record = asked;
    expect(await cost(() => c.say('the first'))).toEqual({ understood: 1, consulted: 1 });
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'tell', value: 120 });
    const fresh = await counted();
    // Somewhere else, where nothing of it is remembered, the options are made again from its words.
    expect(await fresh.cost(() => fresh.talk.look(asked))).toEqual({ understood: 1, consulted: 1 });
  });

  test('a case that differs in one thing alone is another case', async () => {
    const { talk, cost } = await counted();
    const c = await technician(talk);
    await c.tell('coil_ohms', 10.4);
    const other = (change: object) => ({
      ...c.record,
      answers: [...c.record.answers.slice(0, -1), { ...c.record.answers.at(-1)!, ...change }],
    });
    for (const change of [
      { value: 10.5 },
      { state: 'run-heat' },
      { lifted: true },
      { said: 'ten' },
      { by: 'homeowner' },
      { seq: 99 },
    ])
      expect(await cost(() => talk.look(other(change)))).toEqual({ understood: 0, consulted: 1 });
    expect(
      await cost(() => talk.look({ ...c.record, settings: { ...c.record.settings, machine: { circuits: [] } } })),
    ).toMatchObject({ consulted: 1 });
    expect(
      await cost(() => talk.look({ ...c.record, settings: { ...c.record.settings, job: { customer: 'x' } } })),
    ).toMatchObject({ consulted: 0 });
  });

  test('the open question is made once for each case that stands, and the drawing once for each reply', async () => {
    const { talk } = await counted();
    const c = await technician(talk);
    const made = async (step: () => Promise<unknown>) => {
      const before = [vi.mocked(openAsk).mock.calls.length, vi.mocked(wiringOf).mock.calls.length];
      await step();
      return {
        asks: vi.mocked(openAsk).mock.calls.length - before[0]!,
        drawings: vi.mocked(wiringOf).mock.calls.length - before[1]!,
      };
    };
    expect(await made(() => c.say('the element reads 10.4 ohms across it'))).toEqual({ asks: 1, drawings: 1 });
    expect(await made(() => c.tell('between_legs_idle', 240))).toEqual({ asks: 1, drawings: 1 });
    expect(vi.mocked(wiringOf).mock.results.some((drawn) => drawn.value !== undefined)).toBe(true);
    expect(await made(() => c.say('why?'))).toEqual({ asks: 0, drawings: 1 });
    expect(await made(() => talk.look(c.record))).toEqual({ asks: 0, drawings: 1 });
    expect(await made(() => c.undo())).toMatchObject({ drawings: 1 });
  });
});
