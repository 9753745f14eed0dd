import { z } from 'zod';
import type { Consultation } from '../../rules/types.ts';
import {
  answerSchema,
  audienceSchema,
  machineSchema,
  pointsSchema,
  settingsSchema,
  unitSchema,
  unitsSchema,
  valueSchema,
} from '../cases/schema.ts';
import type { CaseHistory } from '../cases/store.ts';
import type { Catalogue, QuickReading } from '../conversation-port.ts';
import type { Ask, CaseView, Curves, Outlook, Reply, Wiring } from '../types.ts';

/** What the API gives, for OpenAPI and for the tests, which hold every answer against these. Named ones become components. */
const texts = z.array(z.string());
const truth = z.enum(['holds', 'fails', 'unknown']);
const mayUse = z.enum(['yes', 'limited', 'no']);
const priority = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4)]);
const trade = z.enum(['owner', 'appliance', 'electrician', 'utility', 'gas', 'duct', 'emergency', 'landlord', 'maker']);
const verdictWord = z.enum([
  'good',
  'low',
  'high',
  'open',
  'closed',
  'close call',
  'floating',
  'burning',
  'needs a temperature',
  'ask again',
  'noted',
]);
const standing = z.enum(['single', 'agreed', 'doubted']);
const act = z.enum(['tell', 'correct', 'repeat', 'unsure', 'declined', 'later', 'undo', 'set']);
const ruleSet = z.enum(['stops', 'verdicts', 'permits', 'order', 'conclusions', 'referrals', 'follow-through']);

const titledChoice = z.strictObject({ id: z.string(), label: z.string() });

const band = z
  .strictObject({ lo: z.number(), hi: z.number(), unit: unitSchema, open: z.boolean().optional(), from: texts })
  .meta({ id: 'Band', description: 'A closed range; `open`: over range (OL) lies in it too. `from`: what it was made of.' });

const verdict = z.strictObject({
  seq: z.int(),
  is: verdictWord,
  healthy: band.optional(),
  class: z.string().optional(),
  standing,
  rule: z.string(),
  sources: texts,
});
const suspect = z.strictObject({
  faults: texts.describe('Empty: something not listed.'),
  share: z.number(),
  misreads: z.int(),
  live: z.boolean(),
  for: z.array(z.int()),
  against: z.array(z.int()),
  confirmedBy: z.array(z.int()),
});
const referral = z.strictObject({
  trades: z.array(trade),
  mayUse,
  priority,
  parts: texts,
  visit_min: z.number(),
  readings: z.array(z.int()),
  kind: z.string(),
  rule: z.string(),
});
const nextCheck = z.strictObject({
  check: z.string(),
  why: z.enum(['gate', 'repeat', 'worth', 'confirm', 'cause', 'proof']),
  of: z.int().optional(),
  cost_min: z.number(),
  outcomes: z.array(z.strictObject({ outcome: z.string(), leaves: z.array(texts) })),
});
const consultation = z
  .strictObject({
    knowledge: z.string(),
    rev: z.int(),
    stops: z.array(
      z.strictObject({
        sign: z.string(),
        rule: z.string(),
        standsUntil: z.enum(['outside help', 'made safe', 'their own wish']),
        suppresses: texts,
        readings: z.array(z.int()).optional().describe('Those it follows from, where it was not told in words.'),
      }),
    ),
    madeSafe: texts,
    found: z
      .array(z.strictObject({ finding: z.string(), readings: z.array(z.int()) }))
      .describe('What the readings say of the case as a whole.'),
    silenced: texts,
    verdicts: z.array(verdict),
    suspects: z.array(suspect),
    notToldApart: z.array(texts),
    next: nextCheck.optional(),
    ahead: z.strictObject({ min: z.number(), checks: z.number() }),
    referral: referral.optional(),
    conclusion: z
      .strictObject({ is: z.enum(['confirmed', 'cleared', 'no more to learn', 'not explained', 'out of scope']), faults: texts })
      .optional(),
    followThrough: z.array(
      z.strictObject({
        kind: z.enum(['cause', 'proof', 'close-out']),
        item: z.string(),
        state: z.enum(['due', 'good', 'failed']),
      }),
    ),
    trace: z.array(
      z.strictObject({
        set: ruleSet,
        rule: z.string(),
        item: z.string().optional(),
        truth,
        saw: z.record(z.string(), z.unknown()),
      }),
    ),
  })
  .meta({
    id: 'Consultation',
    description: 'What the rules make of the case: stops, verdicts, suspects, the next check, who to send.',
  }) satisfies z.ZodType<Consultation>;

