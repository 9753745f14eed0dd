import type { Check } from '../check.ts';
import type { Law } from './law.ts';

/** A list asked at once: every line answers facts of its check, "none" answers them all, and no line stands under two heads. */
export const listsAsked: Law = (shelf) =>
  [...shelf.checks.values()].flatMap((check) =>
    [...lineProblems(check), ...groupProblems(check)].map((problem) => `checks.json, check "${check.id}", ${problem}`),
  );

function lineProblems({ choices, settles, oneOf }: Check): string[] {
  if (!choices) return oneOf ? ['oneOf: there are no choices to pick one of'] : [];
  const out: string[] = [];
  for (const [line, gives] of Object.entries(choices)) {
    for (const fact of Object.keys(gives))
      if (!settles.includes(fact)) out.push(`choice "${line}": the check does not settle "${fact}"`);
    if (oneOf || line === 'none')
      for (const fact of settles) if (!(fact in gives)) out.push(`choice "${line}": says nothing about "${fact}"`);
  }
  if (!oneOf && !choices.none) out.push('choices: "none" is missing; it answers every fact of the list');
  return out;
}
function groupProblems({ choices, groups }: Check): string[] {
  const out: string[] = [];
  const grouped = new Set<string>();
  for (const [group, ids] of Object.entries(groups ?? {}))
    for (const id of ids) {
      if (!choices?.[id] || id === 'none') out.push(`group "${group}": there is no choice "${id}" to stand under it`);
      else if (grouped.has(id)) out.push(`group "${group}": "${id}" stands under another group already`);
      grouped.add(id);
    }
  return out;
}
