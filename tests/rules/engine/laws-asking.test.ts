import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { askedCheck, caseFlat, consult, foldCase, knowledge, machineInHand, prepare } from '../../../rules/index.ts';
import type { Answer, Audience, CaseFacts, Check, Consultation, MachineInHand, Prepared, Value } from '../../../rules/types.ts';
import { checkIn, answerOf as shaped } from '../../answers.ts';
import { everyWorld } from '../../bench/every-world.ts';
import { modelDryer } from '../../bench/model-dryer.ts';

/** Laws of a whole talk: somebody answers whatever is asked, in every way a person may, until nothing more is asked. */
const k = knowledge();
const kept = new Map<string, Prepared>();
const preparedFor = (hand: MachineInHand): Prepared => {
  const key = JSON.stringify(hand);
  const had = kept.get(key) ?? prepare(k, hand);
  kept.set(key, had);
  return had;
};
function chance(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
const pick = <T>(draw: () => number, of: readonly T[]): T => of[Math.floor(draw() * of.length)]!;

/** How somebody answers: shares of plain answers, the rest is "not sure", "can't" and "later". */
interface Manner {
  family: string;
  audience: Audience;
  machine: string;
  seed: number;
  /** Of ten answers, how many are given at all. */
  willing: number;
  /** Denies the danger signs, so that the talk goes on. */
  calm: boolean;
  optIn: boolean;
}
const manner: fc.Arbitrary<Manner> = fc.record({
  family: fc.constantFrom(...k.families.keys()),
  audience: fc.constantFrom<Audience>('homeowner', 'agent', 'technician'),
  machine: fc.constantFrom(...k.machines.keys()),
  seed: fc.integer({ min: 1, max: 1e9 }),
  willing: fc.constantFrom(0, 5, 8, 10, 10),
  calm: fc.boolean(),
  optIn: fc.boolean(),
});

interface Moment {
  facts: CaseFacts;
  hand: MachineInHand;
  said: Consultation;
}
interface Talk {
  moments: Moment[];
  answers: Answer[];
  /** Nothing more is asked, or what is asked was put off before. */
  ended: boolean;
}
const MOST = 160;

async function talk(m: Manner): Promise<Talk> {
  const draw = chance(m.seed);
  const answers: Answer[] = [];
  const moments: Moment[] = [];
  const worlds = everyWorld(m.family, m.audience).filter((w) => w.machine === m.machine);
  const dryer = modelDryer(m.machine, pick(draw, worlds).faults, m.family, { quiet: m.calm });
  for (let turn = 1; turn <= MOST; turn++) {
    const facts = foldCase(k, { audience: m.audience, families: [m.family], units: 'us' }, answers);
    const hand = machineInHand(k, facts);
    const said = await consult(preparedFor(hand), facts);
    moments.push({ facts, hand, said });
    const next = said.next;
    if (!next) return { moments, answers, ended: true };
    const check = askedCheck(k, next);
    const shown = await dryer.answer(check);
    for (const fact of check.settles) {
      const at = { ...(next.points && { points: next.points }), ...(next.state !== undefined && { state: next.state }) };
      const base = { seq: answers.length + 1, turn, fact, check: check.id, said: '', by: m.audience, ...at };
      if (draw() * 10 >= m.willing) answers.push(shaped({ ...base, act: pick(draw, ['unsure', 'declined', 'later'] as const) }));
      else
        answers.push(
          shaped({
            ...base,
            act: next.of === undefined ? 'tell' : 'repeat',
            value: answerOf(m, check, fact, shown[fact], draw),
          }),
        );
    }
  }
  return { moments, answers, ended: false };
}
/** Mostly what a dryer with some fault shows, now and then anything that can be said at all. */
function answerOf(m: Manner, check: Check, fact: string, truth: unknown, draw: () => number): Value {
  const f = k.facts.get(fact)!;
  if (fact === 'qualified') return m.seed % 4 ? 'yes' : 'no';
  if (fact === 'made_safe') return m.seed % 2 ? 'yes' : 'no';
  if (fact === 'opt_in') return m.optIn ? 'yes' : 'no';
  if (check.id === 'ask-opt-in-terms' && draw() < 0.97) return OPT_IN_TERMS[fact]?.[0] ?? f.choices![0]!;
  if (f.kind === 'choice') {
    if (draw() < 0.85 && f.choices!.includes(String(truth))) return String(truth);
    return pick(draw, m.calm ? f.choices!.filter((c) => !f.danger?.includes(c)) : f.choices!);
  }
  if (draw() < 0.85 && (typeof truth === 'number' || truth === 'open')) return truth;
  return draw() < 0.3 ? 'open' : Number((draw() * 300).toPrecision(3));
}

const CAP: Record<Audience, number> = { homeowner: 1, agent: 1, technician: 4 };
const OPERATES = [
  'switch',
  'plug-out',
  'plug-in',
  'breaker-off',
  'breaker-on',
  'panel',
  'phone-here',
  'flame',
  'run',
  'live',
  'touch-machine',
];
const OPT_IN_TERMS: Record<string, string[]> = {
  opt_in: ['yes'],
  fuel: ['electric'],
  plug_out_in_sight: ['yes'],
  stacked: ['no'],
  slots: ['three', 'four'],
  rented: ['no'],
  under_cover: ['no'],
  adult_not_alone: ['yes'],
  cold_15_min: ['yes'],
  covers_before_plug: ['yes'],
  no_live_readings: ['yes'],
};

describe('laws of a whole talk, over every family, machine, audience and manner of answering', () => {
  test('asking ends; nothing is asked beyond the person; one re-closing at most; gas before anything is operated', async () => {
    const met = new Set<string>();
    await fc.assert(
      fc.asyncProperty(manner, async (m) => {
        const t = await talk(m);
        const asked = t.moments.slice(-9).map((x) => `${x.said.next?.check} ${x.said.next?.why} ${x.said.next?.of ?? ''}`);
        expect(t.ended, `the talk comes to an end: ${asked.join(', ')}`).toBe(true);
        const times = new Map<string, number>();
        let closings = 0;
        for (const { facts, hand, said } of t.moments) {
          if (!said.next) continue;
          const check = k.checks.get(said.next.check)!;
          const told = new Map(facts.readings.map((r) => [r.fact, r.value]));
          met.add(`${m.audience} ${check.level}`);
          // A doubtful reading is read three times at most. A proof that failed opens the case again, and with it what may be asked.
          if (check.kind === 'proof') times.clear();
          // What was put off is asked again as often as it is put off.
          const putOff = [check.id, ...check.settles].some((id) => facts.asked.get(id) === 'later');
          if (!putOff) times.set(check.id, (times.get(check.id) ?? 0) + 1);
          expect(times.get(check.id) ?? 0, `${check.id} asked again and again`).toBeLessThanOrEqual(3);
          // The level of the person, and of a homeowner who opted in on every one of the terms.
          const optedIn =
            m.audience === 'homeowner' &&
            !facts.everStopped.size &&
            Object.entries(OPT_IN_TERMS).every(([f, any]) => any.includes(String(told.get(f))));
          expect(check.level, check.id).toBeLessThanOrEqual(optedIn ? 3 : CAP[m.audience]);
          if (check.level === 4) expect([m.audience, told.get('qualified')], check.id).toEqual(['technician', 'yes']);
          if (m.audience !== 'technician' && check.level >= 2) expect(k.states.get(check.state)?.plugged, check.id).toBe(false);
          // Whatever is silenced, or held while gas is not cleared, is not asked.
          expect(
            check.touches.filter((x) => said.silenced.includes(x)),
            check.id,
          ).toEqual([]);
          const cleared = told.get('fuel') === 'electric' || told.get('gas_smell') === 'no';
          if (!cleared)
            expect(
              check.touches.filter((x) => OPERATES.includes(x)),
              `${check.id} before the smell of gas`,
            ).toEqual([]);
          if (said.stops.length) expect([check.id, m.audience]).toEqual(['ask-made-safe', 'technician']);
          if (check.needs.includes('closing-allowed')) {
            closings++;
            expect(caseFlat(k, facts, hand).reclosings, check.id).toBe(0);
          }
          expect(said.next.cost_min).toBeGreaterThan(0);
        }
        const last = t.moments.at(-1)!.said;
        expect(last.stops.length > 0 || last.conclusion !== undefined || last.referral !== undefined, 'an end is named').toBe(
          true,
        );
        const closed = new Set(
          t.answers
            .filter((a) => a.act !== 'later' && k.checks.get(checkIn(a) ?? '')?.needs.includes('closing-allowed'))
            .map((a) => a.turn),
        );
        expect(closed.size).toBeLessThanOrEqual(Math.max(1, closings));
        expect(t.moments.at(-1)!.facts.reclosings).toBeLessThanOrEqual(1);
      }),
      { numRuns: 90, seed: 41, endOnFailure: true },
    );
    // The talks reach what they are about.
    for (const reached of ['homeowner 1', 'agent 1', 'technician 3', 'technician 4']) expect([...met]).toContain(reached);
  });

  test.each(['unsure', 'declined'] as const)(
    'whoever answers every question with "%s" comes to an end without one asked twice',
    async (act) => {
      for (const family of k.families.keys())
        for (const audience of ['homeowner', 'agent', 'technician'] as const) {
          const answers: Answer[] = [];
          const asked: string[] = [];
          let last: Consultation | undefined;
          for (let turn = 1; turn <= MOST; turn++) {
            const facts = foldCase(k, { audience, families: [family], units: 'us' }, answers);
            last = await consult(preparedFor(machineInHand(k, facts)), facts);
            if (!last.next) break;
            asked.push(last.next.check);
            answers.push({ seq: answers.length + 1, turn, act, about: { check: last.next.check }, said: '', by: audience });
          }
          expect(last?.next, `${family}, ${audience}`).toBeUndefined();
          expect(new Set(asked).size, `${family}, ${audience}: ${asked}`).toBe(asked.length);
        }
    },
  );

  test.each([
    ['dryer_kind', 'condenser', 'out of scope'],
    ['dryer_kind', 'heat-pump', 'out of scope'],
    ['dryer_kind', 'compact-120', 'out of scope'],
    ['plate_supply', '230-single-50-hz', 'out of scope'],
    ['plate_supply', '120-only', 'out of scope'],
    ['signs_of_life', 'hum-then-click', 'no more to learn'],
  ] as const)('what is not known, and a motor that hums, must not be used meanwhile: %s %s', async (fact, value, is) => {
    for (const family of ['no-heat', 'will-not-start', 'noise'])
      for (const audience of ['homeowner', 'agent', 'technician'] as const) {
        const end = await unsureBut({ [fact]: value }, family, audience);
        expect([end.conclusion?.is, end.referral?.mayUse, ...end.stops.map((x) => x.sign)], `${family}, ${audience}`).toEqual([
          is,
          'no',
        ]);
      }
  });
});

/** Somebody who tells these facts, denies every danger and is not sure of all the rest, led to the end. */
async function unsureBut(told: Record<string, string>, family: string, audience: Audience): Promise<Consultation> {
  const none = ['gate-now', 'gate-signs'].map((id) => k.checks.get(id)!.choices!.none!);
  const facts = { ...Object.assign({}, ...none), fuel: 'electric', slots: 'four', ...told } as Record<string, string>;
  const answers = Object.entries(facts).map(
    ([fact, value], i): Answer => ({ seq: i + 1, turn: 1, act: 'tell', fact, value, said: '', by: audience }),
  );
  for (let turn = 2; ; turn++) {
    const f = foldCase(k, { audience, families: [family], units: 'us' }, answers);
    const c = await consult(preparedFor(machineInHand(k, f)), f);
    if (!c.next || turn > MOST) return c;
    answers.push({ seq: answers.length + 1, turn, act: 'unsure', about: { check: c.next.check }, said: '', by: audience });
  }
}
