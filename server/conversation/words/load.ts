import type { Knowledge } from '../../../rules/types.ts';
import { PROBLEMS, SAY, TALK } from './names.ts';
import { type Words, type WordsFile, wordsFile } from './shapes.ts';

/** Everything wrong with the words, at once: one sentence each, naming what, which id, and what would be right. */
export class WordsError extends Error {
  readonly problems: readonly string[];
  constructor(problems: readonly string[]) {
    super(
      `the words have ${problems.length === 1 ? 'one problem' : `${problems.length} problems`}:\n${problems.map((p) => `  ${p}`).join('\n')}`,
    );
    this.name = 'WordsError';
    this.problems = problems;
  }
}

/**
 * Puts the files of one language together and holds them against the knowledge.
 * @param files  path -> parsed JSON, in any order
 * @throws WordsError with every problem: shape, an id twice, a word missing, a word for nothing
 */
export function loadWords(files: Readonly<Record<string, unknown>>, k: Knowledge): Words {
  const problems: string[] = [];
  const words: Partial<Words> & Omit<Words, 'general'> = { checks: {}, facts: {}, faults: {}, stops: {} };
  for (const path of Object.keys(files).sort()) {
    const parsed = wordsFile.safeParse(files[path]);
    if (!parsed.success) {
      for (const i of parsed.error.issues) problems.push(`${path}, ${i.path.join('.') || 'the whole file'}: ${i.message}`);
      continue;
    }
    merge(path, parsed.data, words, problems);
  }
  if (!words.general) problems.push('general: no file has it; every language needs its general.json');
  if (problems.length) throw new WordsError(problems);
  const all = words as Words;
  crossCheck(all, k, problems);
  if (problems.length) throw new WordsError(problems);
  return Object.freeze(all);
}

function merge(path: string, file: WordsFile, words: Partial<Words> & Omit<Words, 'general'>, problems: string[]): void {
  for (const key of ['checks', 'facts', 'faults', 'stops'] as const)
    for (const [id, entry] of Object.entries(file[key] ?? {})) {
      if (id in words[key]) problems.push(`${path}, ${key} "${id}": stands twice; one of the two goes`);
      Object.assign(words[key], { [id]: entry });
    }
  if (!file.general) return;
  if (words.general) problems.push(`${path}, general: stands twice; one of the two goes`);
  words.general = file.general;
}

function crossCheck(words: Words, k: Knowledge, problems: string[]): void {
  const same = (what: string, have: object, need: Iterable<string>) => {
    const wanted = new Set(need);
    for (const id of wanted) if (!Object.hasOwn(have, id)) problems.push(`${what} "${id}": has no words`);
    for (const id of Object.keys(have)) if (!wanted.has(id)) problems.push(`${what} "${id}": nothing is called so`);
  };
  const g = words.general;
  same('talk', g.talk, TALK);
  same('problem', g.problems, PROBLEMS);
  same('say', g.say, SAY);
  same('check', words.checks, k.checks.keys());
  same('fact', words.facts, k.facts.keys());
  same('fault', words.faults, k.faults.keys());
  for (const id of Object.keys(words.stops)) if (!k.stops.has(id)) problems.push(`stop "${id}": nothing is called so`);
  same('state', g.states, k.states.keys());
  same(
    'cover',
    g.covers,
    [...k.covers.keys()].filter((c) => c !== 'none'),
  );
  same(
    'caution',
    g.cautions,
    [...k.checks.values()].flatMap((c) => c.cautions),
  );
  same('class', g.classes, [
    'odd',
    ...[...k.checks.values()].flatMap((c) => c.measure?.reads.flatMap((r) => Object.keys(r.classes)) ?? []),
  ]);
  same('trade', g.trades, ['owner', 'appliance', 'electrician', 'utility', 'gas', 'duct', 'emergency', 'landlord', 'maker']);
  same('may use', g.mayUse, ['yes', 'limited', 'no']);
  same('priority', g.priorities, ['0', '1', '2', '3', '4']);
  same('conclusion', g.conclusions, ['confirmed', 'cleared', 'no more to learn', 'not explained', 'out of scope']);
  same('referral', g.referrals, [
    'stop',
    ...[...k.rules.referrals, ...k.rules.conclusions].flatMap((r) => (r.then.kind === undefined ? [] : [String(r.then.kind)])),
  ]);
  for (const c of k.checks.values()) {
    const own = words.checks[c.id];
    if (own) same(`check "${c.id}", choice`, own.choices ?? {}, Object.keys(c.choices ?? {}));
  }
  for (const f of k.facts.values()) {
    const own = words.facts[f.id];
    if (own) same(`fact "${f.id}", choice`, own.choices ?? {}, f.choices ?? []);
    for (const machine of Object.keys(own?.points ?? {}))
      if (machine !== '*' && !k.machines.has(machine))
        problems.push(`fact "${f.id}", points "${machine}": no machine is called so`);
  }
}
