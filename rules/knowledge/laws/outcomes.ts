import type { Check } from '../check.ts';
import { orDidYouMean } from '../closest.ts';
import type { Shelf } from '../shelf.ts';
import type { Law } from './law.ts';

/** An outcome speaks of what its check settles: of a class where that is read, of an answer where it is told. */
export const outcomes: Law = (shelf) => {
  const out: string[] = [];
  for (const check of shelf.checks.values()) {
    const seen = new Set<string>();
    for (const outcome of check.outcomes) {
      const where = `checks.json, check "${check.id}", outcome "${outcome.id}"`;
      if (seen.has(outcome.id)) out.push(`${where}: stands there twice`);
      seen.add(outcome.id);
      for (const [fact, any] of Object.entries(outcome.when))
        out.push(...whenProblems(shelf, check, fact, any).map((problem) => `${where}: ${problem}`));
    }
  }
  return out;
};

/** Every answer that says something is of some outcome of each check that settles it: else it would be told and weigh nothing there. */
export const answersInOutcomes: Law = (shelf) => {
  const out: string[] = [];
  for (const check of shelf.checks.values()) {
    const read = new Set(check.measure?.reads.map((r) => r.fact));
    // A list of dangers is read line by line.
    if (check.kind === 'gate' && check.choices) continue;
    for (const id of check.settles) {
      const fact = shelf.facts.get(id);
      if (read.has(id) || !fact?.choices) continue;
      const named = new Set(check.outcomes.flatMap((o) => o.when[id] ?? []));
      for (const answer of fact.choices)
        if (!named.has(answer) && !fact.noEvidence?.includes(answer))
          out.push(`checks.json, check "${check.id}", outcomes: none is of the answer "${answer}" (fact "${id}")`);
    }
  }
  return out;
};

function whenProblems(shelf: Shelf, check: Check, id: string, any: readonly string[]): string[] {
  if (!check.settles.includes(id)) return [`the check does not settle "${id}"${orDidYouMean(id, check.settles)}`];
  const read = check.measure?.reads.find((r) => r.fact === id);
  if (read) {
    const classes = Object.keys(read.classes);
    const wrong = any.filter((x) => x !== 'odd' && !classes.includes(x));
    return wrong.map((x) => `"${x}" is no class of "${id}"; the classes are ${classes.join(', ')} and odd`);
  }
  const fact = shelf.facts.get(id);
  if (!fact) return [];
  if (fact.kind === 'quantity') return any.map((x) => `"${id}" is a number and has no answer "${x}"`);
  const wrong = any.filter((x) => !fact.choices?.includes(x));
  return wrong.map((x) => `"${x}" is not one of ${fact.choices?.join(', ')} (fact "${id}")`);
}
