import type { Condition, Knowledge } from '../../../rules/types.ts';
import type { Catalogue } from '../../conversation-port.ts';
import { pointWords } from '../stand/points.ts';
import type { Saying } from '../stand/said.ts';
import type { Words } from '../words/shapes.ts';
import { speaker } from '../words/speaker.ts';

/** What can be judged without a case, in words, in the order of the knowledge. */
export function catalogueOf(k: Knowledge, words: Words): Catalogue {
  const s = speaker(words, k, 'technician');
  const on = (machine: string) => {
    const circuits = [...k.machines.values()].filter((m) => machine === '*' || m.id === machine);
    return { k, s, at: { hand: { circuits: circuits.map((m) => m.id) }, p: { circuits } } } as unknown as Saying;
  };
  const floating = judgedByMeter(k);
  return {
    version: k.version,
    families: [...k.families.values()].map(({ id, title }) => ({ id, title })),
    machines: [...k.machines.values()].map(({ id, title, variants = [] }) => ({
      id,
      title,
      variants: variants.map((v) => ({ id: v.id, title: v.title })),
    })),
    meters: [...k.meters.values()].map(({ id, title }) => ({ id, title })),
    checks: [...k.checks.values()]
      .filter((c) => c.measure !== undefined && !c.anywhere)
      .map((c) => ({
        id: c.id,
        label: s.checkName(c.id),
        level: c.level,
        reads: c.measure!.reads.map((r) => ({
          fact: r.fact,
          label: s.fact(r.fact),
          unit: k.facts.get(r.fact)?.unit ?? '1',
          ...(Object.keys(r.classes).some((c) => floating.has(c)) && { lowImpedance: c.measure!.lowImpedance }),
          points: Object.fromEntries(
            Object.entries(r.points).map(([machine, points]) => [machine, pointWords(on(machine), r.fact, points)]),
          ),
        })),
      })),
  };
}

/** Classes a verdict rule judges by whether the meter is on low impedance. */
function judgedByMeter(k: Knowledge): Set<string> {
  const leaves = (c: Condition): Extract<Condition, { fact: string }>[] => {
    if ('fact' in c) return [c];
    if ('not' in c) return leaves(c.not);
    return ('all' in c ? c.all : c.any).flatMap(leaves);
  };
  const rules = k.rules.verdicts.map((rule) => leaves(rule.when)).filter((all) => all.some((c) => c.fact === 'low_impedance'));
  return new Set(rules.flatMap((all) => all.filter((c) => c.fact === 'class').flatMap((c) => [c.value].flat() as string[])));
}
