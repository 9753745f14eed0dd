import { beforeAll, describe, expect, test } from 'vitest';
import type { Answer, Audience, Consultation, Suspect, Value } from '../../../../rules/types.ts';
import { phrase } from '../../../../server/conversation/show/phrase.ts';
import { type Moment, momentOf } from '../../../../server/conversation/stand/moment.ts';
import { preparedMemo } from '../../../../server/conversation/stand/prepared.ts';
import { stand } from '../../../../server/conversation/stand/standing.ts';
import { speaker } from '../../../../server/conversation/words/speaker.ts';
import { k, text, words } from '../parts.ts';

/** A case with these answers, and a consultation made by hand in place of the engine's. */
const prepared = preparedMemo(k);
async function saying(
  audience: Audience,
  told: [string, Value][],
  c: (real: Consultation) => Partial<Consultation>,
): Promise<Moment> {
  const answers: Answer[] = [
    { seq: 1, turn: 1, act: 'set', said: 'it stays cold', by: audience, set: { families: ['no-heat'] } },
    ...told.map(
      ([fact, value], i): Answer => ({
        seq: i + 2,
        turn: i + 2,
        act: 'tell',
        fact,
        value,
        said: `${value}`,
        by: audience,
      }),
    ),
  ];
  const at = await stand({ k, prepared }, { audience, settings: {}, answers });
  return momentOf({
    k,
    s: speaker(words, k, audience),
    at: { ...at, c: { ...at.c, next: undefined, ...c(at.c) } as Consultation },
  });
}
const suspect = (faults: string[], share: number, more: Partial<Suspect> = {}): Suspect => ({
  faults,
  share,
  misreads: 0,
  live: true,
  for: [],
  against: [],
  confirmedBy: [],
  ...more,
});
const look = (x: Moment) => phrase(x, { added: [] }, {});

