import { z } from 'zod';
import { ref } from '../../rules/knowledge/ref.ts';
import { audience, mayUse, priority, text, touch, trade, word } from '../../rules/knowledge/words.ts';

/**
 * The shapes of what is stated by hand beside the knowledge: what a fault does to the simulated dryer (tests/dryer/faults.json) and what is
 * expected of it (tests/data/expected-*.json). A name of the knowledge is a `ref`, as there; problems.ts holds each against it.
 */
const many = <T extends z.ZodType>(of: T) => z.union([of, z.array(of).min(1)]);
const element = word;
const point = word;

/** What is done to a drawing, in the words of netlist.ts. */
export const edit = z.union([
  z.tuple([z.enum(['open', 'shut']), element]),
  z.tuple([z.literal('value'), element, z.union([z.number(), word])]),
  z.tuple([z.literal('bridge'), point, point, z.number()]),
  z.tuple([z.literal('land'), element, point, point]),
]);
const rowFields = {
  why: text,
  /** Machine id, a kind of machine (`kinds` of positions.json), or "every" -> edits. */
  on: z.record(word, z.array(edit)),
  /** Elements that open once the dryer is hot. */
  hot: z.array(element),
  /** Element -> the only states in which it is not held open; the only ones in which it stands open. */
  openExcept: z.record(element, z.array(ref('state'))),
  openIn: z.record(element, z.array(ref('state'))),
  motor: z.enum(['stuck', 'dead', 'turns']),
  hookup: z.enum(['three-wire', 'four-wire']),
  /** One of positions.json. */
  system: word,
  /** Fact -> what the person truly sees; of several the likeliest first. */
  told: z.record(ref('fact'), many(ref('choice'))),
  /** Fact -> why its likeliest answer is none that faults.json gives this fault under this complaint, on purpose. */
  unlike: z.record(ref('fact'), text),
};
const partialRow = z.strictObject(rowFields).partial();
export const dryerFault = partialRow.required({ on: true }).extend({
  /** Family, or "others" for all but the cold dryer -> what is otherwise under that complaint. */
  in: z.record(ref('family', 'others'), partialRow).optional(),
});
export const dryerFaults = z.record(ref('fault'), dryerFault);

const shown = ref('outcome', 'will-not-run');
const exceptions = z.record(shown, z.array(ref('fault')));
const stated = z.strictObject({ default: shown, exceptions });