export const wiringShape = z
  .strictObject({
    machine: z.string(),
    otherwise: texts.optional().describe('Ways this one is built otherwise, and drawn so.'),
    likeliest: z.boolean().describe('More than one kind of machine is still possible: the likeliest is drawn.'),
    nodes: z.array(z.strictObject({ id: z.string(), name: z.string(), covers: texts, live: z.boolean() })),
    branches: z.array(
      z.strictObject({
        id: z.string(),
        a: z.string(),
        b: z.string(),
        part: z.string(),
        kind: z.enum(['lead', 'contact', 'coil', 'resistor', 'winding']),
        closed: z.boolean(),
        carries: z.boolean(),
        supply: z.boolean(),
        suspects: z.array(z.strictObject({ label: z.string(), share: z.number() })),
      }),
    ),
    reads: z.array(
      z.strictObject({
        fact: z.string(),
        label: z.string(),
        points: pointsSchema.optional(),
        clamp: z.string().optional(),
        words: z.string(),
      }),
    ),
    lift: z.strictObject({ node: z.string(), opens: texts, what: z.string() }).optional(),
    covers: texts,
    stateWords: z.string(),
    plugged: z.boolean(),
    offAt: z
      .enum(['plug', 'breaker'])
      .optional()
      .describe('Not plugged: what parts the machine from the supply; above it all is live.'),
  })
  .meta({ id: 'Wiring', description: 'The circuit a reading is asked in.' }) satisfies z.ZodType<Wiring>;

const ask = z
  .strictObject({
    check: z.string(),
    text: z.string(),
    kind: z.enum(['one', 'many', 'readings']),
    choices: z.array(z.strictObject({ id: z.string(), label: z.string(), fact: z.string().optional() })),
    groups: z.array(z.strictObject({ id: z.string(), label: z.string(), of: texts })).optional(),
    reads: z.array(
      z.strictObject({
        fact: z.string(),
        label: z.string(),
        unit: unitSchema,
        points: pointsSchema.optional(),
        pointWords: z.string(),
      }),
    ),
    of: z.int().optional(),
    why: z.string(),
    cautions: texts,
    min: z.number(),
    covers: texts,
    stateWords: z.string(),
    script: z.string().optional(),
    about: z.strictObject({ signs: texts }).optional(),
    wiring: wiringShape.optional(),
  })
  .meta({ id: 'Ask', description: 'The one question open now.' }) satisfies z.ZodType<Ask>;

const curves = z
  .strictObject({
    thermistor: z
      .strictObject({
        fact: z.string(),
        label: z.string(),
        curves: z.array(
          z.strictObject({
            id: z.string(),
            r25_ohm: z.number(),
            beta_k: z.number(),
            rows: z.array(z.tuple([z.number(), z.number()])),
            source: z.string(),
            basis: z.string(),
          }),
        ),
        reading: z.strictObject({ ohm: z.number(), at_c: z.array(z.number().nullable()) }).optional(),
      })
      .optional(),
    supply: z
      .array(
        z.strictObject({
          label: z.string(),
          idle_v: z.number().optional(),
          load_v: z.number().optional(),
          least_v: z.number().optional(),
        }),
      )
      .optional(),
    heat: z
      .strictObject({
        plate: z.strictObject({ volts_v: z.number(), watts_w: z.number(), known: z.boolean() }),
        reading: z.strictObject({ label: z.string(), volts_v: z.number(), watts_w: z.number() }).optional(),
        expected: band.optional(),
      })
      .optional(),
  })
  .meta({ id: 'Curves', description: 'What the curves beside the readings are drawn from.' }) satisfies z.ZodType<Curves>;
const outlook = z
  .strictObject({
    check: z.string(),
    outcomes: z.array(
      z.strictObject({
        label: z.string(),
        leaves: z.array(z.strictObject({ label: z.string(), share: z.number() })),
        more: z.int(),
      }),
    ),
  })
  .meta({ id: 'Outlook', description: 'What each outcome of the open check would leave.' }) satisfies z.ZodType<Outlook>;