describe('the end, from a consultation made by hand', () => {
  const confirmed = () => ({
    suspects: [
      suspect(['thermal-cutoff-open'], 0.9, { for: [2], confirmedBy: [2, 3] }),
      suspect(['element-open'], 0.05, { live: false, against: [3] }),
      suspect([], 0.05, { live: false }),
    ],
    conclusion: { is: 'confirmed' as const, faults: ['thermal-cutoff-open'] },
    followThrough: [
      { kind: 'cause' as const, item: 'vent-duct-restricted', state: 'due' as const },
      { kind: 'cause' as const, item: 'element-grounded', state: 'good' as const },
      { kind: 'proof' as const, item: 'proof-heater-amps', state: 'due' as const },
      { kind: 'close-out' as const, item: 'close-out', state: 'due' as const },
    ],
    referral: {
      trades: ['appliance' as const],
      mayUse: 'no' as const,
      priority: 3 as const,
      parts: ['thermal cut-off', 'high limit'],
      visit_min: 45,
      readings: [2, 3],
      kind: 'appliance-repair',
      rule: '',
    },
  });
  test('names the part, what speaks for it, the cause behind it and the proof', async () => {
    const x = await saying(
      'technician',
      [
        ['cut_off_ohms', 'open'],
        ['coil_ohms', 9.8],
      ],
      confirmed,
    );
    expect(text(look(x))).toBe(`**Found: thermal cutoff open.**

What speaks for it:
- cut off ohms: OL. The meter is over range: there is no path between these points, where a healthy machine has one.
- coil ohms: 9.8 Ω. The reading lies where this machine should be.

Another reading here would change it: cut off ohms and coil ohms.
Repair: Clear the cause first. Then a new cut-off and high limit of the same rating, as a pair. Measure the air before the first heat.

What made it fail comes next. It may be vent duct restricted.

Not the cause behind it: element grounded.

After the repair, prove it: proof heater amps.
A part of the dryer, or its cord: appliance work.

Who: an appliance technician.

It must not be used meanwhile.

Priority P3: routine visit.

Parts to carry: thermal cut-off and high limit.

Likely time on site: 45 minutes.

Local codes, the maker's sheet and licensed practice come first.`);
  });
  test('tells a homeowner who comes and what not to do, no parts and no repair', async () => {
    const x = await saying(
      'homeowner',
      [
        ['cut_off_ohms', 'open'],
        ['coil_ohms', 9.8],
      ],
      confirmed,
    );
    const said = text(look(x));
    expect(said).toMatch(/Do not use the dryer until it is fixed/);
    expect(said).not.toMatch(/Parts to carry|Repair:|prove it/);
  });
  test('gives an agent trades in order, priority, parts and minutes', async () => {
    const x = await saying('agent', [['warmth', 'never-warm']], (c) => ({
      ...confirmed(),
      referral: { ...confirmed().referral, trades: ['owner', 'appliance', 'duct'] },
      suspects: c.suspects,
    }));
    const said = text(look(x), 'refer');
    expect(said).toMatch(/first the owner, then an appliance technician and a duct contractor/);
    expect(said).toMatch(/Priority P3.*Parts to carry: thermal cut-off.*45 minutes/s);
  });
  test('a supply fault names no part of the dryer and writes the readings out', async () => {
    const supply = () => ({
      suspects: [suspect(['supply-leg-lost-other-leg'], 0.95, { for: [2, 3], confirmedBy: [2] })],
      conclusion: { is: 'confirmed' as const, faults: ['supply-leg-lost-other-leg'] },
      referral: {
        trades: ['electrician' as const],
        mayUse: 'no' as const,
        priority: 3 as const,
        parts: [],
        visit_min: 60,
        readings: [2, 3],
        kind: 'supply-fault',
        rule: '',
      },
    });
    for (const who of ['homeowner', 'agent', 'technician'] as const) {
      const x = await saying(
        who,
        [
          ['between_legs_receptacle', 1.2],
          ['motor_leg_to_neutral_receptacle', 121],
        ],
        supply,
      );
      const said = text(look(x), 'refer');
      expect(said).toMatch(/licensed electrician/);
      expect(said).toMatch(/- between legs receptacle: 1.2 V\n- motor leg to neutral receptacle: 121 V/);
      expect(text(look(x))).not.toMatch(/heating element|cut-off|Parts to carry/i);
    }
  });
  test.each([
    [
      'no more to learn',
      'technician',
      /as far as questions lead: element open and high limit open.*element open \(75 %\)\n- high limit open \(25 %\)/s,
    ],
    ['no more to learn', 'homeowner', /as far as I can tell from here.*It may be element open and high limit open/s],
    ['not explained', 'technician', /Nothing listed explains what was read/],
    ['cleared', 'technician', /Nothing is wrong with what was checked/],
  ] as const)('%s, to a %s', async (is, who, says) => {
    const x = await saying(who, [['warmth', 'never-warm']], () => ({
      suspects: [suspect(['element-open'], 0.6), suspect(['high-limit-open'], 0.2), suspect([], 0.2, { live: false })],
      conclusion: { is, faults: ['element-open', 'high-limit-open'] },
    }));
    expect(text(look(x), 'conclude')).toMatch(says);
  });
  test('is not said again in full when only something behind it was told', async () => {
    const before = await saying('technician', [['cut_off_ohms', 'open']], confirmed);
    const after = await saying(
      'technician',
      [
        ['cut_off_ohms', 'open'],
        ['filter_look', 'clean'],
      ],
      confirmed,
    );
    const reply = phrase(after, { added: after.at.answers.slice(-1), before: before.at }, {});
    expect(reply.parts.map((p) => p.kind)).toEqual(['say']);
    // What is new behind it is said: a cause found, and how far the proofs have come.
    const found = await saying('technician', [['cut_off_ohms', 'open']], () => ({
      ...confirmed(),
      followThrough: [
        { kind: 'cause', item: 'vent-duct-restricted', state: 'failed' },
        { kind: 'proof', item: 'proof-heater-amps', state: 'good' },
        { kind: 'proof', item: 'proof-supply-loaded', state: 'due' },
        { kind: 'close-out', item: 'close-out', state: 'due' },
      ],
    }));
    const said = text(phrase(found, { added: found.at.answers.slice(-1), before: before.at }, {}), 'explain');
    expect(said).toMatch(/vent duct restricted/);
    expect(said).toMatch(/1 of 2/);
    expect(said).not.toMatch(/proof heater amps/);
  });
});

