import { z } from 'zod';
import { RULES } from './rule-shapes.ts';
import { audience, basis, factId, kebab, likelyWord, mayUse, priority, text, touch, trade, unit, word } from './words.ts';

/**
 * The shape of every file of knowledge, strict: a field nobody knows is a problem, not a silence.
 * The same shapes make the JSON Schemas an editor uses (npm run schemas).
 */
const level = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(5)]);
const share = z.number().min(0).max(1);
const pair = z.tuple([word, word]);

export const fact = z.strictObject({
  id: factId,
  kind: z.enum(['choice', 'quantity']),
  choices: z.array(word).min(2).optional(),
  unit: unit.optional(),
  possible: z.strictObject({ lo: z.number(), hi: z.number() }).optional(),
  silent: z.record(z.string(), likelyWord).optional(),
  silentIn: z.record(kebab, z.record(z.string(), likelyWord)).optional(),
  noEvidence: z.array(word).optional(),
  whoCanTell: z.array(audience).min(1),
  event: z.enum(['repair', 'renewed']).optional(),
  covers: z.record(z.string(), z.array(kebab)).optional(),
  anywhere: z.boolean().optional(),
  comesAndGoes: z.array(word).min(1).optional(),
  volunteered: z.boolean().optional(),
  unsureIs: word.optional(),
  danger: z.array(word).optional(),
  basis,
  note: text.optional(),
});

export const limit = z.strictObject({
  id: kebab,
  lo: z.number(),
  hi: z.number(),
  unit,
  of: z.enum(['absolute', 'line', 'healthy']),
  open: z.boolean().optional(),
  source: text,
  basis,
});
export const likely = z.strictObject({ always: share, usual: share, maybe: share, rare: share, never: share });

export const effect = z.union([
  z.strictObject({ branch: word, ohm: z.union([z.number().positive(), z.literal('open'), z.literal('closed')]) }),
  z.strictObject({ add: z.tuple([word, word, z.number().positive()]) }),
  z.strictObject({ join: pair }),
  z.strictObject({ scale: z.tuple([word, z.number().positive()]) }),
  z.strictObject({ touch: z.tuple([word, share, word, z.number().positive()]) }),
  z.strictObject({ supply: word }),
  z.strictObject({ contact: word, staysIn: z.array(word) }),
]);

export const fault = z.strictObject({
  id: kebab,
  part: text,
  fits: z.array(kebab),
  side: z.enum(['supply', 'machine', 'duct', 'use']),
  weight: z.record(kebab, z.record(z.string(), z.number().min(0).max(100))),
  effects: z.array(effect),
  members: z.array(z.array(effect).min(1)).min(1).optional(),
  shows: z.enum(['always', 'when-hot', 'now-and-then']),
  signs: z.record(factId, z.record(z.string(), likelyWord)),
  signsIn: z.record(kebab, z.record(factId, z.record(z.string(), likelyWord))).optional(),
  end: z.strictObject({
    repair: kebab,
    trades: z.array(trade).min(1),
    parts: z.array(text),
    mayUse,
    priority,
    visit_min: z.number().positive().optional(),
  }),
  causes: z.array(z.strictObject({ fault: kebab, share })),
  basis,
  note: text.optional(),
});

export const repair = z.strictObject({ id: kebab, text, proofs: z.array(kebab).min(1) });

const measured = z.strictObject({
  fact: factId,
  points: z.record(z.string(), pair),
  branch: z.record(z.string(), word).optional(),
  classes: z.record(z.string(), kebab),
});

export const check = z.strictObject({
  id: kebab,
  kind: z.enum(['gate', 'worth', 'cause', 'proof']),
  fits: z.array(kebab),
  settles: z.array(factId).min(1),
  measure: z
    .strictObject({
      what: z.enum(['volts', 'ohms', 'amps']),
      reads: z.array(measured).min(1),
      lowImpedance: z.boolean(),
      lift: z.record(z.string(), word).optional(),
      scaledBy: factId.optional(),
    })
    .optional(),
  state: kebab,
  level,
  covers: z.record(z.string(), z.array(kebab)),
  min: z.number().positive(),
  tools: z.array(text),
  needs: z.array(kebab),
  touches: z.array(touch),
  clears: kebab.optional(),
  supplyReading: z.boolean().optional(),
  outcomes: z.array(z.strictObject({ id: kebab, when: z.record(factId, z.array(word).min(1)) })).min(1),
  confirms: z.array(
    z.strictObject({
      fault: kebab,
      outcome: kebab,
      after: z.array(z.strictObject({ check: kebab, outcome: kebab })).optional(),
      asCause: z.boolean().optional(),
      alone: z.boolean().optional(),
    }),
  ),
  choices: z.record(kebab, z.record(factId, word)).optional(),
  groups: z.record(kebab, z.array(kebab).min(2)).optional(),
  anywhere: z.boolean().optional(),
  oneOf: z.boolean().optional(),
  cautions: z.array(kebab),
  basis,
  note: text.optional(),
});

