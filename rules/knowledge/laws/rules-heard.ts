import { RULE_SETS, type Rule, type RuleWords, TRUTHS } from '../rule.ts';
import { conditionProblems, unheard } from '../rule-problems.ts';
import type { Law } from './law.ts';

/** A rule stands once, asks of what it can see, is asked where somebody listens, and shows that it holds, fails and does not know. */
export const rulesHeard: Law = (shelf) => {
  const out: string[] = [];
  const vocabulary = shelf.loaded.singles['rule-words.json'] as RuleWords | undefined;
  const seen = new Set<string>();
  for (const set of RULE_SETS)
    for (const rule of shelf.list<Rule>(`rules/${set}.json`)) {
      const where = `rules/${set}.json, rule "${rule.id}"`;
      if (seen.has(rule.id)) out.push(`${where}: stands in two sets; rule ids are used once`);
      seen.add(rule.id);
      const wrong = [...(vocabulary ? conditionProblems(rule, shelf, vocabulary) : []), ...unheard(set, rule)];
      out.push(...wrong.map((problem) => `${where}, ${problem}`));
      for (const truth of TRUTHS)
        if (!rule.examples.some((e) => e.truth === truth))
          out.push(`${where}, examples: none of them ${truth === 'unknown' ? 'is unknown' : truth}; a rule shows all three`);
    }
  return out;
};

/** Every need, finding and stop is said by some rule; else nobody would ever meet, find or recognise it. */
export const rulesForEach: Law = (shelf) => {
  const said = (set: string, key: string) =>
    new Set(shelf.list<{ then: Record<string, unknown> }>(`rules/${set}.json`).map((rule) => rule.then[key]));
  const unsaid = (file: string, called: string, set: string, key: string, problem: string): string[] => {
    if (!shelf.loaded.lists[`rules/${set}.json`]) return [];
    const all = said(set, key);
    const ids = [...(shelf.loaded.named[file] ?? [])];
    return ids.filter((id) => !all.has(id)).map((id) => `${file}, ${called} "${id}": ${problem}`);
  };
  return [
    ...unsaid('needs.json', 'need', 'permits', 'meets', 'no permit rule says when it is met'),
    ...unsaid('findings.json', 'finding', 'verdicts', 'finds', 'no verdict rule finds it'),
    ...unsaid('stops.json', 'stop', 'stops', 'stop', 'no rule says when it holds'),
  ];
};
