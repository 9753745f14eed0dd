import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { consult, foldCase, knowledge, machineInHand, prepare, warm } from '../../../rules/index.ts';
import { FILES } from '../../../rules/knowledge/files.ts';
import type { Answer, Audience, CaseFacts, CaseSettings, Consultation, MachineInHand, Prepared } from '../../../rules/types.ts';
import { answerOf, type Flat } from '../../answers.ts';

/** Laws of one consultation, over every family (or two at once), machine and audience. */
const k = knowledge();
const choiceFacts = [...k.facts.values()].filter((f) => f.kind === 'choice');
const quantityFacts = [...k.facts.values()].filter((f) => f.kind === 'quantity');

type Told = Flat & { fact: string };
/** Something told, or "not sure", "can't" and "later" in its place. */
const told: fc.Arbitrary<Told> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc
      .constantFrom(...choiceFacts)
      .chain((f) => fc.constantFrom(...f.choices!).map((value): Told => ({ act: 'tell', fact: f.id, value }))),
  },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom(...quantityFacts)
      .chain((f) =>
        fc
          .oneof(fc.constant('open' as const), fc.double({ min: 0, max: Math.min(f.possible?.hi ?? 300, 300), noNaN: true }))
          .map((value): Told => ({ act: 'tell', fact: f.id, value })),
      ),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      act: fc.constantFrom('unsure' as const, 'declined' as const, 'later' as const),
      fact: fc.constantFrom(...choiceFacts.map((f) => f.id)),
    }),
  },
);
const distinct = fc.uniqueArray(told, { selector: (t) => t.fact, minLength: 0, maxLength: 16 });
interface Setting {
  audience: Audience;
  families: string[];
  machine: Partial<MachineInHand>;
}
const setting: fc.Arbitrary<Setting> = fc.record({
  audience: fc.constantFrom<Audience>('homeowner', 'agent', 'technician'),
  families: fc.uniqueArray(fc.constantFrom(...k.families.keys()), { minLength: 1, maxLength: 2 }),
  machine: fc.oneof(
    fc.constant({}),
    fc.constantFrom(...k.machines.keys()).map((id) => ({ circuits: [id] })),
  ),
});

const answersOf = (list: readonly Told[], by: Audience): Answer[] => list.map((t, i) => answerOf({ seq: i + 1, by, ...t }));
const foldOf = (s: Setting, answers: readonly Answer[]): CaseFacts => foldCase(k, { ...s, units: 'us' }, answers);
const kept = new Map<string, Prepared>();
const keptFor = (hand: MachineInHand): Prepared => {
  const key = JSON.stringify(hand);
  const had = kept.get(key) ?? prepare(k, hand);
  kept.set(key, had);
  return had;
};
const ask = (f: CaseFacts): Promise<Consultation> => consult(keptFor(machineInHand(k, f)), f);
const signs = (c: Consultation) => c.stops.map((s) => s.sign);

