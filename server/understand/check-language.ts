import type { Knowledge } from '../../rules/types.ts';
import { type Names, namesOf } from './check-names.ts';
import { NEXT } from './in-stop.ts';
import type { Entry, LexiconFiles } from './lexicon/shape.ts';

/** A complaint of another machine altogether: understood, and no family of the knowledge. */
const OTHER = 'other';

/** Words of people in one language that lead nowhere: a danger, fact, answer, complaint, question or act that is not in the knowledge. */
export function languageProblems(k: Knowledge, tag: string, files: LexiconFiles): string[] {
  const names = namesOf(k, new Set(files.facts.noted));
  const at = (file: string) => `lexicon/${tag}/${file}.json`;
  for (const file of ['hazards', 'facts', 'families', 'talk'] as const)
    for (const entry of files[file].entries) checkEntry(k, names, `${at(file)}, entry "${entry.id}"`, entry);
  for (const [name, means] of Object.entries(files.hazards.names))
    for (const [id, value] of Object.entries(means)) names.danger(`${at('hazards')}, name "${name}"`, id, value);
  for (const [word, [id = '', value]] of Object.entries(files.facts.lone))
    names.answer(`${at('facts')}, lone "${word}"`, id, value);
  for (const choice of files.choices.choices)
    if (choice.fact !== undefined)
      names.answer(`${at('choices')}, choice "${choice.fact} ${choice.id ?? ''}"`, choice.fact, choice.id);
  return names.problems;
}

/** Talk that asks a question of a stop, or tells an act done while one stands -> what its `of` has to be. */
const OF: Record<string, { called: string; among: (k: Knowledge) => Iterable<string> }> = {
  'in-stop': { called: 'question of a stop', among: (k) => [NEXT, ...k.stopQuestions.keys()] },
  'in-stop-hint': { called: 'question of a stop', among: (k) => [NEXT, ...k.stopQuestions.keys()] },
  'done-in-stop': { called: 'act', among: (k) => k.stopActs.keys() },
};

function checkEntry(k: Knowledge, names: Names, at: string, entry: Entry): void {
  for (const [id, value] of Object.entries(entry.facts ?? {})) names.answer(`${at}, facts`, id, value);
  for (const [id, value] of Object.entries({ ...entry.hazard, ...entry.also })) names.danger(`${at}, hazard`, id, value);
  if (entry.family !== undefined && entry.family !== OTHER) names.one(`${at}, family`, 'family', entry.family, k.families.keys());
  for (const drop of entry.drops ?? []) {
    const [id = '', value] = drop.replace('?', '').split('=');
    if (!k.families.has(id)) names.answer(`${at}, drops`, id, value);
  }
  const of = OF[entry.talk ?? ''];
  if (of) names.one(`${at}, of`, of.called, entry.of ?? '', of.among(k));
}
