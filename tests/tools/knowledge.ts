import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { evaluate, evaluateSet } from '../../rules/engine/run-rules.ts';
import { wordsOfTalk } from '../../rules/engine/talk.ts';
import { knowledge } from '../../rules/knowledge/index.ts';
import { KnowledgeError } from '../../rules/knowledge/load.ts';
import { usesPower } from '../../rules/knowledge/touches.ts';
import { type Audience, type Check, type Circuit, type Fault, type Knowledge, RULE_SETS } from '../../rules/types.ts';

const ROOT = join(import.meta.dirname, '../..');
const AUDIENCES: Audience[] = ['homeowner', 'agent', 'technician'];

const fits = (of: { fits: string[] }, m: Circuit): boolean => of.fits.every((a) => m.attributes.includes(a));
const readJson = (path: string): unknown =>
  existsSync(join(ROOT, path)) ? JSON.parse(readFileSync(join(ROOT, path), 'utf8')) : undefined;

/** Facts no check settles, and facts nobody who may be asked can tell. */
export function unsettledFacts(k: Knowledge): string[] {
  const settled = new Set([...k.checks.values()].flatMap((c) => c.settles));
  // What may be read between any two points is told, never asked.
  const asked = [...k.facts.values()].filter((f) => !f.anywhere && !f.volunteered).map((f) => f.id);
  return asked.filter((f) => !settled.has(f)).map((f) => `fact "${f}": no check settles it`);
}

/** Faults that no check of a machine they fit can confirm; a link to a check that machine lacks is dropped. */
export function unconfirmedFaults(k: Knowledge): string[] {
  const out: string[] = [];
  for (const m of k.machines.values())
    for (const f of k.faults.values()) {
      if (!fits(f, m)) continue;
      if (![...k.checks.values()].some((c) => fits(c, m) && c.confirms.some((x) => x.fault === f.id)))
        out.push(`fault "${f.id}" on "${m.id}": no check confirms it`);
    }
  return out;
}

/** Examples of rules that do not come out as written. */
export async function wrongExamples(k: Knowledge): Promise<string[]> {
  const out: string[] = [];
  for (const set of RULE_SETS)
    for (const r of k.rules[set])
      for (const [i, e] of r.examples.entries()) {
        const is = await evaluate(r, e.facts);
        const where = `rule "${r.id}" (${set}), example ${i + 1}`;
        if (is.truth !== e.truth) out.push(`${where}: ${is.truth}, written ${e.truth}`);
        else if (e.missing && [...e.missing].sort().join() !== [...is.missing].sort().join())
          out.push(`${where}: misses ${is.missing.join(', ') || 'nothing'}, written ${e.missing.join(', ')}`);
      }
  return out;
}

/** Limits that neither a class nor a line of the engine, the physics, the server or the page uses. */
export function unusedLimits(k: Knowledge): string[] {
  const used = new Set([...k.checks.values()].flatMap((c) => (c.measure?.reads ?? []).flatMap((r) => Object.values(r.classes))));
  const code: string[] = [];
  const walk = (dir: string): void => {
    for (const e of readdirSync(dir, { withFileTypes: true })) {
      if (e.isDirectory()) walk(join(dir, e.name));
      else if (e.name.endsWith('.ts')) code.push(readFileSync(join(dir, e.name), 'utf8'));
    }
  };
  for (const dir of ['rules/engine', 'rules/physics', 'server', 'client']) if (existsSync(join(ROOT, dir))) walk(join(ROOT, dir));
  const text = code.join('\n');
  return [...k.limits.keys()]
    .filter((id) => !used.has(id) && !text.includes(`'${id}'`))
    .map((id) => `limit "${id}": nothing uses it`);
}

/** Which audiences the permit rules let a check be asked of, once all that can be met is met. */
export async function mayBeAsked(k: Knowledge, c: Check, audience: Audience): Promise<boolean> {
  if (!c.settles.some((f) => k.facts.get(f)?.whoCanTell.includes(audience))) return false;
  const over = (what: string) => k.rules.permits.filter((r) => r.over === what);
  const needs = await evaluateSet(over('case'), { audience });
  if (needs.some((n) => n.truth === 'fails' && c.needs.includes(String(n.rule.then.meets)))) return false;
  const run = await evaluateSet(over('check'), {
    audience,
    level: c.level,
    kind: c.kind,
    needs_met: 'yes',
    silenced: 'no',
    qualified: audience === 'technician' ? 'yes' : 'no',
    opt_in: audience === 'homeowner' ? 'yes' : 'no',
    uses_power: usesPower(c.touches) ? 'yes' : 'no',
    stop_stood: 'no',
    ever_stopped: 'no',
  });
  const holds = run.filter((r) => r.truth === 'holds').map((r) => r.rule.then.permit);
  return holds.includes('yes') && !holds.includes('no');
}

/** Checks without words for an audience that may be asked. */
export async function unwordedChecks(k: Knowledge): Promise<string[]> {
  const path = 'server/conversation/words/en/checks.json';
  const words = (readJson(path) as { checks: Record<string, { ask?: string | Partial<Record<Audience, string>> }> } | undefined)
    ?.checks;
  if (!words) return [`${path}: is missing`];
  const out: string[] = [];
  // One text for all, or one for each.
  for (const c of k.checks.values())
    for (const a of AUDIENCES)
      if (
        !(typeof words[c.id]?.ask === 'string' || (words[c.id]?.ask as Partial<Record<Audience, string>> | undefined)?.[a]) &&
        (await mayBeAsked(k, c, a))
      )
        out.push(`check "${c.id}": no words for a ${a}`);
  return out;
}

