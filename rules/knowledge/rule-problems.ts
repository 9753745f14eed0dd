import { asFact } from './as-fact.ts';
import { orDidYouMean } from './closest.ts';
import { type Condition, HEARD_OVER, type Rule, type RuleSet, type RuleWords } from './rule.ts';
import type { Shelf } from './shelf.ts';

type Kind = 'number' | 'word' | readonly string[];
type Names = ReadonlyMap<string, Kind>;
type Leaf = Extract<Condition, { fact: string }>;

const ORDERED = ['lessThan', 'lessThanInclusive', 'greaterThan', 'greaterThanInclusive'];

/**
 * What a rule over this sees. Over the case: every fact told, `unsure_x` where somebody could not tell x, every finding, `family_x`
 * for the family in talk, `seen_x` for what a check showed, `machine_x` for an attribute all machines in hand share. Over a check:
 * which needs are met as `met_x`. Beside them the words the engine itself puts there.
 */
function namesFor(over: Rule['over'], shelf: Shelf, vocabulary: RuleWords): Names {
  const own = Object.entries(vocabulary[over]);
  if (over === 'check') return new Map<string, Kind>([...[...shelf.names('need')].map(met), ...own]);
  return over === 'reading' ? new Map<string, Kind>(own) : new Map<string, Kind>([...namesOfCase(shelf, vocabulary), ...own]);
}
const met = (id: string): [string, Kind] => [asFact('met', id), ['yes', 'no', 'unknown']];

function* namesOfCase(shelf: Shelf, vocabulary: RuleWords): Iterable<[string, Kind]> {
  for (const fact of shelf.facts.values()) {
    yield [fact.id, fact.kind === 'quantity' ? 'number' : (fact.choices ?? [])];
    if (fact.kind === 'choice') yield [`unsure_${fact.id}`, ['yes']];
  }
  for (const id of shelf.names('finding')) yield [id, ['yes', 'no']];
  for (const a of shelf.names('attribute')) yield [`machine_${a.replaceAll('-', '_')}`, ['yes', 'no']];
  for (const id of shelf.names('family')) yield [asFact('family', id), ['yes', 'no']];
  for (const check of shelf.checks.values()) yield [asFact('seen', check.id), check.outcomes.map((o) => o.id)];
  yield* Object.entries(vocabulary.case);
}

/** Conditions on facts nobody gives, and comparisons that can never be right. */
export function conditionProblems(rule: Rule, shelf: Shelf, vocabulary: RuleWords): string[] {
  const names = namesFor(rule.over, shelf, vocabulary);
  return leavesOf(rule.when).flatMap((leaf) =>
    leafProblems(leaf, rule.over, names).map((problem) => `condition on "${leaf.fact}": ${problem}`),
  );
}
function leavesOf(when: Condition): Leaf[] {
  if ('all' in when) return when.all.flatMap(leavesOf);
  if ('any' in when) return when.any.flatMap(leavesOf);
  return 'not' in when ? leavesOf(when.not) : [when];
}

function leafProblems({ fact, operator, value }: Leaf, over: Rule['over'], names: Names): string[] {
  const kind = names.get(fact);
  if (kind === undefined) return [`a rule over a ${over} sees no such fact${orDidYouMean(fact, names.keys())}`];
  const list = operator === 'in' || operator === 'notIn';
  if (list && !Array.isArray(value)) return [`"${operator}" needs a list`];
  if (!list && Array.isArray(value)) return [`"${operator}" compares with one value, not a list`];
  if (ORDERED.includes(operator) && kind !== 'number') return [`is a word; "${operator}" compares numbers`];
  return (list ? (value as unknown[]) : [value]).flatMap((v) => valueProblems(v, kind, over, names));
}
function valueProblems(value: unknown, kind: Kind, over: Rule['over'], names: Names): string[] {
  if (typeof value === 'object' && value !== null && 'fact' in value) {
    const other = String(value.fact);
    return names.has(other)
      ? []
      : [`a rule over a ${over} sees no fact "${other}" to compare with${orDidYouMean(other, names.keys())}`];
  }
  const written = JSON.stringify(value);
  if (kind === 'number') return typeof value === 'number' ? [] : [`is a number and cannot be compared with ${written}`];
  if (typeof value !== 'string') return [`is a word and cannot be compared with ${written}`];
  return kind === 'word' || kind.includes(value) ? [] : [`"${value}" is not one of ${kind.join(', ')}`];
}

/** Something said over an item at which nobody listens for it. */
export function unheard(set: RuleSet, rule: Rule): string[] {
  return Object.keys(rule.then).flatMap((key) => {
    const over = HEARD_OVER[set][key];
    return over === undefined || over === rule.over
      ? []
      : [`over: "${key}" is asked over each ${over}; over "${rule.over}" nobody hears it`];
  });
}