const outcomes = z.record(ref('check'), z.record(ref('machine'), stated));
const families = z.strictObject({
  rest: z.array(ref('fault')),
  like: z.record(ref('fault'), ref('fault')),
  /** Fault -> check, with "@machine" where one differs -> outcome; null = a reading no outcome is named for. */
  but: z.record(ref('fault'), z.record(word, word.nullable())),
  checks: z.record(ref('check'), stated.extend({ on: z.record(ref('machine'), exceptions).optional() })),
});
const signs = z.strictObject({
  note: text,
  mostly: z.record(ref('fault'), z.record(ref('fact'), z.array(ref('choice')).min(1))),
});
const checksBy = (key: z.ZodString) => z.record(key, z.array(ref('check')));
const exposure = z.strictObject({
  note: text,
  levels: checksBy(z.string().regex(/^[0-4]$/, { message: 'a level is 0 to 4' })),
  firstTrade: z.partialRecord(trade, z.array(ref('fault'))),
  notToBeUsed: z.array(ref('fault')),
  notFreely: z.array(ref('fault')),
  notQuiteOpen: z.array(ref('fault')),
  states: checksBy(ref('state')),
  needsAtLeast: z.record(ref('check'), z.array(ref('need'))),
  leads: z.record(ref('check'), z.record(ref('machine', '*'), word)),
  comesOff: z.record(ref('check'), z.array(ref('machine', '*'))),
  provedAs: z.record(ref('check'), ref('check')),
  operates: z.record(ref('check'), z.array(touch)),
});
const edge = z.tuple([z.number(), z.number()]).nullable();
const limits = z.strictObject({
  note: text,
  limits: z.array(z.strictObject({ id: ref('limit'), lo: edge, hi: edge, source: text })),
});
const stops = z.strictObject({
  note: text,
  asYes: z.record(ref('fact'), ref('choice')),
  gasSilences: z.array(touch),
  stops: z.array(
    z.strictObject({
      id: ref('stop'),
      when: z.array(z.record(ref('fact'), z.array(ref('choice')).min(1))),
      found: z.array(ref('finding')).optional(),
      orUnsure: ref('fact').optional(),
      call: z.array(trade).min(1),
      mayUse,
      priority,
      until: text,
      silences: z.array(touch),
    }),
  ),
});
const words = z.array(z.union([word, z.number()]));
const rules = z.strictObject({
  note: text,
  gates: z.array(ref('check')),
  gatesIn: z.record(ref('family'), z.array(ref('check'))),
  closedAtRest: z.array(ref('branch')),
  closedWhileTurning: z.array(ref('branch')),
  alsoClosed: z.record(ref('branch'), z.array(ref('state'))),
  ohms: z.record(ref('branch'), z.tuple([z.number(), z.number()])),
  closedWhenSound: z.array(ref('branch')),
  heatCalled: z.array(ref('state')),
  words: z.record(word, words).and(z.object({ audience: z.array(audience) })),
  needs: z.record(ref('need'), z.array(z.record(word, words)).min(1)),
  tables: z.array(
    z.strictObject({
      set: z.enum(['stops', 'verdicts', 'permits', 'order', 'conclusions', 'referrals', 'follow-through']),
      over: z.enum(['case', 'reading', 'check', 'suspect']),
      key: word,
      rows: z.array(z.tuple([z.record(word, z.unknown()), z.unknown()])),
    }),
  ),
});

const byName = z.record(word, z.array(element));
const volts = z.tuple([z.number(), z.number()]);
/** Where plug, motor and contacts stand in each state of the drawings. */
const positions = z.strictObject({
  note: text,
  states: z.record(ref('state'), z.strictObject({ plug: z.enum(['in', 'out']), motor: z.enum(['rest', 'turns']) })),
  plugOut: z.array(element),
  turns: z.strictObject({ open: z.array(element) }),
  rest: z.strictObject({ open: z.array(element), value: z.record(element, word) }),
  cold: z.record(element, word),
  /** Machine -> its attributes by which faults.json may speak of it, the nearest first. */
  kinds: z.record(ref('machine'), z.array(ref('attribute'))),
  machines: z.record(ref('machine'), byName),
  lifts: z.record(ref('machine'), byName),
  ammeters: z.record(word, element),
  systems: z.record(word, z.tuple([volts, volts])),
  hookups: z.record(word, z.strictObject({ without: z.array(element) })),
});

/** File below tests -> its shape. */
export const HAND_SHAPES: Readonly<Record<string, z.ZodType>> = {
  'dryer/faults.json': dryerFaults,
  'dryer/sound.json': z.record(ref('fact'), ref('choice')),
  'dryer/complaints.json': z.record(ref('family'), z.array(ref('fact')).min(1)),
  'dryer/netlists/positions.json': positions,
  'data/expected-outcomes.json': outcomes,
  'data/expected-families.json': families,
  'data/expected-signs.json': signs,
  'data/expected-exposure.json': exposure,
  'data/expected-limits.json': limits,
  'data/expected-stops.json': stops,
  'data/expected-rules.json': rules,
};
export type DryerFaults = z.infer<typeof dryerFaults>;
export type Positions = z.infer<typeof positions>;
export type Outcomes = z.infer<typeof outcomes>;
export type Families = z.infer<typeof families>;
export type Signs = z.infer<typeof signs>;
export type Exposure = z.infer<typeof exposure>;