describe('laws of one consultation, over every family, machine and audience', () => {
  test('cold, warm, kept and fresh give the same consultation, to the byte', async () => {
    await fc.assert(
      fc.asyncProperty(distinct, setting, async (list, s) => {
        const f = foldOf(s, answersOf(list, s.audience));
        const hand = machineInHand(k, f);
        const cold = JSON.stringify(await consult(prepare(k, hand), f));
        const warmed = prepare(k, hand);
        warm(warmed, f.families);
        expect(JSON.stringify(await consult(warmed, f))).toBe(cold);
        expect(JSON.stringify(await consult(keptFor(hand), f))).toBe(cold);
        expect(JSON.stringify(await consult(keptFor(hand), f))).toBe(cold);
      }),
      { numRuns: 10, seed: 51 },
    );
  });

  test('the order of answers changes neither stops, verdicts nor suspects', async () => {
    const conclusionsOf = (c: Consultation, f: CaseFacts) => {
      const name = new Map(f.readings.map((r) => [r.seq, r.fact]));
      const named = (seqs: number[]) => seqs.map((q) => name.get(q)).sort();
      return {
        stops: signs(c),
        silenced: c.silenced,
        verdicts: c.verdicts.map((v) => `${name.get(v.seq)} ${v.is} ${v.class ?? ''} ${v.standing}`).sort(),
        suspects: c.suspects.map((x) => [
          x.faults,
          x.share,
          x.misreads,
          x.live,
          named(x.for),
          named(x.against),
          named(x.confirmedBy),
        ]),
      };
    };
    // The newest reading of the leg at rest scales the supply: with two of them the order is part of what was told.
    const scales = (t: Told) => /^(proof_)?(motor_leg_to_neutral|between_legs)/.test(t.fact);
    await fc.assert(
      fc.asyncProperty(
        distinct.chain((list) =>
          fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length, maxLength: list.length })),
        ),
        setting,
        async ([list, shuffled], s) => {
          fc.pre(list.filter(scales).length <= 1);
          const a = foldOf(s, answersOf(list, s.audience));
          const b = foldOf(s, answersOf(shuffled, s.audience));
          expect(conclusionsOf(await ask(b), b)).toEqual(conclusionsOf(await ask(a), a));
        },
      ),
      { numRuns: 80, seed: 52 },
    );
  });

  test('undo is exact: whatever a turn told, set or put off, taking it back leaves the case as it was', async () => {
    const set: fc.Arbitrary<CaseSettings> = fc.record({
      audience: fc.constantFrom<Audience>('homeowner', 'technician'),
      families: fc.constantFrom(['noise'], ['shock', 'no-heat']),
    });
    await fc.assert(
      fc.asyncProperty(
        distinct,
        fc.array(told, { minLength: 1, maxLength: 4 }),
        fc.option(set, { nil: undefined }),
        setting,
        async (list, more, changes, s) => {
          const before = answersOf(list, s.audience);
          const turn = before.length + 1;
          const extra: Answer[] = more.map((t, i) => answerOf({ seq: turn + i, turn, said: '', by: s.audience, ...t }));
          if (changes) extra.push({ seq: turn + more.length, turn, act: 'set', set: changes, said: '', by: s.audience });
          const back: Answer = { seq: turn + extra.length, turn: turn + 1, act: 'undo', said: '', by: s.audience };
          const a = { ...foldOf(s, before), rev: 0 };
          const b = { ...foldOf(s, [...before, ...extra, back]), rev: 0 };
          expect(b).toEqual(a);
          expect(JSON.stringify(await ask(b))).toBe(JSON.stringify(await ask(a)));
        },
      ),
      { numRuns: 60, seed: 53 },
    );
  });

  test('not sure, cannot, later and answers that say nothing are no evidence', async () => {
    const plain = choiceFacts.filter((f) => f.unsureIs === undefined);
    const nothing: fc.Arbitrary<Told> = fc.oneof(
      fc.record({
        act: fc.constantFrom('unsure' as const, 'declined' as const, 'later' as const),
        fact: fc.constantFrom(...plain.map((f) => f.id), ...quantityFacts.map((f) => f.id)),
      }),
      fc
        .constantFrom(...plain.filter((f) => f.noEvidence?.length))
        .chain((f) => fc.constantFrom(...f.noEvidence!).map((value): Told => ({ act: 'tell', fact: f.id, value }))),
    );
    await fc.assert(
      fc.asyncProperty(distinct, nothing, setting, async (list, t, s) => {
        const rest = list.filter((x) => x.fact !== t.fact);
        const answers = answersOf(rest, s.audience);
        const a = foldOf(s, answers);
        const b = foldOf(s, [...answers, answerOf({ seq: 99, said: '', by: s.audience, ...t })]);
        const [x, y] = [await ask(a), await ask(b)];
        expect(y.suspects).toEqual(x.suspects);
        expect(y.verdicts.filter((v) => v.seq !== 99)).toEqual(x.verdicts);
      }),
      { numRuns: 80, seed: 54 },
    );
  });

  test('"not sure" of flame, smoke, gas, CO, shock or hands inside counts as yes', async () => {
    const asYes = ['flame_or_smoke', 'gas_smell', 'co_or_unwell', 'shock_kind', 'hands_inside_live', 'person_held_or_hurt'];
    for (const fact of asYes)
      await fc.assert(
        fc.asyncProperty(distinct, setting, fc.constantFrom('unsure' as const, 'declined' as const), async (list, s, act) => {
          const rest = answersOf(
            list.filter((x) => x.fact !== fact),
            s.audience,
          );
          const f = k.facts.get(fact)!;
          const unsure = foldOf(s, [...rest, answerOf({ seq: 99, act, fact, said: '', by: s.audience })]);
          const yes = foldOf(s, [
            ...rest,
            { seq: 99, turn: 99, act: 'tell', fact, value: f.unsureIs!, said: '', by: s.audience },
          ]);
          const got = await ask(unsure);
          expect(signs(got)).toEqual(signs(await ask(yes)));
          if (act === 'unsure') expect(unsure.everStopped).toContain(fact);
        }),
        { numRuns: 8, seed: 55 },
      );
  });

  test('a stop leaves by a correction, by taking back, or by "made safe" of a technician where no outside help is needed', async () => {
    const dangers = choiceFacts.filter((f) => f.danger?.length);
    let stopped = 0;
    let lifted = 0;
    await fc.assert(
      fc.asyncProperty(
        fc
          .constantFrom(...dangers)
          .chain((f) => fc.constantFrom(...f.danger!.filter((d) => !f.noEvidence?.includes(d))).map((d) => [f, d] as const)),
        distinct,
        setting,
        async ([fact, danger], list, s) => {
          const rest = list.filter((t) => t.fact !== fact.id && t.fact !== 'made_safe');
          const first: Answer = { seq: 1, turn: 1, act: 'tell', fact: fact.id, value: danger, said: '', by: s.audience };
          const more = answersOf(rest, s.audience).map((a) => ({ ...a, seq: a.seq + 1, turn: a.turn + 1 }));
          const before = await ask(foldOf(s, [first]));
          const now = [first, ...more];
          const held = await ask(foldOf(s, now));
          expect(signs(held)).toEqual(expect.arrayContaining(signs(before)));
          stopped += before.stops.length;
          // The least urgent way out: a technician says it was made safe. For anyone else that word lifts nothing.
          const safe: Answer = { seq: 90, turn: 90, act: 'tell', fact: 'made_safe', value: 'yes', said: '', by: s.audience };
          const after = await ask(foldOf(s, [...now, safe]));
          const stay = held.stops.filter((x) => s.audience !== 'technician' || x.standsUntil !== 'made safe').map((x) => x.sign);
          expect(signs(after)).toEqual(stay);
          lifted += held.stops.length - stay.length;
          // Handing the case to somebody else lifts nothing that needs outside help.
          const handed = foldOf(s, [
            ...now,
            { seq: 91, turn: 91, act: 'set', set: { audience: 'technician' }, said: '', by: s.audience },
          ]);
          expect(signs(await ask(handed))).toEqual(signs(held));
          // Corrected: gone as if it had been told right at once, but remembered.
          const other = fact.choices!.find((c) => !fact.danger!.includes(c) && !fact.noEvidence?.includes(c))!;
          const right = foldOf(s, [
            ...now,
            { seq: 92, turn: 92, act: 'correct', of: 1, fact: fact.id, value: other, said: '', by: s.audience },
          ]);
          const never = foldOf(s, [{ ...first, value: other }, ...more]);
          expect(signs(await ask(right))).toEqual(signs(await ask(never)));
          expect(right.everStopped).toContain(fact.id);
        },
      ),
      { numRuns: 70, seed: 56 },
    );
    expect(stopped).toBeGreaterThan(30);
    expect(lifted).toBeGreaterThan(5);
  });
});

