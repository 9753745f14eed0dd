import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { evaluate } from '../../rules/engine/run-rules.ts';
import { type Circuit, type Fault, type Knowledge, RULE_SETS } from '../../rules/types.ts';

const ROOT = join(import.meta.dirname, '../..');
const fits = (of: { fits: string[] }, m: Circuit): boolean => of.fits.every((a) => m.attributes.includes(a));

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

/**
 * Families whose weights are no shares of a hundred any more, so that they cannot be read: one was added, and no other gave way. Where
 * machines have weights of their own they add to a hundred on each; else those of faults.json do, whatever machine they fit.
 */
export function weightsAmiss(k: Knowledge): string[] {
  return [...k.families.keys()].flatMap((family) => {
    const faults = [...k.faults.values()].filter((f) => f.weight[family]);
    if (!faults.length) return [];
    const own = [...k.machines.values()].filter((m) => faults.some((f) => f.weight[family]![m.id] !== undefined));
    const sum = (those: readonly Fault[], on: string) => those.reduce((all, f) => all + weightOn(f, family, on), 0);
    const over = new Map(
      own.length
        ? [...k.machines.values()].map((m) => [
            m.id,
            sum(
              faults.filter((f) => fits(f, m)),
              m.id,
            ) - 100,
          ])
        : [['*', sum(faults, '*') - 100]],
    );
    const amiss = [...over].filter(([, by]) => Math.abs(by) >= OF_A_HUNDRED);
    const [[first, by] = []] = amiss;
    if (first === undefined || by === undefined) return [];
    // The same on every machine: what is shared by them is amiss, and no machine's own weight.
    const shared = amiss.length === over.size && amiss.every(([, other]) => Math.abs(other - by) < OF_A_HUNDRED);
    if (shared) return [`faults.json, weight.${family}: ${told(by)}${heavy(faults, family, first, by)}`];
    return amiss.map(
      ([m, on]) => `machines/${m}.json, weights.${family}: with those of faults.json ${told(on)}${heavy(faults, family, m, on)}`,
    );
  });
}
const OF_A_HUNDRED = 0.5;
const weightOn = (f: Fault, family: string, machine: string): number =>
  f.weight[family]?.[machine] ?? f.weight[family]?.['*'] ?? 0;
const told = (over: number): string => `they add to ${(100 + over).toFixed(2)}; they should add to 100`;
/** Who may be the one too many: what weighs just so much, else what alone weighs more. */
function heavy(faults: readonly Fault[], family: string, machine: string, over: number): string {
  if (over < 0) return '';
  const weights = faults.map((f) => [f.id, weightOn(f, family, machine)] as const);
  const just = weights.filter(([, w]) => Math.abs(w - over) < 0.01);
  const named = just.length ? just : weights.filter(([, w]) => w > over);
  if (!named.length || named.length > 4) return '';
  return ` (${named.map(([id, w]) => `"${id}" has ${w}`).join(', ')})`;
}

/** Can a person with this fault, under some complaint, answer so? */
function shows(f: Fault, fact: string, choice: string): boolean {
  const under = [f.signs, ...Object.values(f.signsIn ?? {})];
  return under.some((signs) => (signs[fact]?.[choice] ?? 'never') !== 'never');
}

/**
 * Answers that no fault of a machine has, of facts that tell faults apart: whoever gives one is believed by nothing. An answer of a
 * machine whose fault says nothing of it (`silent`), one that says nothing, a danger, one of another kind of machine (`onlyOn`) and one
 * that is there without a fault on purpose (`ofNoFault`) are meant so.
 */
export function answersOfNoFault(k: Knowledge): string[] {
  const out: string[] = [];
  const told = new Set([...k.faults.values()].flatMap((f) => [f.signs, ...Object.values(f.signsIn ?? {})].flatMap(Object.keys)));
  for (const m of k.machines.values()) {
    const faults = [...k.faults.values()].filter((f) => fits(f, m));
    const asked = new Set([...k.checks.values()].filter((c) => fits(c, m)).flatMap((c) => c.settles));
    for (const id of asked) {
      const fact = k.facts.get(id)!;
      if (!told.has(id) || fact.event) continue;
      const elsewhere = (choice: string) => fact.onlyOn?.[choice]?.some((a) => !m.attributes.includes(a));
      const meant = [fact.silent ?? {}, ...Object.values(fact.silentIn ?? {})];
      for (const choice of fact.choices ?? [])
        if (
          !fact.noEvidence?.includes(choice) &&
          !fact.danger?.includes(choice) &&
          !fact.ofNoFault?.[choice] &&
          !elsewhere(choice) &&
          !meant.some((by) => (by[choice] ?? 'never') !== 'never') &&
          !faults.some((f) => shows(f, id, choice))
        )
          out.push(unhad(k, m, id, choice));
    }
  }
  return out;
}

/** Where a check condemns a fault by that very answer, the fault's own signs are what is wanting. */
function unhad(k: Knowledge, m: Circuit, fact: string, choice: string): string {
  for (const c of k.checks.values())
    for (const link of c.confirms) {
      const by = c.outcomes.find((o) => o.id === link.outcome)!.when[fact];
      if (by?.includes(choice) && fits(k.faults.get(link.fault)!, m))
        return `faults.json, fault "${link.fault}", signs.${fact}: does not name "${choice}", by which check "${c.id}" confirms it`;
    }
  return `facts.json, fact "${fact}", choice "${choice}": no fault of "${m.id}" has it`;
}

/** Confirmations by an answer that the fault, as its signs stand, never gives. */
export function confirmedByNever(k: Knowledge): string[] {
  const out: string[] = [];
  for (const c of k.checks.values()) {
    for (const link of c.confirms) {
      const fault = k.faults.get(link.fault)!;
      for (const [fact, any] of Object.entries(c.outcomes.find((o) => o.id === link.outcome)!.when)) {
        const named = [fault.signs, ...Object.values(fault.signsIn ?? {})].some((signs) => signs[fact]);
        if (named && !any.some((choice) => shows(fault, fact, choice)))
          out.push(`checks.json, check "${c.id}", confirms "${fault.id}": with it "${fact}" is never ${any.join(' or ')}`);
      }
    }
  }
  return out;
}
