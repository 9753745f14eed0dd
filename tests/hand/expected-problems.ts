import { orDidYouMean } from '../../rules/knowledge/closest.ts';
import type { Knowledge } from '../../rules/types.ts';
import type { HandFiles } from './problems.ts';
import type { Exposure, Families, Outcomes, Signs } from './shapes.ts';

/** What is expected of readings, signs and ends: every cell can come about, none is stated twice, and no fault is left out. */
export const expectedProblems = (k: Knowledge, files: HandFiles): string[] => [
  ...outcomeProblems(k, files['data/expected-outcomes.json'] as Outcomes),
  ...familyProblems(k, files['data/expected-families.json'] as Families),
  ...signProblems(k, files['data/expected-signs.json'] as Signs),
  ...endProblems(k, files['data/expected-exposure.json'] as Exposure),
];

const fits = (k: Knowledge, of: { fits: readonly string[] }, machine: string): boolean =>
  of.fits.every((a) => k.machines.get(machine)!.attributes.includes(a));

/** A fault stands under one outcome of a check, and on a machine it fits. */
function cellProblems(k: Knowledge, where: string, exceptions: Record<string, string[]>, machines: readonly string[]): string[] {
  const out: string[] = [];
  const under = new Map<string, string>();
  for (const [outcome, faults] of Object.entries(exceptions))
    for (const id of faults) {
      const other = under.get(id);
      if (other !== undefined) out.push(`${where}.${outcome}: "${id}" stands under "${other}" too; the first one counts`);
      under.set(id, outcome);
      if (!machines.some((m) => fits(k, k.faults.get(id)!, m)))
        out.push(`${where}.${outcome}: "${id}" does not fit ${machines.join(' or ') || 'any machine of the check'}`);
    }
  return out;
}

function outcomeProblems(k: Knowledge, all: Outcomes): string[] {
  const file = 'tests/data/expected-outcomes.json';
  return Object.entries(all).flatMap(([id, by]) =>
    Object.entries(by).flatMap(([machine, { exceptions }]) => [
      ...(fits(k, k.checks.get(id)!, machine) ? [] : [`${file}, ${id}.${machine}: the check does not fit this machine`]),
      ...cellProblems(k, `${file}, ${id}.${machine}.exceptions`, exceptions, [machine]),
    ]),
  );
}

function familyProblems(k: Knowledge, { but, checks }: Families): string[] {
  const file = 'tests/data/expected-families.json';
  const out: string[] = [];
  for (const [fault, by] of Object.entries(but))
    for (const [at, shown] of Object.entries(by)) {
      const [id = '', machine] = at.split('@');
      const where = `${file}, but.${fault}.${at}`;
      const check = k.checks.get(id);
      if (!check) out.push(`${where}: there is no check "${id}"${orDidYouMean(id, k.checks.keys())}`);
      if (machine !== undefined && !k.machines.has(machine))
        out.push(`${where}: there is no machine "${machine}"${orDidYouMean(machine, k.machines.keys())}`);
      const may = ['will-not-run', ...(check?.outcomes.map((o) => o.id) ?? [])];
      if (check && shown !== null && !may.includes(shown))
        out.push(`${where}: there is no outcome of "${id}" "${shown}"${orDidYouMean(shown, may)}`);
    }
  for (const [id, { exceptions, on }] of Object.entries(checks)) {
    const machines = [...k.machines.keys()].filter((m) => fits(k, k.checks.get(id)!, m));
    out.push(...cellProblems(k, `${file}, checks.${id}.exceptions`, exceptions, machines));
    for (const [machine, own] of Object.entries(on ?? {}))
      out.push(...cellProblems(k, `${file}, checks.${id}.on.${machine}`, own, [machine]));
  }
  return out;
}

/** Of a cold dryer the simulated one says what is seen; every fault behind another complaint is stated here. */
function signProblems(k: Knowledge, { mostly }: Signs): string[] {
  return [...k.faults.values()]
    .filter((f) => Object.keys(f.weight).some((family) => family !== 'no-heat') && !Object.hasOwn(mostly, f.id))
    .map((f) => `tests/data/expected-signs.json, mostly: "${f.id}" is missing; what is mostly seen of it`);
}

function endProblems(k: Knowledge, { firstTrade, notToBeUsed, notFreely }: Exposure): string[] {
  const file = 'tests/data/expected-exposure.json';
  const trades = Object.values(firstTrade).flat();
  const limited = new Set([...notToBeUsed, ...notFreely]);
  const out: string[] = [];
  for (const { id, end } of k.faults.values()) {
    const times = trades.filter((fault) => fault === id).length;
    if (times === 0) out.push(`${file}, firstTrade: "${id}" is missing; who mends it first`);
    if (times > 1) out.push(`${file}, firstTrade: "${id}" stands under ${times} trades; one of them is first`);
    if (end.mayUse !== 'yes' && !limited.has(id))
      out.push(`${file}, ${end.mayUse === 'no' ? 'notToBeUsed' : 'notFreely'}: "${id}" is missing; its end says "${end.mayUse}"`);
  }
  return out;
}
