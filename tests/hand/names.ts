import type { z } from 'zod';
import { orDidYouMean } from '../../rules/knowledge/closest.ts';
import { type Found, findRefs } from '../../rules/knowledge/find-refs.ts';
import type { Ref } from '../../rules/knowledge/ref.ts';
import type { Knowledge } from '../../rules/types.ts';

/** Every name in a hand-written file that nothing of the knowledge is called by: the way to it, and what may have been meant. */
export const namesAmiss = (k: Knowledge, shape: z.ZodType, input: unknown): string[] =>
  findRefs(shape, input).flatMap((found) => {
    const wrong = wrongName(k, found);
    return wrong === undefined ? [] : [`${found.field}: ${wrong}`];
  });

function wrongName(k: Knowledge, { ref, name, around }: Found): string | undefined {
  const nearest = (to: Ref['to']) => around.filter((x) => x.to === to).at(-1)?.name ?? '';
  if (ref.to === 'choice') {
    const fact = k.facts.get(nearest('fact'));
    if (!fact || fact.choices?.includes(name)) return undefined;
    return `"${name}" is not one of ${fact.choices?.join(', ') ?? 'any: it is a number'} (fact "${fact.id}")`;
  }
  const all = ref.to === 'outcome' ? k.checks.get(nearest('check'))?.outcomes.map((o) => o.id) : namesOf(k, ref.to);
  const among = all && new Set(all);
  if (!among || among.has(name)) return undefined;
  return `there is no ${ref.to === 'outcome' ? `outcome of "${nearest('check')}"` : ref.to} "${name}"${orDidYouMean(name, among)}`;
}

function namesOf(k: Knowledge, of: Ref['to']): Iterable<string> | undefined {
  switch (of) {
    case 'branch':
      return [...k.machines.values()].flatMap((m) => m.branches.map((b) => b.id));
    case 'need':
      return k.rules.permits.flatMap((rule) => rule.then.meets ?? []);
    case 'fact':
      return k.facts.keys();
    case 'finding':
      return k.findings.keys();
    case 'family':
      return k.families.keys();
    case 'fault':
      return k.faults.keys();
    case 'check':
      return k.checks.keys();
    case 'state':
      return k.states.keys();
    case 'machine':
      return k.machines.keys();
    case 'limit':
      return k.limits.keys();
    case 'stop':
      return k.stops.keys();
    default:
      return undefined;
  }
}
