import { orDidYouMean } from '../closest.ts';
import type { Fact } from '../fact.ts';
import type { Law } from './law.ts';

/** A choice has answers and says what they mean; a quantity has a unit and a range. Neither has what belongs to the other. */
export const kindsOfFacts: Law = (shelf) =>
  [...shelf.facts.values()].flatMap((fact) => {
    const problems = fact.kind === 'choice' ? choiceProblems(fact, shelf.names('repair')) : quantityProblems(fact);
    return problems.map((problem) => `facts.json, fact "${fact.id}", ${problem}`);
  });

function choiceProblems(fact: Fact, repairs: ReadonlySet<string>): string[] {
  const out: string[] = [];
  if (!fact.choices) out.push('choices: is missing; a choice needs at least two answers');
  if (fact.unit || fact.possible) out.push('unit: a choice has no unit and no possible range');
  if (fact.event === 'renewed')
    for (const id of fact.choices ?? [])
      if (!repairs.has(id)) out.push(`choices: there is no repair "${id}"${orDidYouMean(id, repairs)}`);
  for (const choice of fact.noEvidence ?? [])
    if (fact.silent?.[choice] || Object.values(fact.silentIn ?? {}).some((by) => by[choice]))
      out.push(`silent: "${choice}" says nothing, so no likelihood belongs to it`);
  return out;
}
function quantityProblems({ choices, unit, possible }: Fact): string[] {
  const out: string[] = [];
  if (choices) out.push('choices: a quantity has a unit, not answers');
  if (!unit) out.push('unit: is missing; a quantity needs one');
  if (!possible) out.push('possible: is missing; a quantity needs the widest range a meter can show');
  else if (possible.lo >= possible.hi) out.push(`possible: ${possible.lo} is not below ${possible.hi}`);
  return out;
}