describe('no jumper, for nobody', () => {
  // Words for taking a safety part out of circuit. What a person confesses, and what a reading shows of a part, is told apart below.
  const TRICK =
    /\b(jumper|jumpered|jump(ed|ing)? (it|out|across|over)|bypass(ed|es|ing)?|bridg(e|es|ing)|piggy-?back|defeat(ed|ing)?|short(ed|ing)? (it )?(out|across)|puente[aeó]\w*|(hacer|con|poner) un puente|pontage|ponter|überbrück\w*)\b/i;
  /** Sentences that forbid it, ask whether somebody did it, or send for help where it was done. */
  const AGAINST = /\b(no|never|not|nothing|don.t|without|none)\b|\b(was|left|part) bypassed\b/i;
  /** Words a person may say, listened for and never said. */
  const HEARD = /\.match$/;
  const texts: [where: string, text: string][] = [];
  const collect = (where: string, v: unknown): void => {
    if (typeof v === 'string' && !HEARD.test(where)) texts.push([where, v]);
    else if (Array.isArray(v)) for (const x of v) collect(where, x);
    else if (typeof v === 'object' && v !== null) for (const [key, x] of Object.entries(v)) collect(`${where}.${key}`, x);
  };
  for (const [file, v] of Object.entries(FILES)) collect(file, v);
  const words = 'server/conversation/words';
  for (const language of readdirSync(words, { withFileTypes: true }).filter((d) => d.isDirectory()))
    for (const file of readdirSync(`${words}/${language.name}`).filter((f) => f.endsWith('.json')))
      collect(`${language.name}/${file}`, JSON.parse(readFileSync(`${words}/${language.name}/${file}`, 'utf8')));

  test('neither in a text of the knowledge nor in the words of any language', () => {
    expect(texts.length).toBeGreaterThan(5000);
    const sentences = texts.flatMap(([where, text]) =>
      text.includes(' ') ? text.split(/(?<=[.?!])\s+/).map((x) => [where, x] as const) : [],
    );
    const suspicious = sentences.filter(([, x]) => TRICK.test(x));
    expect(suspicious.filter(([, x]) => !AGAINST.test(x))).toEqual([]);
    // And none of those that name it tells anyone to do it.
    expect(
      suspicious.filter(([, x]) =>
        /^(please )?(jumper|bypass|bridge|short|use a jumper|put a jumper|fit a jumper|connect)\b/i.test(x),
      ),
    ).toEqual([]);
  });

  test('no check closes a path by hand: leads come off, none goes on', () => {
    for (const c of k.checks.values()) {
      for (const t of c.tools) expect(t, c.id).not.toMatch(/jumper|shunt|wire link|bridge/i);
      for (const [m, id] of Object.entries(c.measure?.lift ?? {}))
        for (const machine of m === '*' ? k.machines.values() : [k.machines.get(m)!]) {
          const lift = machine.lifts.find((l) => l.id === id);
          if (lift) expect(lift.opens.length, `${c.id} ${id}`).toBeGreaterThan(0);
        }
    }
    // A path that is added belongs to a fault, never to a state somebody is asked to put the machine in.
    for (const s of k.states.values()) expect(Object.keys(s)).not.toContain('add');
  });
});
