import type { Knowledge } from '../../../rules/types.ts';
import { FIRST, LANGUAGES, type Language } from '../../languages.ts';
import { askedOf, askedOfOthers, namesOf } from './from-knowledge.ts';
import { PROBLEMS, SAY, TALK, TOPICS } from './names.ts';
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
 * @param other  another language than the first, and the words of the first: all that somebody may be told in it must be there,
 *        with the same {places} to put something in. Nothing is ever borrowed from the first.
 * @throws WordsError with every problem: shape, an id twice, a word missing, a word for nothing
 */
export function loadWords(
  files: Readonly<Record<string, unknown>>,
  k: Knowledge,
  other?: { language: Language; first: Words },
): Words {
  const problems: string[] = [];
  const words: Partial<Words> & Omit<Words, 'general'> = {
    language: other?.language ?? FIRST,
    checks: {},
    facts: {},
    faults: {},
    stops: {},
    dangers: {},
    stopAnswers: {},
    stopDone: {},
    checkNames: {},
    names: {},
  };
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
  for (const key of ['checks', 'facts', 'faults', 'stops', 'dangers', 'general'] as const)
    holds(all, `${key}.json`, all[key], problems);
  if (other) crossLanguage(all, other.first, k, problems);
  if (problems.length) throw new WordsError(problems);
  return Object.freeze(all);
}

function merge(path: string, file: WordsFile, words: Partial<Words> & Omit<Words, 'general'>, problems: string[]): void {
  for (const key of ['checks', 'facts', 'faults', 'stops', 'dangers', 'stopAnswers', 'stopDone', 'checkNames', 'names'] as const)
    for (const [id, entry] of Object.entries(file[key] ?? {})) {
      if (id in words[key]) problems.push(`${path}, ${key} "${id}": stands twice; one of the two goes`);
      Object.assign(words[key], { [id]: entry });
    }
  if (!file.general) return;
  if (words.general) problems.push(`${path}, general: stands twice; one of the two goes`);
  words.general = file.general;
}

function crossCheck(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIn(words, problems);
  const g = words.general;
  same('talk', g.talk, TALK);
  same('problem', g.problems, PROBLEMS);
  same('say', g.say, SAY);
  const first = words.language === FIRST;
  const asked = [...k.checks.values()].filter((c) => first || askedOfOthers(c));
  same(
    'check',
    words.checks,
    asked.map((c) => c.id),
  );
  same(
    'check name',
    words.checkNames,
    [...k.checks.values()].filter((c) => !asked.includes(c)).map((c) => c.id),
  );
  same('topic', Object.fromEntries(g.topics.map((t) => [t.id, t])), TOPICS);
  same('fact', words.facts, k.facts.keys());
  same('fault', words.faults, k.faults.keys());
  same(
    'danger',
    words.dangers,
    [...k.facts.values()].flatMap((f) => (f.danger?.length ? [f.id] : [])),
  );
  if (first) for (const id of Object.keys(words.stops)) if (!k.stops.has(id)) problems.push(`stop "${id}": nothing is called so`);
  for (const id of k.stops.keys())
    if (words.stops[id]?.why === undefined) problems.push(`${placeOf(words, 'stop')}stop "${id}", why: has no words`);
  same('stop answers to', words.stopAnswers, k.stopQuestions.keys());
  for (const q of k.stopQuestions.values())
    same(
      `stop answers to "${q.id}":`,
      words.stopAnswers[q.id] ?? {},
      q.answers.map((a) => a.id),
    );
  for (const q of k.stopQuestions.values())
    for (const a of q.answers)
      if (a.touches && words.stopAnswers[q.id]?.[a.id] && words.stopAnswers[q.id]![a.id]!.gasUnknown === undefined)
        problems.push(`${placeOf(words, 'stop answers')}answer "${q.id}", "${a.id}", gasUnknown: has no words`);
  same('stop act done', words.stopDone, k.stopActs.keys());
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
  same('referral', g.referrals, ['stop', ...[...k.rules.referrals, ...k.rules.conclusions].flatMap((r) => r.then.kind ?? [])]);
  for (const c of k.checks.values()) {
    const own = words.checks[c.id];
    if (own) same(`check "${c.id}", choice`, own.choices ?? {}, Object.keys(c.choices ?? {}));
    if (own) same(`check "${c.id}", group`, own.groups ?? {}, Object.keys(c.groups ?? {}));
  }
  for (const f of k.facts.values()) {
    const own = words.facts[f.id];
    if (own) same(`fact "${f.id}", choice`, own.choices ?? {}, f.choices ?? []);
    for (const machine of Object.keys(own?.points ?? {}))
      if (machine !== '*' && !k.machines.has(machine))
        problems.push(`fact "${f.id}", points "${machine}": no machine is called so`);
  }
}

