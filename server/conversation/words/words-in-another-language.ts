import { orDidYouMean } from '../../../rules/index.ts';
import type { Knowledge } from '../../../rules/types.ts';
import { askedOf, askedOfOthers, namesOf } from './from-knowledge.ts';
import { placeOf, placesIn, sameIds } from './same-ids.ts';
import type { Words } from './shapes.ts';

/** What another language must have beside: the knowledge's own words, and all that the first language has of what may be asked. */
export function untranslated(words: Words, first: Words, k: Knowledge): string[] {
  const problems: string[] = [];
  ofNames(words, k, problems);
  if (!Object.keys(words.general.terms).length) problems.push(`${placeOf(words, 'terms')}terms: there are none`);
  ofStopLines(words, k, problems);
  ofChecks(words, first, k, problems);
  ofStopAnswers(words, first, problems);
  for (const key of ['talk', 'problems', 'say'] as const)
    for (const [id, text] of Object.entries(words.general[key])) {
      const [own, theirs] = [placesIn(text), placesIn(first.general[key][id])];
      if (own !== theirs)
        problems.push(
          `${placeOf(words, key)}${key} "${id}": puts in ${own || 'nothing'} where the first language puts in ${theirs || 'nothing'}`,
        );
    }
  return problems;
}

function ofNames(words: Words, k: Knowledge, problems: string[]): void {
  const at = `${placeOf(words, 'name')}name`;
  const names = namesOf(k);
  const named = Object.keys(words.names).filter((text) => names.has(text));
  // It may be a slip where it stands, and then it is mended there.
  for (const [text, where] of names)
    if (!Object.hasOwn(words.names, text)) problems.push(`${at} "${text}" (${where}): has no words${orDidYouMean(text, named)}`);
  for (const text of Object.keys(words.names))
    if (!names.has(text)) problems.push(`${at} "${text}": nothing is called so${orDidYouMean(text, names.keys())}`);
}

function ofChecks(words: Words, first: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  for (const check of k.checks.values()) {
    const own = words.checks[check.id];
    if (!own || !askedOfOthers(check)) continue;
    const at = `${placeOf(words, 'check')}check "${check.id}"`;
    if (first.checks[check.id]?.how !== undefined && own.how === undefined) problems.push(`${at}, how: has no words`);
    if (askedOf(check).includes('agent') && own.script === undefined) problems.push(`${at}, script: has no words`);
    for (const { fact, classes } of check.measure?.reads ?? []) {
      same(`fact "${fact}", points`, words.facts[fact]?.points ?? {}, Object.keys(first.facts[fact]?.points ?? {}));
      same(`fact "${fact}", means`, words.facts[fact]?.means ?? {}, Object.keys(classes));
    }
  }
}

/** Every answer of a stop puts in what the first language puts in, in each of its turns. */
function ofStopAnswers(words: Words, first: Words, problems: string[]): void {
  const at = placeOf(words, 'stop answers');
  for (const [question, answers] of Object.entries(first.stopAnswers))
    for (const [id, theirs] of Object.entries(answers))
      for (const turn of ['says', 'gasUnknown'] as const) {
        const own = words.stopAnswers[question]?.[id];
        if (own) turnProblem(`${at}answer "${question}", "${id}", ${turn}`, own[turn], theirs[turn], problems);
      }
  for (const [act, theirs] of Object.entries(first.stopDone)) {
    const own = words.stopDone[act];
    if (own !== undefined) turnProblem(`${at}done "${act}"`, own, theirs, problems);
  }
}

/** Every stop: its sign, and what to do now, line for line as the knowledge has it. */
function ofStopLines(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  same('stop', words.stops, k.stops.keys());
  for (const stop of k.stops.values()) {
    const own = words.stops[stop.id];
    if (!own) continue;
    const at = `${placeOf(words, 'stop')}stop "${stop.id}"`;
    if (own.title === undefined) problems.push(`${at}, title: has no words`);
    same(`stop "${stop.id}", sayNow`, own.sayNow ?? {}, Object.keys(stop.sayNow));
    for (const [region, lines] of Object.entries(stop.sayNow)) {
      const ours = own.sayNow?.[region];
      if (!ours) continue;
      if (ours.length > lines.length)
        problems.push(`${at}, ${region}: has ${ours.length} lines where the knowledge has ${lines.length}`);
      for (const [i, line] of lines.entries())
        for (const turn of ['text', 'gasUnknown', 'otherwise'] as const)
          turnProblem(`${at}, ${region} ${i + 1}, ${turn}`, ours[i]?.[turn], line[turn], problems);
    }
  }
}

/** One turn of a text: there where the first language has it, nowhere else, with the same {places}. */
function turnProblem(where: string, own: unknown, theirs: unknown, problems: string[]): void {
  if (theirs !== undefined && own === undefined) problems.push(`${where}: has no words`);
  else if (theirs === undefined && own !== undefined) problems.push(`${where}: the knowledge has no such words`);
  else if (placesIn(own) !== placesIn(theirs))
    problems.push(`${where}: puts in ${placesIn(own) || 'nothing'}, not ${placesIn(theirs) || 'nothing'}`);
}