export const replyShape = z
  .strictObject({
    parts: z.array(
      z.strictObject({
        kind: z.enum(['say', 'ask', 'caution', 'stop', 'refer', 'conclude', 'explain']),
        text: z.string().describe('Markdown'),
      }),
    ),
    ask: ask.optional(),
    evidence: z.array(
      z.strictObject({
        seq: z.int(),
        fact: z.string(),
        label: z.string(),
        value: valueSchema,
        shown: z.string(),
        said: z.string(),
        unit: unitSchema.optional(),
        expected: band.optional(),
        expectedShown: z.string().optional(),
        meter: z.strictObject({ lo: z.number(), hi: z.number() }).optional(),
        verdict: verdictWord,
        verdictWords: z.string(),
        standing,
        because: z.string(),
        sources: texts,
      }),
    ),
    suspects: z.array(
      z.strictObject({
        faults: texts,
        label: z.string(),
        share: z.number(),
        live: z.boolean(),
        for: texts,
        against: texts,
        speaks: z
          .array(z.strictObject({ seq: z.int(), is: z.enum(['for', 'against']), would: z.string().optional() }))
          .optional(),
      }),
    ),
    progress: z.strictObject({ suspectsLeft: z.number(), minutesLeft: z.number(), checksLeft: z.number() }),
    curves: curves.optional(),
    outlook: outlook.optional(),
    consultation,
  })
  .meta({ id: 'Reply' }) satisfies z.ZodType<Reply>;

const caseView = z
  .strictObject({
    id: z.string(),
    rev: z.int().describe('Goes up with every change.'),
    audience: audienceSchema,
    language: z.string().optional(),
    families: texts,
    units: unitsSchema,
    machine: machineSchema,
    answers: z.array(
      z.strictObject({
        seq: z.int(),
        turn: z.int(),
        fact: z.string().optional(),
        label: z.string(),
        shown: z.string(),
        said: z.string(),
        act,
        choices: z.array(titledChoice).optional().describe('What it can be changed to.'),
        unit: unitSchema.optional(),
      }),
    ),
  })
  .meta({ id: 'Case' }) satisfies z.ZodType<CaseView>;

const understood = z
  .strictObject({
    acts: z.array(z.looseObject({ is: z.string() })).describe('What was made of the words, one entry for each meaning.'),
    left: texts.describe('What nothing was made of.'),
  })
  .meta({ id: 'Understood' });

export const caseShape = z.strictObject({ case: caseView, reply: replyShape });
export const turnShape = z.strictObject({ case: caseView, reply: replyShape, understood });
export const historyShape = z
  .strictObject({
    id: z.string(),
    opened: z.string(),
    audience: audienceSchema,
    turns: z.array(
      z.strictObject({
        rev: z.int(),
        settings: settingsSchema,
        answers: z.array(answerSchema),
        key: z.string().optional(),
        asked: z.string().optional(),
      }),
    ),
  })
  .meta({ id: 'History' }) satisfies z.ZodType<CaseHistory>;
export const sheetShape = z.looseObject({});
export const readingShape = z
  .strictObject({
    check: z.string(),
    fact: z.string(),
    label: z.string(),
    verdict: verdictWord,
    verdictWords: z.string(),
    shown: z.string(),
    expected: band.optional(),
    expectedShown: z.string().optional(),
    because: z.string(),
    how: texts,
    sources: texts,
    cautions: texts.optional(),
  })
  .meta({ id: 'QuickReading' }) satisfies z.ZodType<QuickReading>;
const titled = z.strictObject({ id: z.string(), title: z.string() });
export const catalogueShape = z
  .strictObject({
    version: z.string(),
    families: z.array(titled),
    machines: z.array(titled.extend({ variants: z.array(titled) })),
    meters: z.array(titled),
    checks: z.array(
      z.strictObject({
        id: z.string(),
        label: z.string(),
        level: z.int(),
        reads: z.array(
          z.strictObject({
            fact: z.string(),
            label: z.string(),
            unit: unitSchema,
            points: z.record(z.string(), z.string()),
            lowImpedance: z.boolean().optional(),
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'Catalogue' }) satisfies z.ZodType<Catalogue>;
export const healthShape = z.strictObject({ ok: z.literal(true), by: z.enum(['server', 'worker']), knowledge: z.string() });
export const demoListShape = z.array(z.strictObject({ name: z.string(), title: z.string() }));
export const demoShape = z.strictObject({ name: z.string(), title: z.string(), transcript: z.unknown() });