describe('a reading said back', () => {
  let x: Moment;
  beforeAll(async () => {
    x = await saying(
      'technician',
      [
        ['coil_ohms', 'open'],
        ['between_legs_idle', 241],
      ],
      () => ({}),
    );
  });
  test('tells what it was taken as, where, in which state, the verdict, the band and where the band comes from', () => {
    const reply = phrase(x, { added: x.at.answers.slice(1, 2), before: x.at }, {});
    expect(reply.parts[0]?.text).toMatch(
      /^I have OL for coil ohms \(one lead on: coil, end at the cut-off; the other on: coil, end at the motor contact; plug out, control off\)\. There is no path: the part is open\. Expected: .+ Ω, from the usual rating of such a dryer and the meter's accuracy\. Tell me the watts on the plate for a closer band\./,
    );
  });
  test('names the plate only where the plate moves the band', () => {
    const reply = phrase(x, { added: x.at.answers.slice(2, 3), before: x.at }, {});
    expect(reply.parts[0]?.text).toMatch(/^I have 241 V for between legs idle/);
    expect(reply.parts[0]?.text).not.toMatch(/rating|plate/);
  });
  test('stands in the evidence as it was said, as it is shown, and with its band', () => {
    expect(look(x).evidence).toMatchObject([
      { seq: 2, fact: 'coil_ohms', shown: 'OL', said: 'open', verdict: 'open', expected: { unit: 'Ω' } },
      {
        seq: 3,
        fact: 'between_legs_idle',
        shown: '241 V',
        verdict: 'good',
        expectedShown: expect.stringMatching(/^\d+ to \d+ V$/),
      },
    ]);
  });
  test('goes through JSON unchanged: no infinity anywhere in a reply', async () => {
    const rest = await saying('technician', [['motor_contact_at_rest_ohms', 'open']], () => ({}));
    const reply = look(rest);
    expect(JSON.parse(JSON.stringify(reply))).toEqual(JSON.parse(JSON.stringify(reply), (_, v) => v));
    expect(JSON.stringify(reply)).not.toContain('null');
  });
});

describe('asked again', () => {
  const floating = (of: number) => (c: Consultation) => ({
    verdicts: c.verdicts.map((v) => (v.seq === of ? { ...v, is: 'floating' as const } : v)),
    next: { check: 'coil-ohms', why: 'repeat' as const, of, cost_min: 2, outcomes: [] },
  });
  test('a floating reading is named', async () => {
    const x = await saying('technician', [['coil_ohms', 9.8]], floating(2));
    expect(look(x).ask).toMatchObject({ of: 2, kind: 'readings', reads: [{ fact: 'coil_ohms' }] });
    expect(look(x).ask!.text).toMatch(/^One reading is in doubt: coil ohms: 9.8 Ω\./);
  });
  test('a contradicted one is held against the one that contradicts it', async () => {
    const x = await saying(
      'technician',
      [
        ['coil_ohms', 9.8],
        ['heater_amps', 0],
      ],
      () => ({
        suspects: [suspect(['element-open'], 0.9, { against: [2], for: [3] })],
        next: { check: 'coil-ohms', why: 'repeat' as const, of: 2, cost_min: 2, outcomes: [] },
      }),
    );
    expect(look(x).ask!.text).toMatch(/^No single fault explains both: coil ohms: 9.8 Ω, and heater amps: 0 A\./);
  });
});
