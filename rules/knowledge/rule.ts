import { z } from 'zod';
import { ref } from './ref.ts';
import { factId, kebab, mayUse, priority, text, touch, trade, word } from './words.ts';

export const RULE_SETS = ['stops', 'verdicts', 'permits', 'order', 'conclusions', 'referrals', 'follow-through'] as const;
export type RuleSet = (typeof RULE_SETS)[number];
export const TRUTHS = ['holds', 'fails', 'unknown'] as const;
export type Truth = (typeof TRUTHS)[number];

/** One condition tree of json-rules-engine, over flat facts; operators are checked at load. */
export type Condition =
  | { all: Condition[] }
  | { any: Condition[] }
  | { not: Condition }
  | { fact: string; operator: string; value: unknown };
const OPERATORS = [
  'equal',
  'notEqual',
  'in',
  'notIn',
  'lessThan',
  'lessThanInclusive',
  'greaterThan',
  'greaterThanInclusive',
] as const;
const condition: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    z.strictObject({ all: z.array(condition).min(1) }),
    z.strictObject({ any: z.array(condition).min(1) }),
    z.strictObject({ not: condition }),
    z.strictObject({ fact: factId, operator: z.enum(OPERATORS), value: z.unknown() }),
  ]),
);

export const verdictWord = z.enum([
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
export const VERDICTS = verdictWord.options;
export type VerdictWord = z.infer<typeof verdictWord>;
const conclusion = z.enum(['confirmed', 'cleared', 'no more to learn', 'not explained']);
const handedOn = z.enum(['out of scope']);
export const conclusionWord = z.enum([...conclusion.options, ...handedOn.options]);
export const CONCLUSIONS = conclusionWord.options;
export type ConclusionWord = z.infer<typeof conclusionWord>;

/** What a rule of each set may say, one strict shape a set: a word nobody reads is a problem at load, never a silence. */
export const THEN = {
  stops: z.union([
    z.strictObject({ stop: ref('stop') }),
    z.strictObject({ lifts: z.enum(['made safe']), asks: ref('check') }),
    z.strictObject({ silence: z.array(touch).min(1) }),
  ]),
  verdicts: z
    .strictObject({
      is: verdictWord.optional(),
      /** What a reading says of the case as a whole. */
      finds: ref('finding').optional(),
      /** `no`: no evidence. */
      counts: z.enum(['no']).optional(),
      /** The check that tells what is still unknown. */
      asks: ref('check').optional(),
    })
    .refine(
      (then) => then.is !== undefined || then.finds !== undefined || then.asks !== undefined,
      'says neither `is` nor `finds` nor `asks`',
    ),
  permits: z.union([
    z.strictObject({ permit: z.enum(['yes', 'no']) }),
    /** `until`: the need that lifts a "no"; checks that clear it are asked where nothing else is left. */
    z.strictObject({ permit: z.enum(['no']), until: ref('need') }),
    z.strictObject({ meets: ref('need') }),
  ]),
  order: z.strictObject({ rank: z.int().min(0) }),
  conclusions: z.union([
    /** `names`: what was proved alone, whatever else is possible behind it. */
    z.strictObject({ conclusion, names: z.enum(['proved']).optional() }),
    /** With a trade it hands the case on as it is. */
    z.strictObject({ conclusion: handedOn, trade, mayUse, priority, visit_min: z.number().positive(), kind: kebab }),
  ]),
  referrals: z.union([
    z.strictObject({ kind: kebab }),
    z.strictObject({ alsoTrade: trade }),
    z.strictObject({ parts: z.enum(['none']) }),
    /** Over the case, and stricter than its faults only. */
    z.strictObject({ mayUse, priority: priority.optional() }),
  ]),
  'follow-through': z.strictObject({ next: z.enum(['cause', 'repair', 'proof', 'reopen', 'close-out']) }),
} satisfies Record<RuleSet, z.ZodType>;

/** Every field that one of several shapes has; what is not in all of them may be absent. */
type AnyOf<Shapes> = Pick<Shapes, keyof Shapes> & {
  [Key in Exclude<Shapes extends unknown ? keyof Shapes : never, keyof Shapes>]?: Shapes extends Partial<Record<Key, infer Held>>
    ? Held
    : never;
};
/** What a rule of each set says. */
export type Then = { [Set in RuleSet]: AnyOf<z.infer<(typeof THEN)[Set]>> };

/** Over what the engine runs the rules of a set that say this; over anything else nobody would ever ask them. */
export const HEARD_OVER: Record<RuleSet, Partial<Record<string, Rule['over']>>> = {
  stops: { stop: 'case', lifts: 'case', silence: 'case' },
  verdicts: { is: 'reading', finds: 'reading', counts: 'reading', asks: 'reading' },
  permits: { permit: 'check', meets: 'case' },
  order: { rank: 'check' },
  conclusions: { conclusion: 'case' },
  referrals: { kind: 'suspect', alsoTrade: 'suspect', parts: 'suspect', mayUse: 'case' },
  'follow-through': { next: 'case' },
};

const example = z.strictObject({
  facts: z.record(z.string(), z.unknown()),
  truth: z.enum(TRUTHS),
  missing: z.array(factId).optional(),
});
const ruleOf = <Says extends z.ZodType>(then: Says) =>
  z.strictObject({
    id: kebab,
    over: z.enum(['case', 'reading', 'check', 'suspect']),
    when: condition,
    then,
    because: text,
    sources: z.array(text).min(1),
    examples: z.array(example).min(1),
  });
type RuleShape = ReturnType<typeof ruleOf<z.ZodType>>;
export type Rule<Set extends RuleSet = RuleSet> = Omit<z.infer<RuleShape>, 'then'> & { then: Then[Set] };

/** The shape of a rule, by the set it stands in. */
export const RULES = Object.fromEntries(RULE_SETS.map((set) => [set, ruleOf(THEN[set])])) as unknown as Record<
  RuleSet,
  z.ZodType
>;

const ruleWord = z.union([z.literal('number'), z.literal('word'), z.array(word).min(1)]);
const wordsBeside = z.record(factId, ruleWord);
/** What the engine itself puts beside the facts, for each kind of item: a number, any word, or one of some words. */
export const ruleWords = z.strictObject({
  $schema: z.string().optional(),
  case: wordsBeside,
  reading: wordsBeside,
  check: wordsBeside,
  suspect: wordsBeside,
});
export type RuleWords = Record<Rule['over'], z.infer<typeof wordsBeside>>;