export const stop = z.strictObject({
  id: kebab,
  precedence: z.int().positive(),
  class: text,
  sign: text,
  sayNow: z.record(
    z.string(),
    z
      .array(
        z.strictObject({
          text,
          touches: z.array(touch),
          does: z.array(kebab).min(1).optional(),
          until: z.array(kebab).min(1).optional(),
          gasUnknown: text.optional(),
          otherwise: text.optional(),
        }),
      )
      .min(1),
  ),
  thenWho: z.array(trade).min(1),
  mayUse,
  priority,
  standsUntil: z.enum(['outside help', 'made safe', 'their own wish']),
  suppresses: z.array(touch),
  hold: z.boolean().optional(),
});
const numbers = z.record(z.string(), z.record(z.string(), text));

const someIds = z.array(kebab).min(1).optional();
export const stopQuestion = z.strictObject({
  id: kebab,
  asks: text,
  basis,
  answers: z
    .array(
      z.strictObject({
        id: kebab,
        when: z
          .strictObject({
            stops: someIds,
            classes: z.array(text).min(1).optional(),
            alone: someIds,
            bars: z.array(touch).min(1).optional(),
            lines: someIds,
            done: someIds,
          })
          .optional(),
        touches: z.array(touch).min(1).optional(),
        then: someIds,
      }),
    )
    .min(1),
});
const stopActs = z.array(
  z.strictObject({ id: kebab, means: text, undoes: someIds, oneOf: someIds, bars: z.array(touch).min(1).optional() }),
);
export const finding = z.strictObject({ id: factId, means: text, clearedBy: factId.optional() });

export const family = z.strictObject({
  id: kebab,
  title: text,
  gates: z.array(kebab),
  crossovers: z.array(z.strictObject({ fact: factId, is: word, to: kebab })),
  referOnly: z.boolean().optional(),
});

const meaning = z.strictObject({ id: kebab, means: text });
/** `touches`: said only where these may be done. */
const caution = meaning.extend({ touches: z.array(touch).optional() });

const branch = z.strictObject({
  id: word,
  a: word,
  b: word,
  part: text,
  kind: z.enum(['lead', 'contact', 'coil', 'resistor', 'winding']),
  ohm: z.number().min(0),
  share: z.number().positive().optional(),
  closedIn: z.array(kebab).optional(),
  z_ohm: z.tuple([z.number(), z.number()]).optional(),
  acIn: z.array(kebab).optional(),
  dcOnly: z.boolean().optional(),
  follows: z.strictObject({ curves: z.array(kebab).min(1), at: factId }).optional(),
  atSpeed: z.boolean().optional(),
  tolerance: z.tuple([z.number().positive(), z.number().positive()]).optional(),
});
const node = z.strictObject({ id: word, name: text, covers: z.array(kebab) });

export const machine = z.strictObject({
  $schema: z.string().optional(),
  id: kebab,
  title: text,
  attributes: z.array(kebab),
  knownBy: z.record(factId, word),
  prior: share,
  plate: z.strictObject({ volts: z.number().positive(), heater_w: z.number().positive() }),
  nodes: z.array(node).min(2),
  branches: z.array(branch).min(1),
  lifts: z.array(z.strictObject({ id: word, node: word, opens: z.array(word).min(1), what: text })),
  variants: z
    .array(
      z.strictObject({
        id: kebab,
        title: text,
        rewire: z.record(word, pair).optional(),
        drop: z.array(word).optional(),
        joined: z.array(word).optional(),
        add: z.array(branch).optional(),
        nodes: z.array(node).optional(),
        gains: z.array(kebab).optional(),
        loses: z.array(kebab).optional(),
        basis,
      }),
    )
    .optional(),
  aliases: z.strictObject({ branches: z.record(z.string(), word), nodes: z.record(z.string(), word) }).optional(),
});