/** Another language's file by what stands in it, so that a message leads to it. */
const FILE: Record<string, string> = {
  check: 'checks',
  fact: 'facts',
  fault: 'faults',
  stop: 'stops',
  danger: 'dangers',
  'stop answers': 'stop-answers',
  'stop act': 'stop-answers',
  name: 'names',
};
const fileOf = (what: string): string => FILE[what.split(' ').slice(0, 2).join(' ')] ?? FILE[what.split(' ')[0]!] ?? 'general';
const placeOf = (words: Words, what: string): string =>
  words.language === FIRST ? '' : `${words.language}/${fileOf(what)}.json, `;

/** One entry for each id that is needed, and none more. */
const sameIn =
  (words: Words, problems: string[]) =>
  (what: string, have: object, need: Iterable<string>): void => {
    const at = placeOf(words, what);
    const wanted = new Set(need);
    for (const id of wanted) if (!Object.hasOwn(have, id)) problems.push(`${at}${what} "${id}": has no words`);
    for (const id of Object.keys(have)) if (!wanted.has(id)) problems.push(`${at}${what} "${id}": nothing is called so`);
  };

/** What another language must have beside: the knowledge's own words, and all that the first language has of what may be asked. */
function crossLanguage(words: Words, first: Words, k: Knowledge, problems: string[]): void {
  const same = sameIn(words, problems);
  const at = (what: string) => `${words.language}/${fileOf(what)}.json, ${what}`;
  const names = namesOf(k);
  for (const [text, where] of names)
    if (!Object.hasOwn(words.names, text)) problems.push(`${at('name')} "${text}" (${where}): has no words`);
  for (const text of Object.keys(words.names))
    if (!names.has(text)) problems.push(`${at('name')} "${text}": nothing is called so`);
  if (!Object.keys(words.general.terms).length) problems.push(`${at('terms')}: there are none`);
  stopLines(words, k, problems);
  for (const c of k.checks.values()) {
    const own = words.checks[c.id];
    if (!own || !askedOfOthers(c)) continue;
    const [need, what] = [first.checks[c.id]!, `check "${c.id}"`];
    if (need.how !== undefined && own.how === undefined) problems.push(`${at(what)}, how: has no words`);
    if (askedOf(c).includes('agent') && own.script === undefined) problems.push(`${at(what)}, script: has no words`);
    for (const { fact, classes } of c.measure?.reads ?? []) {
      same(`fact "${fact}", points`, words.facts[fact]?.points ?? {}, Object.keys(first.facts[fact]?.points ?? {}));
      same(`fact "${fact}", means`, words.facts[fact]?.means ?? {}, Object.keys(classes));
    }
  }
  stopAnswers(words, first, problems);
  for (const key of ['talk', 'problems', 'say'] as const)
    for (const [id, text] of Object.entries(words.general[key])) {
      const [own, theirs] = [places(text), places(first.general[key][id])];
      if (own !== theirs)
        problems.push(`${at(key)} "${id}": puts in ${own || 'nothing'} where the first language puts in ${theirs || 'nothing'}`);
    }
}
/** Every answer of a stop puts in what the first language puts in, in each of its turns. */
function stopAnswers(words: Words, first: Words, problems: string[]): void {
  const at = (what: string) => `${words.language}/stop-answers.json, ${what}`;
  for (const [question, answers] of Object.entries(first.stopAnswers))
    for (const [id, theirs] of Object.entries(answers))
      for (const turn of ['says', 'gasUnknown'] as const) {
        const own = words.stopAnswers[question]?.[id];
        if (!own) continue;
        const where = at(`answer "${question}", "${id}", ${turn}`);
        if (own[turn] === undefined && theirs[turn] !== undefined) problems.push(`${where}: has no words`);
        else if (places(own[turn]) !== places(theirs[turn]))
          problems.push(`${where}: puts in ${places(own[turn]) || 'nothing'}, not ${places(theirs[turn]) || 'nothing'}`);
      }
  for (const [act, theirs] of Object.entries(first.stopDone)) {
    const [own, wanted] = [places(words.stopDone[act]), places(theirs)];
    if (own !== wanted) problems.push(`${at(`done "${act}"`)}: puts in ${own || 'nothing'}, not ${wanted || 'nothing'}`);
  }
}
/** Every stop: its sign, and what to do now, line for line as the knowledge has it. */
function stopLines(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIn(words, problems);
  same('stop', words.stops, k.stops.keys());
  for (const stop of k.stops.values()) {
    const own = words.stops[stop.id];
    if (!own) continue;
    const at = `${words.language}/stops.json, stop "${stop.id}"`;
    if (own.title === undefined) problems.push(`${at}, title: has no words`);
    same(`stop "${stop.id}", sayNow`, own.sayNow ?? {}, Object.keys(stop.sayNow));
    for (const [region, lines] of Object.entries(stop.sayNow)) {
      const ours = own.sayNow?.[region];
      if (!ours) continue;
      if (ours.length > lines.length)
        problems.push(`${at}, ${region}: has ${ours.length} lines where the knowledge has ${lines.length}`);
      for (const [i, line] of lines.entries())
        for (const turn of ['text', 'gasUnknown', 'otherwise'] as const) {
          const [text, theirs] = [ours[i]?.[turn], line[turn]];
          const where = `${at}, ${region} ${i + 1}, ${turn}`;
          if (theirs !== undefined && text === undefined) problems.push(`${where}: has no words`);
          else if (theirs === undefined && text !== undefined) problems.push(`${where}: the knowledge has no such words`);
          else if (places(text) !== places(theirs))
            problems.push(`${where}: puts in ${places(text) || 'nothing'}, not ${places(theirs) || 'nothing'}`);
        }
    }
  }
}

/** A text for each audience of the language, and none for others. */
function holds(words: Words, where: string, x: unknown, problems: string[]): void {
  if (x === null || typeof x !== 'object') return;
  const audiences = ['homeowner', 'agent', 'technician'].filter((a) => Object.hasOwn(x, a));
  if (audiences.length && Object.keys(x).length === audiences.length) {
    const need: readonly string[] = LANGUAGES[words.language];
    for (const a of audiences)
      if (!need.includes(a)) problems.push(`${words.language}/${where}: a ${a} is not spoken to in this language`);
    const fallsBack = audiences.includes('technician');
    for (const a of fallsBack ? [] : need)
      if (!audiences.includes(a)) problems.push(`${words.language}/${where}: has no words for a ${a}`);
    return;
  }
  for (const [id, entry] of Object.entries(x)) holds(words, `${where} "${id}"`, entry, problems);
}

/** The {places} of a text in any wording, in order of the alphabet. */
const places = (text: unknown): string =>
  [...new Set(JSON.stringify(text ?? '').match(/\{\w+\}/g))]
    .filter((place) => place !== SOURCE)
    .sort()
    .join(' ');
/** A source is cited in the language it is written in, so a text of another one may leave it out. */
const SOURCE = '{source}';
