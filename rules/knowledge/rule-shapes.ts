import { z } from 'zod';
import { type Condition, RULE_SETS, type Rule, type RuleSet } from '../types.ts';
import { factId, kebab, mayUse, priority, text, touch, trade } from './words.ts';

export const OPERATORS = [
  'equal',
  'notEqual',
  'in',
  'notIn',
  'lessThan',
  'lessThanInclusive',
  'greaterThan',
  'greaterThanInclusive',
] as const;
export const condition: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    z.strictObject({ all: z.array(condition).min(1) }),
    z.strictObject({ any: z.array(condition).min(1) }),
    z.strictObject({ not: condition }),
    z.strictObject({ fact: factId, operator: z.enum(OPERATORS), value: z.unknown() }),
  ]),
);

const verdict = z.enum([
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
const conclusion = z.enum(['confirmed', 'cleared', 'no more to learn', 'not explained']);
const handedOn = z.enum(['out of scope']);

/** What a rule of each set may say, one strict shape a set: a word nobody reads is a problem at load, never a silence. */
export const THEN = {
  stops: z.union([
    z.strictObject({ stop: kebab }),
    z.strictObject({ lifts: z.enum(['made safe']), asks: kebab }),
    z.strictObject({ silence: z.array(touch).min(1) }),
  ]),
  verdicts: z
    .strictObject({ is: verdict.optional(), finds: factId.optional(), counts: z.enum(['no']).optional(), asks: kebab.optional() })
    .refine(
      (then) => then.is !== undefined || then.finds !== undefined || then.asks !== undefined,
      'says neither `is` nor `finds` nor `asks`',
    ),
  permits: z.union([
    z.strictObject({ permit: z.enum(['yes', 'no']) }),
    z.strictObject({ permit: z.enum(['no']), until: kebab }),
    z.strictObject({ meets: kebab }),
  ]),
  order: z.strictObject({ rank: z.int().min(0) }),
  conclusions: z.union([
    z.strictObject({ conclusion, names: z.enum(['proved']).optional() }),
    z.strictObject({ conclusion: handedOn, trade, mayUse, priority, visit_min: z.number().positive(), kind: kebab }),
  ]),
  referrals: z.union([
    z.strictObject({ kind: kebab }),
    z.strictObject({ alsoTrade: trade }),
    z.strictObject({ parts: z.enum(['none']) }),
    z.strictObject({ mayUse, priority: priority.optional() }),
  ]),
  'follow-through': z.strictObject({ next: z.enum(['cause', 'repair', 'proof', 'reopen', 'close-out']) }),
} satisfies Record<RuleSet, z.ZodType>;

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

const ruleOf = (then: z.ZodType) =>
  z.strictObject({
    id: kebab,
    over: z.enum(['case', 'reading', 'check', 'suspect']),
    when: condition,
    then,
    because: text,
    sources: z.array(text).min(1),
    examples: z
      .array(
        z.strictObject({
          facts: z.record(z.string(), z.unknown()),
          truth: z.enum(['holds', 'fails', 'unknown']),
          missing: z.array(factId).optional(),
        }),
      )
      .min(1),
  });
/** The shape of a rule, by the set it stands in. */
export const RULES = Object.fromEntries(RULE_SETS.map((set) => [set, ruleOf(THEN[set])])) as unknown as Record<
  RuleSet,
  z.ZodType
>;