type Expected = Record<string, Record<string, { default: string; exceptions: Record<string, string[]> }>>;

// Answers of two faults to one question overlap by the smaller of the two likelihoods, summed; half or more = one question does not tell them apart.
function overlap(k: Knowledge, fact: string, a: Fault, b: Fault): number {
  const f = k.facts.get(fact)!;
  const answers = (f.choices ?? []).filter((c) => !f.noEvidence?.includes(c));
  const of = (x: Fault): number[] | undefined => {
    const by = x.signs[fact] ?? f.silent;
    if (!by) return undefined;
    const raw = answers.map((c) => k.likely[by[c] ?? 'never']);
    const sum = raw.reduce((s, n) => s + n, 0);
    return raw.map((n) => n / sum);
  };
  const [pa, pb] = [of(a), of(b)];
  return pa && pb ? pa.reduce((s, n, i) => s + Math.min(n, pb[i]!), 0) : 1;
}

/** Groups of faults that no check this audience may be asked can tell apart, on one machine; faults of no weight left out. */
export async function alike(all: Knowledge, audience: Audience, m: Circuit, expected: Expected): Promise<string[][]> {
  const k = wordsOfTalk(all, ['no-heat']);
  const faults = [...k.faults.values()].filter(
    (f) => fits(f, m) && (f.weight['no-heat']?.[m.id] ?? f.weight['no-heat']?.['*'] ?? 0) > 0,
  );
  const checks: Check[] = [];
  // What the opt-in opens is not everybody's: the groups are those of a homeowner without it.
  for (const c of k.checks.values())
    if (
      fits(c, m) &&
      c.kind !== 'gate' &&
      c.kind !== 'proof' &&
      (await mayBeAsked(k, c, audience)) &&
      (audience === 'technician' || c.level <= 1)
    )
      checks.push(c);
  const shows = (c: Check, f: Fault): string => {
    const e = expected[c.id]?.[m.id];
    return e ? (Object.entries(e.exceptions).find(([, ids]) => ids.includes(f.id))?.[0] ?? e.default) : '';
  };
  const apart = (a: Fault, b: Fault) =>
    checks.some((c) => (c.measure ? shows(c, a) !== shows(c, b) : c.settles.some((fact) => overlap(k, fact, a, b) < 0.5)));
  const group = new Map(faults.map((f) => [f.id, f.id]));
  const root = (id: string): string => (group.get(id) === id ? id : root(group.get(id)!));
  faults.forEach((a, i) => {
    for (const b of faults.slice(i + 1)) if (!apart(a, b)) group.set(root(a.id), root(b.id));
  });
  const groups = new Map<string, string[]>();
  for (const f of faults) groups.set(root(f.id), [...(groups.get(root(f.id)) ?? []), f.id]);
  return [...groups.values()].filter((g) => g.length > 1);
}

/** Everything the audit calls a hole; empty = none. */
export async function holes(k: Knowledge): Promise<string[]> {
  return [
    ...unsettledFacts(k),
    ...unconfirmedFaults(k),
    ...(await wrongExamples(k)),
    ...unusedLimits(k),
    ...(await unwordedChecks(k)),
  ];
}

/** npm run knowledge: counts, groups that stay together, holes. Exit code 1 where there are holes or the knowledge does not load. */
export async function main(): Promise<number> {
  let k: Knowledge;
  try {
    k = knowledge();
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    console.error(error.message);
    return 1;
  }
  const rules = RULE_SETS.reduce((n, set) => n + k.rules[set].length, 0);
  const levels = [0, 1, 2, 3, 4, 5].map((l) => [...k.checks.values()].filter((c) => c.level === l).length).join(' / ');
  console.log(`version   ${k.version}`);
  for (const [name, n] of Object.entries({
    facts: k.facts.size,
    limits: k.limits.size,
    faults: k.faults.size,
    repairs: k.repairs.size,
    stops: k.stops.size,
    machines: k.machines.size,
    rules,
  }))
    console.log(`${name.padEnd(9)} ${n}`);
  console.log(`checks    ${k.checks.size}, by level 0 to 5: ${levels}`);
  const expected = readJson('tests/data/expected-outcomes.json') as Expected;
  console.log('\nNot told apart by any check that may be asked:');
  for (const m of k.machines.values()) {
    const by = new Map<string, { who: Audience[]; groups: string[][] }>();
    for (const a of AUDIENCES) {
      const groups = await alike(k, a, m, expected);
      const key = JSON.stringify(groups);
      by.set(key, { who: [...(by.get(key)?.who ?? []), a], groups });
    }
    for (const { who, groups } of by.values()) {
      console.log(`  ${m.id}, ${who.join(' and ')}: ${groups.length ? '' : 'none'}`);
      for (const g of groups) {
        const same = new Set(g.map((id) => k.faults.get(id)!.end.repair)).size === 1;
        const names = g.length > 6 ? `${g.slice(0, 6).join(', ')} and ${g.length - 6} more` : g.join(', ');
        console.log(`    ${names}${same ? ' (same repair)' : ''}`);
      }
    }
  }
  const found = await holes(k);
  console.log(found.length ? `\n${found.length} holes:` : '\nno holes');
  for (const h of found) console.log(`  ${h}`);
  return found.length ? 1 : 0;
}
