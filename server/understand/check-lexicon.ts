import { orDidYouMean } from '../../rules/index.ts';
import type { Fact, Knowledge } from '../../rules/types.ts';
import kinds from './lexicon/kinds.json' with { type: 'json' };
import { LANGUAGES } from './lexicon/languages.ts';
import type { Entry, LexiconFiles } from './lexicon/shape.ts';

/** Everything the lexicon names that the knowledge does not hold, at once: file, entry, field, and what would be right. */
export class LexiconError extends Error {
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(`the lexicon has ${problems.length} problems:\n${problems.map((p) => `  ${p}`).join('\n')}`);
    this.name = 'LexiconError';
    this.problems = problems;
  }
}

/** A complaint of another machine altogether: understood, and no family of the knowledge. */
const OTHER = 'other';
type Files = Readonly<Record<string, LexiconFiles>>;

/**
 * Words of people that lead nowhere: a danger, fact, answer or complaint that is not in the knowledge.
 * What is noted in passing, and held by nobody, stands in the list of its own.
 */
export function lexiconProblems(k: Knowledge, files: Files = LANGUAGES): string[] {
  return [...Object.entries(files).flatMap(([tag, f]) => inLanguage(k, tag, f)), ...inKinds(k)];
}

function inLanguage(k: Knowledge, tag: string, files: LexiconFiles): string[] {
  const out: string[] = [];
  const noted = new Set(files.facts.noted);
  const factOf = (where: string, id: string): Fact | undefined => {
    const fact = k.facts.get(id);
    if (!fact && !noted.has(id)) out.push(`${where}: there is no fact "${id}"${orDidYouMean(id, [...k.facts.keys(), ...noted])}`);
    return fact;
  };
  const answer = (where: string, id: string, value: string | undefined): void => {
    const fact = factOf(where, id);
    if (fact && value !== undefined && !fact.choices?.includes(value))
      out.push(`${where}: "${value}" is no answer of "${id}"${orDidYouMean(value, fact.choices ?? [])}`);
  };
  const danger = (where: string, id: string, value: string): void => {
    answer(where, id, value);
    if (noted.has(id) || (k.facts.has(id) && !k.facts.get(id)!.danger?.length))
      out.push(`${where}: "${id}" is no danger of the knowledge`);
  };
  const entry = (file: string, e: Entry): void => {
    const at = `lexicon/${tag}/${file}.json, entry "${e.id}"`;
    for (const [id, v] of Object.entries(e.facts ?? {})) answer(`${at}, facts`, id, v);
    for (const [id, v] of Object.entries({ ...e.hazard, ...e.also })) danger(`${at}, hazard`, id, v);
    if (e.family !== undefined && e.family !== OTHER && !k.families.has(e.family))
      out.push(`${at}, family: there is no family "${e.family}"${orDidYouMean(e.family, k.families.keys())}`);
    for (const drop of e.drops ?? []) {
      const [id = '', v] = drop.replace('?', '').split('=');
      if (!k.families.has(id)) answer(`${at}, drops`, id, v);
    }
  };
  for (const file of ['hazards', 'facts', 'families', 'talk'] as const) for (const e of files[file].entries) entry(file, e);
  for (const [name, means] of Object.entries(files.hazards.names))
    for (const [id, v] of Object.entries(means)) danger(`lexicon/${tag}/hazards.json, name "${name}"`, id, v);
  for (const [word, [id = '', v]] of Object.entries(files.facts.lone)) answer(`lexicon/${tag}/facts.json, lone "${word}"`, id, v);
  for (const c of files.choices.choices)
    if (c.fact !== undefined) answer(`lexicon/${tag}/choices.json, choice "${c.fact} ${c.id ?? ''}"`, c.fact, c.id);
  return out;
}

/** What one list holds of the readings, in whatever language. */
function inKinds(k: Knowledge): string[] {
  const at = 'lexicon/kinds.json';
  const out: string[] = [];
  for (const id of Object.keys(kinds.leastSaid))
    if (!k.facts.has(id)) out.push(`${at}: there is no fact "${id}"${orDidYouMean(id, k.facts.keys())}`);
  for (const id of new Set(Object.values(kinds.saidState)))
    if (!k.states.has(id)) out.push(`${at}: there is no state "${id}"${orDidYouMean(id, k.states.keys())}`);
  return out;
}

const checked = new WeakSet<Knowledge>();
/** Holds the lexicon of every language against the knowledge, once. @throws LexiconError with every problem */
export function checkLexicon(k: Knowledge): void {
  if (checked.has(k)) return;
  const problems = lexiconProblems(k);
  if (problems.length) throw new LexiconError(problems);
  checked.add(k);
}
