import { knowledge } from '../../rules/knowledge/index.ts';
import { KnowledgeError } from '../../rules/knowledge/load.ts';
import { type Audience, type Knowledge, RULE_SETS } from '../../rules/types.ts';
import { handProblems } from '../hand/problems.ts';
import { alike } from './audit-alike.ts';
import { AUDIENCES, unwordedChecks } from './audit-asked.ts';
import { confirmedByNoReading } from './audit-confirms.ts';
import { heatsAmiss } from './audit-heats.ts';
import {
  answersOfNoFault,
  confirmedByNever,
  unconfirmedFaults,
  unsettledFacts,
  unusedLimits,
  weightsAmiss,
  wrongExamples,
} from './audit-holes.ts';
import { startProblems } from './audit-start.ts';

/** Everything the audit calls a hole; empty = none. */
export async function holes(k: Knowledge): Promise<string[]> {
  // One that is seen on each machine is one hole.
  const all = [
    ...startProblems(k),
    ...unsettledFacts(k),
    ...unconfirmedFaults(k),
    ...confirmedByNever(k),
    ...heatsAmiss(k),
    ...confirmedByNoReading(k),
    ...answersOfNoFault(k),
    ...weightsAmiss(k),
    ...handProblems(k),
    ...(await wrongExamples(k)),
    ...unusedLimits(k),
    ...(await unwordedChecks(k)),
  ];
  return [...new Set(all)];
}

/** "no holes", "1 hole:", "2 holes:" */
export const countedHoles = (found: readonly string[]): string =>
  found.length ? `${found.length} ${found.length === 1 ? 'hole' : 'holes'}:` : 'no holes';

function tellCounts(k: Knowledge): void {
  const rules = RULE_SETS.reduce((n, set) => n + k.rules[set].length, 0);
  const levels = [0, 1, 2, 3, 4, 5].map((l) => [...k.checks.values()].filter((c) => c.level === l).length).join(' / ');
  console.log(`\nversion   ${k.version}`);
  const { facts, limits, faults, repairs, stops, machines } = k;
  for (const [name, { size }] of Object.entries({ facts, limits, faults, repairs, stops, machines, rules: { size: rules } }))
    console.log(`${name.padEnd(9)} ${size}`);
  console.log(`checks    ${k.checks.size}, by level 0 to 5: ${levels}`);
}

/** Complaint by complaint, machine by machine: who cannot tell what apart. */
async function tellAlike(k: Knowledge): Promise<void> {
  console.log('\nNot told apart by any check that may be asked:');
  for (const family of k.families.values()) {
    if (family.referOnly) continue;
    console.log(`  ${family.id}`);
    for (const m of k.machines.values()) {
      const by = new Map<string, { who: Audience[]; groups: string[][] }>();
      for (const a of AUDIENCES) {
        const groups = await alike(k, a, m, family.id);
        const key = JSON.stringify(groups);
        by.set(key, { who: [...(by.get(key)?.who ?? []), a], groups });
      }
      for (const { who, groups } of by.values()) {
        console.log(`    ${m.id}, ${who.join(' and ')}: ${groups.length ? '' : 'none'}`);
        for (const group of groups) console.log(`      ${named(k, group)}`);
      }
    }
  }
}
function named(k: Knowledge, group: readonly string[]): string {
  const same = new Set(group.map((id) => k.faults.get(id)!.end.repair)).size === 1;
  const names = group.length > 6 ? `${group.slice(0, 6).join(', ')} and ${group.length - 6} more` : group.join(', ');
  return `${names}${same ? ' (same repair)' : ''}`;
}

/** npm run knowledge: holes first, then counts and groups that stay together. Exit code 1 where there are holes or the knowledge does not load. */
export async function main(): Promise<number> {
  let k: Knowledge;
  try {
    k = knowledge();
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    console.error(error.message);
    return 1;
  }
  const found = await holes(k);
  console.log(countedHoles(found));
  for (const h of found) console.log(`  ${h}`);
  tellCounts(k);
  await tellAlike(k);
  return found.length ? 1 : 0;
}
