import { orDidYouMean } from './closest.ts';
import { canonical, fnv1a64 } from './hash.ts';
import { LAWS } from './laws/index.ts';
import { LISTS, SINGLES } from './list-files.ts';
import { type Loaded, shapeOf } from './loaded.ts';
import { readShape } from './read-shapes.ts';
import { type Shelf, shelfOf } from './shelf.ts';
import type { Knowledge, Likely } from './types.ts';
import { RULE_SETS } from './types.ts';
import { unknownNames } from './unknown-names.ts';

/** Everything wrong with the knowledge, at once: one sentence each, naming file, item, field, and what would be right. */
export class KnowledgeError extends Error {
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(
      `the knowledge has ${problems.length === 1 ? 'one problem' : `${problems.length} problems`}:\n${problems.map((p) => `  ${p}`).join('\n')}`,
    );
    this.name = 'KnowledgeError';
    this.problems = problems;
  }
}

/** Files whose absence is a problem; machines/*.json and more than one of them come on top. */
const NEEDED = [
  'facts.json',
  'limits.json',
  'faults.json',
  'repairs.json',
  'checks.json',
  'stops.json',
  'stop-questions.json',
  'findings.json',
  'families.json',
  'needs.json',
  'rule-words.json',
  'states.json',
  'covers.json',
  'meters.json',
  'supply.json',
  ...RULE_SETS.map((set) => `rules/${set}.json`),
];

/**
 * Turns the parsed JSON files into frozen knowledge.
 * @param parts  path below rules/knowledge ("facts.json", "machines/x.json", "rules/stops.json") -> parsed JSON
 * @throws KnowledgeError with every problem of every file, shapes first, then what does not fit together
 */
export function loadKnowledge(parts: Readonly<Record<string, unknown>>): Knowledge {
  const problems: string[] = [];
  const loaded: Loaded = { lists: {}, singles: {}, named: {}, beside: {} };
  const known = [...NEEDED, 'physics-limits.json'];
  for (const path of NEEDED)
    if (!(path in parts)) problems.push(`${path}: is missing; every part of the knowledge needs its file`);
  if (!Object.keys(parts).some((p) => p.startsWith('machines/')))
    problems.push('machines: there is no machine; add one as machines/ID.json');
  for (const path of Object.keys(parts)) {
    if (!known.includes(path) && !path.startsWith('machines/'))
      problems.push(`${path}: is no file of the knowledge${orDidYouMean(path, known)}`);
    else if (shapeOf(path) in LISTS) readList(path, parts[path], loaded, problems);
    else readSingle(path, parts[path], loaded, problems);
  }
  const shelf = shelfOf(loaded);
  problems.push(...unknownNames(shelf), ...LAWS.flatMap((law) => law(shelf)));
  if (problems.length) throw new KnowledgeError([...new Set(problems)]);
  return freeze(assemble(shelf, parts));
}

const isRecord = (v: unknown): v is Record<string, unknown> => typeof v === 'object' && v !== null && !Array.isArray(v);

function readList(path: string, input: unknown, loaded: Loaded, problems: string[]): void {
  const { key, item, called, beside } = LISTS[shapeOf(path)]!;
  if (!isRecord(input)) {
    problems.push(`${path}: should be a record with "${key}"`);
    return;
  }
  const fields = ['$schema', key, ...Object.keys(beside)];
  for (const k of Object.keys(input))
    if (!fields.includes(k)) problems.push(`${path}: "${k}" is no field here${orDidYouMean(k, fields)}`);
  for (const [k, schema] of Object.entries(beside)) {
    const read = readShape(schema, input[k]);
    problems.push(...read.problems.map((p) => `${path}, ${k}: ${p}`));
    loaded.beside[k] = read.value;
  }
  const items = input[key];
  if (!Array.isArray(items)) {
    problems.push(`${path}: "${key}" is missing; it should be a list`);
    return;
  }
  const good: unknown[] = [];
  const ids = new Map<string, number>();
  items.forEach((raw: unknown, i) => {
    const id = isRecord(raw) && typeof raw.id === 'string' ? raw.id : undefined;
    const name = id === undefined ? `${called} ${i + 1}` : `${called} "${id}"`;
    const first = id === undefined ? undefined : ids.get(id);
    if (first !== undefined)
      problems.push(`${path}, ${name}: stands there twice, as ${called} ${first} and ${called} ${i + 1}; ids are used once`);
    else if (id !== undefined) ids.set(id, i + 1);
    const read = readShape(item, raw);
    problems.push(...read.problems.map((p) => `${path}, ${name}, ${p}`));
    if (read.value !== undefined) good.push(read.value);
  });
  loaded.lists[path] = good;
  loaded.named[path] = new Set(ids.keys());
}

function readSingle(path: string, input: unknown, loaded: Loaded, problems: string[]): void {
  const read = readShape(SINGLES[shapeOf(path)]!, input);
  const id = isRecord(input) && typeof input.id === 'string' ? input.id : undefined;
  if (id !== undefined) loaded.named[path] = new Set([id]);
  problems.push(...read.problems.map((p) => `${path}, ${p}`));
  if (read.value !== undefined) loaded.singles[path] = read.value;
  if (path.startsWith('machines/') && id !== undefined && path !== `machines/${id}.json`)
    problems.push(`${path}, id: "${id}" should be the name of the file`);
}

function assemble({ loaded, ...shelf }: Shelf, parts: Readonly<Record<string, unknown>>): Knowledge {
  const byId = <T extends { id: string }>(items: unknown): Map<string, T> =>
    new Map(((items as T[] | undefined) ?? []).map((x) => [x.id, x]));
  const list = (path: string) => loaded.lists[path] ?? [];
  const { $schema: _, places: __, ...supply } = shelf.supply!;
  const machines = [...shelf.machines].sort((a, b) => (a.id < b.id ? -1 : 1));
  return {
    version: fnv1a64(canonical(parts)),
    facts: new Map(shelf.facts),
    limits: byId([...list('limits.json'), ...list('physics-limits.json')]),
    likely: loaded.beside.likely as Record<Likely, number>,
    faults: new Map(shelf.faults),
    repairs: byId(list('repairs.json')),
    checks: new Map(shelf.checks),
    stops: byId(list('stops.json')),
    stopQuestions: byId(list('stop-questions.json')),
    stopActs: byId(loaded.beside.acts),
    stopLeaveOut: (loaded.beside.leaveOut as Knowledge['stopLeaveOut'] | undefined) ?? [],
    findings: byId(list('findings.json')),
    families: byId(list('families.json')),
    machines: byId(machines.map(({ $schema: _, places: __, weights: ___, ...drawn }) => drawn)),
    supply,
    states: byId(list('states.json')),
    covers: byId(list('covers.json')),
    meters: byId(list('meters.json')),
    cautions: byId(loaded.beside.cautions),
    numbers: loaded.beside.numbers as Knowledge['numbers'],
    rules: Object.fromEntries(RULE_SETS.map((set) => [set, list(`rules/${set}.json`)])) as unknown as Knowledge['rules'],
  };
}

// A Map cannot be frozen; its ways of changing are taken away instead.
function freeze<T>(value: T): T {
  if (value instanceof Map) {
    for (const v of value.values()) freeze(v);
    const refuse = (): never => {
      throw new TypeError('the knowledge is frozen');
    };
    Object.assign(value, { set: refuse, delete: refuse, clear: refuse });
  } else if (typeof value === 'object' && value !== null) for (const v of Object.values(value)) freeze(v);
  return typeof value === 'object' && value !== null ? Object.freeze(value) : value;
}