export const supply = z.strictObject({
  $schema: z.string().optional(),
  reference: word,
  cabinet: word,
  nodes: z.array(node).min(2),
  branches: z.array(branch).min(1),
  systems: z
    .array(
      z.strictObject({
        id: word,
        va: z.tuple([z.number(), z.number()]),
        vb: z.tuple([z.number(), z.number()]),
        note: text.optional(),
      }),
    )
    .min(1),
  legPairs: z.array(pair),
  scalePairs: z.array(pair),
  hookups: z.array(
    z.strictObject({
      id: z.enum(['three-wire', 'four-wire']),
      drop: z.array(word),
      add: z.array(branch),
      knownBy: z.record(factId, z.array(word)).optional(),
    }),
  ),
  wiredIn: z.strictObject({
    knownBy: z.record(factId, z.array(word).min(1)),
    shut: z.array(word).min(1),
    off: z.array(word).min(1),
  }),
});

export const state = z.strictObject({
  id: kebab,
  plugged: z.boolean(),
  running: z.boolean(),
  heatCalled: z.boolean(),
  contactsAs: kebab,
  to: z.record(z.string(), z.number().min(0)),
  what: text.optional(),
});
export const cover = z.strictObject({
  id: kebab,
  behind: kebab.optional(),
  open_min: z.number().min(0),
  close_min: z.number().min(0),
  shutToRun: z.enum(['always', 'but-for-live-readings']).optional(),
  note: text.optional(),
});

const accuracy = z.strictObject({ percent: z.number().min(0), counts: z.number().min(0), resolution: z.number().positive() });
export const meter = z.strictObject({
  id: kebab,
  title: text,
  volts: accuracy,
  ohms: z.array(accuracy.extend({ upTo: z.number().positive() })).min(1),
  amps: accuracy,
  input_ohm: z.number().positive(),
  lowImpedance_ohm: z.number().positive(),
  buzzer_ohm: z.number().positive(),
  leads_ohm: z.strictObject({ lo: z.number().min(0), hi: z.number().min(0) }),
  over_range_ohm: z.number().positive(),
  source: text,
  basis,
});

const ruleWord = z.union([z.literal('number'), z.literal('word'), z.array(word).min(1)]);
const ruleWords = z.record(factId, ruleWord);

/** A file that is a list of items under one key, with what else may stand beside it. */
export interface ListFile {
  key: string;
  item: z.ZodType;
  /** How a problem calls one item. */
  called: string;
  beside: Record<string, z.ZodType>;
}
export const LISTS: Record<string, ListFile> = {
  'facts.json': { key: 'facts', item: fact, called: 'fact', beside: {} },
  'limits.json': { key: 'limits', item: limit, called: 'limit', beside: { likely } },
  'faults.json': { key: 'faults', item: fault, called: 'fault', beside: {} },
  'repairs.json': { key: 'repairs', item: repair, called: 'repair', beside: {} },
  'checks.json': { key: 'checks', item: check, called: 'check', beside: {} },
  'stops.json': { key: 'stops', item: stop, called: 'stop', beside: { numbers } },
  'stop-questions.json': {
    key: 'questions',
    item: stopQuestion,
    called: 'question',
    beside: { acts: stopActs, leaveOut: z.array(trade) },
  },
  'findings.json': { key: 'findings', item: finding, called: 'finding', beside: {} },
  'families.json': { key: 'families', item: family, called: 'family', beside: {} },
  'needs.json': { key: 'needs', item: meaning, called: 'need', beside: { cautions: z.array(caution) } },
  'states.json': { key: 'states', item: state, called: 'state', beside: {} },
  'covers.json': { key: 'covers', item: cover, called: 'cover', beside: {} },
  'meters.json': { key: 'meters', item: meter, called: 'meter', beside: {} },
  'physics-limits.json': { key: 'limits', item: limit, called: 'limit', beside: {} },
  ...Object.fromEntries(
    Object.entries(RULES).map(([set, item]) => [`rules-${set}.json`, { key: 'rules', item, called: 'rule', beside: {} }]),
  ),
};
/** Files that are one thing. */
export const SINGLES: Record<string, z.ZodType> = {
  'machine.json': machine,
  'supply.json': supply,
  'rule-words.json': z.strictObject({
    $schema: z.string().optional(),
    case: ruleWords,
    reading: ruleWords,
    check: ruleWords,
    suspect: ruleWords,
  }),
};
