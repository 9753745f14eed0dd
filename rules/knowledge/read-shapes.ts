import type { z } from 'zod';
import { orDidYouMean } from './closest.ts';

type Issue = z.core.$ZodIssue;

/** A value as a person would name it in a sentence. */
export function show(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'string') return `"${value}"`;
  const json = JSON.stringify(value);
  return json.length > 60 ? `${json.slice(0, 57)}…` : json;
}

/** A path as one reads it in the file: end.trades[0]. */
export const fieldOf = (path: readonly PropertyKey[]): string =>
  path.reduce<string>((out, p) => (typeof p === 'number' ? `${out}[${p}]` : out === '' ? String(p) : `${out}.${String(p)}`), '');

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (v, p) => (typeof v === 'object' && v !== null ? (v as Record<PropertyKey, unknown>)[p] : undefined),
    value,
  );

// A union says only "invalid input". The branch the writer meant is the one whose keys fit best: report that one's leaves.
function leaves(issue: Issue, input: unknown): { issue: Issue; path: PropertyKey[] }[] {
  if (issue.code !== 'invalid_union' || !issue.errors.length) return [{ issue, path: issue.path }];
  const here = at(input, issue.path);
  const misfit = (branch: readonly Issue[]): number =>
    branch.reduce((n, i) => {
      if (i.path.length === 0) return n + (i.code === 'unrecognized_keys' ? i.keys.length : 3);
      return n + (i.path.length === 1 && at(here, i.path) === undefined ? 1 : 0);
    }, 0);
  // Plain values only (a number, or one of some words): say them all in one breath.
  const plain = issue.errors.every(
    (b) => b.length === 1 && b[0]!.path.length === 0 && (b[0]!.code === 'invalid_value' || b[0]!.code === 'invalid_type'),
  );
  if (plain) {
    const values = issue.errors.flatMap((b) => (b[0]!.code === 'invalid_value' ? b[0]!.values : []));
    const types = issue.errors.flatMap((b) => (b[0]!.code === 'invalid_type' ? [TYPES[b[0]!.expected] ?? b[0]!.expected] : []));
    if (!types.length) return [{ issue: { ...issue, code: 'invalid_value', values } as unknown as Issue, path: issue.path }];
    const right = [...types, ...(values.length ? [`one of ${values.map(String).join(', ')}`] : [])].join(' or ');
    return [{ issue: { ...issue, code: 'custom', message: `it should be ${right}` } as unknown as Issue, path: issue.path }];
  }
  const meant = [...issue.errors].sort((a, b) => misfit(a) - misfit(b))[0]!;
  return meant.flatMap((i) => leaves(i, here).map((l) => ({ issue: l.issue, path: [...issue.path, ...l.path] })));
}

const TYPES: Record<string, string> = {
  string: 'text',
  number: 'a number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a record',
  record: 'a record',
  tuple: 'a list',
};

function say(issue: Issue, value: unknown, known: readonly string[]): string {
  switch (issue.code) {
    case 'invalid_type':
      return value === undefined
        ? `is missing; it should be ${TYPES[issue.expected] ?? issue.expected}`
        : `${show(value)} should be ${TYPES[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return value === undefined
        ? `is missing; it should be one of ${issue.values.map(String).join(', ')}`
        : `${show(value)} is not one of ${issue.values.map(String).join(', ')}${typeof value === 'string' ? orDidYouMean(value, issue.values.map(String)) : ''}`;
    case 'unrecognized_keys':
      // A field of another branch of a union is a field, but not of what stands here.
      return issue.keys
        .map((k) =>
          known.includes(k)
            ? `"${k}" does not go with what stands beside it`
            : `"${k}" is no field here${orDidYouMean(k, known)}`,
        )
        .join('; ');
    case 'too_small':
      return issue.origin === 'array'
        ? `needs at least ${issue.minimum} of them`
        : issue.origin === 'string'
          ? `${show(value)} is too short to say anything`
          : `${show(value)} is too small; it should be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
    case 'too_big':
      return `${show(value)} is too large; it should be at most ${issue.maximum}`;
    case 'invalid_key':
      return `${show(issue.path.at(-1))} cannot stand there; ${issue.issues[0]?.message ?? issue.message}`;
    case 'invalid_format':
      return `${show(value)} is not written as an id; ${issue.message}`;
    default:
      return `${show(value)} does not fit; ${issue.message}`;
  }
}

interface Def {
  shape?: Record<string, z.ZodType>;
  element?: z.ZodType;
  innerType?: z.ZodType;
  valueType?: z.ZodType;
  options?: z.ZodType[];
  getter?: () => z.ZodType;
}
const defOf = (schema: z.ZodType) => schema.def as unknown as Def;
/** Every shape that may stand where a path leads: the branches of a union are all followed. */
function shapesAt(schema: z.ZodType, path: readonly PropertyKey[]): z.ZodType[] {
  const { innerType, options, getter, shape, element, valueType } = defOf(schema);
  const inside = options ?? (innerType ? [innerType] : getter ? [getter()] : undefined);
  if (inside) return inside.flatMap((s) => shapesAt(s, path));
  const [first, ...rest] = path;
  if (first === undefined) return [schema];
  const next = (typeof first === 'string' ? shape?.[first] : undefined) ?? element ?? valueType;
  return next ? shapesAt(next, rest) : [];
}
const keysOf = (schema: z.ZodType, path: readonly PropertyKey[]): string[] => [
  ...new Set(shapesAt(schema, path).flatMap((s) => Object.keys(defOf(s).shape ?? {}))),
];

/**
 * Parses one item. Every problem is one sentence: which field, what stands there, what would be right.
 * @returns the value, or the problems (never both)
 */
export function readShape(schema: z.ZodType, input: unknown): { value?: unknown; problems: string[] } {
  const parsed = schema.safeParse(input);
  if (parsed.success) return { value: parsed.data, problems: [] };
  const problems: string[] = [];
  for (const issue of parsed.error.issues)
    for (const leaf of leaves(issue, input)) {
      const field = fieldOf(leaf.path);
      const known = leaf.issue.code === 'unrecognized_keys' ? keysOf(schema, leaf.path) : [];
      problems.push(`${field === '' ? '' : `${field}: `}${say(leaf.issue, at(input, leaf.path), known)}`);
    }
  return { problems };
}
