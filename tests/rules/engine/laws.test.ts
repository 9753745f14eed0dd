import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { consult, foldCase, knowledge, machineInHand, prepare, warm } from '../../../rules/index.ts';
import type { Answer, Audience, CaseFacts, Consultation } from '../../../rules/types.ts';

const k = knowledge();
const choiceFacts = [...k.facts.values()].filter((f) => f.kind === 'choice');
const quantityFacts = [...k.facts.values()].filter((f) => f.kind === 'quantity');

type Told = { fact: string; value: string | number | 'open' };
const told: fc.Arbitrary<Told> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc
      .constantFrom(...choiceFacts)
      .chain((f) => fc.constantFrom(...f.choices!).map((value) => ({ fact: f.id, value }))),
  },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom(...quantityFacts)
      .chain((f) =>
        fc
          .oneof(fc.constant('open' as const), fc.double({ min: 0, max: Math.min(f.possible?.hi ?? 300, 300), noNaN: true }))
          .map((value) => ({ fact: f.id, value })),
      ),
  },
);
const distinct = fc.uniqueArray(told, { selector: (t) => t.fact, minLength: 0, maxLength: 14 });
const audience = fc.constantFrom<Audience>('homeowner', 'agent', 'technician');

const answersOf = (list: Told[], who: Audience): Answer[] =>
  list.map((t, i) => ({ seq: i + 1, turn: i + 1, act: 'tell', fact: t.fact, value: t.value, said: String(t.value), by: who }));
const factsOf = (list: Told[], who: Audience): CaseFacts =>
  foldCase(k, { audience: who, families: ['no-heat'], units: 'us' }, answersOf(list, who));
const ask = (f: CaseFacts): Promise<Consultation> => consult(prepare(k, machineInHand(k, f)), f);
/** A consultation without what hangs on the order of telling: sequence numbers and the next step. */
const conclusionsOf = (c: Consultation, f: CaseFacts) => {
  const name = new Map(f.readings.map((r) => [r.seq, r.fact]));
  return {
    stops: c.stops.map((s) => s.sign),
    verdicts: c.verdicts.map((v) => `${name.get(v.seq)} ${v.is} ${v.class ?? ''}`).sort(),
    suspects: c.suspects.map((s) => `${s.faults} ${s.share} ${s.misreads} ${s.live}`),
  };
};

const MOST: Record<Audience, number> = { homeowner: 1, agent: 1, technician: 4 };

describe('laws of a consultation', () => {
  test('the same answers give the same consultation, cold or warm, to the byte', async () => {
    await fc.assert(
      fc.asyncProperty(distinct, audience, async (list, who) => {
        const f = factsOf(list, who);
        const hand = machineInHand(k, f);
        const warmed = prepare(k, hand);
        warm(warmed, f.families);
        const cold = JSON.stringify(await consult(prepare(k, hand), f));
        expect(JSON.stringify(await consult(warmed, f))).toBe(cold);
        expect(JSON.stringify(await consult(warmed, f))).toBe(cold);
      }),
      { numRuns: 8, seed: 11 },
    );
  });

  test('the order of answers changes neither stops, verdicts nor suspects', async () => {
    await fc.assert(
      fc.asyncProperty(
        distinct.chain((list) =>
          fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length, maxLength: list.length })),
        ),
        audience,
        async ([list, shuffled], who) => {
          // Which leg reading scales the supply is the newest one; with more than one of them the order is part of what was told.
          const scalers = list.filter((t) => t.fact.startsWith('motor_leg_to_neutral') || t.fact.startsWith('between_legs'));
          fc.pre(scalers.length <= 1);
          // A repair parts what was read before it from what was read after it: there the order is what was told.
          fc.pre(!list.some((t) => k.facts.get(t.fact)?.event === 'repair'));
          const a = factsOf(list, who);
          const b = factsOf(shuffled, who);
          expect(conclusionsOf(await ask(b), b)).toEqual(conclusionsOf(await ask(a), a));
        },
      ),
      { numRuns: 60, seed: 12 },
    );
  });

  test('undo is exact: telling and taking back leaves the case as it was', async () => {
    await fc.assert(
      fc.asyncProperty(distinct, told, audience, async (list, more, who) => {
        const before = answersOf(list, who);
        const extra: Answer = {
          seq: before.length + 1,
          turn: before.length + 1,
          act: 'tell',
          fact: more.fact,
          value: more.value,
          said: '',
          by: who,
        };
        const back: Answer = { seq: before.length + 2, turn: before.length + 2, act: 'undo', said: 'take back', by: who };
        const opened = { audience: who, families: ['no-heat'], units: 'us' as const };
        const a = { ...foldCase(k, opened, before), rev: 0 };
        const b = { ...foldCase(k, opened, [...before, extra, back]), rev: 0 };
        expect(b).toEqual(a);
        expect(await ask(b)).toEqual(await ask(a));
      }),
      { numRuns: 40, seed: 13 },
    );
  });

  test('"not sure" is no evidence: shares stay as they were', async () => {
    const plain = choiceFacts.filter((f) => f.unsureIs === undefined && !f.danger);
    await fc.assert(
      fc.asyncProperty(distinct, fc.constantFrom(...plain), audience, async (list, fact, who) => {
        fc.pre(!list.some((t) => t.fact === fact.id));
        const answers = answersOf(list, who);
        const opened = { audience: who, families: ['no-heat'], units: 'us' as const };
        const a = foldCase(k, opened, answers);
        const b = foldCase(k, opened, [
          ...answers,
          { seq: 99, turn: 99, act: 'unsure', about: { fact: fact.id }, said: 'not sure', by: who },
        ]);
        expect((await ask(b)).suspects).toEqual((await ask(a)).suspects);
      }),
      { numRuns: 40, seed: 14 },
    );
  });

  test('nothing above the level of the person is ever asked, and nothing at all while a stop stands but whether it was made safe', async () => {
    await fc.assert(
      fc.asyncProperty(distinct, audience, async (list, who) => {
        const f = factsOf(list, who);
        const c = await ask(f);
        if (!c.next) return;
        const check = k.checks.get(c.next.check)!;
        const optedIn = who === 'homeowner' && list.some((t) => t.fact === 'opt_in' && t.value === 'yes');
        expect(check.level).toBeLessThanOrEqual(optedIn ? 3 : MOST[who]);
        if (check.level === 4) expect(f.readings.find((r) => r.fact === 'qualified')?.value).toBe('yes');
        if (c.stops.length) expect([check.id, who]).toEqual(['ask-made-safe', 'technician']);
        expect(check.touches.filter((t) => c.silenced.includes(t))).toEqual([]);
      }),
      { numRuns: 120, seed: 15 },
    );
  });

  test('a stop that stands leaves only by a correction', async () => {
    const dangers = choiceFacts.filter((f) => f.danger?.length);
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...dangers), distinct, audience, async (fact, list, who) => {
        const rest = list.filter((t) => t.fact !== fact.id && t.fact !== 'made_safe');
        const first = factsOf([{ fact: fact.id, value: fact.danger![0]! }], who);
        const then = factsOf([{ fact: fact.id, value: fact.danger![0]! }, ...rest], who);
        const before = (await ask(first)).stops.map((s) => s.sign);
        const after = (await ask(then)).stops.map((s) => s.sign);
        expect(after).toEqual(expect.arrayContaining(before));
      }),
      { numRuns: 60, seed: 16 },
    );
  });
});
