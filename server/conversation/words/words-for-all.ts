import { CONCLUSIONS, MAY_USE, orDidYouMean, PRIORITIES, TRADES } from '../../../rules/index.ts';
import type { Knowledge } from '../../../rules/types.ts';
import { FIRST } from '../../languages.ts';
import { askedOfOthers } from './from-knowledge.ts';
import { PROBLEMS, SAY, TALK, TOPICS } from './names.ts';
import { placeOf, sameIds } from './same-ids.ts';
import type { Words } from './shapes.ts';

/** Ids of the knowledge, and names the code says something by, that have no words; and words for nothing. */
export function wordlessIds(words: Words, k: Knowledge): string[] {
  const problems: string[] = [];
  ofChecks(words, k, problems);
  ofFacts(words, k, problems);
  ofStops(words, k, problems);
  ofGeneral(words, k, problems);
  return problems;
}

function ofChecks(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  const all = [...k.checks.values()];
  const asked = all.filter((c) => words.language === FIRST || askedOfOthers(c));
  const ids = (checks: typeof all) => checks.map((c) => c.id);
  same('check', words.checks, ids(asked));
  same('check name', words.checkNames, ids(all.filter((c) => !asked.includes(c))));
  for (const check of all) {
    const own = words.checks[check.id];
    if (!own) continue;
    same(`check "${check.id}", choice`, own.choices ?? {}, Object.keys(check.choices ?? {}));
    same(`check "${check.id}", group`, own.groups ?? {}, Object.keys(check.groups ?? {}));
  }
}

function ofFacts(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  const facts = [...k.facts.values()];
  same('fact', words.facts, k.facts.keys());
  same('fault', words.faults, k.faults.keys());
  const dangers = facts.filter((f) => f.danger?.length);
  same(
    'danger',
    words.dangers,
    dangers.map((f) => f.id),
  );
  for (const fact of facts) {
    const own = words.facts[fact.id];
    if (!own) continue;
    same(`fact "${fact.id}", choice`, own.choices ?? {}, fact.choices ?? []);
    const at = `${placeOf(words, 'fact')}fact "${fact.id}", points`;
    for (const machine of Object.keys(own.points ?? {}))
      if (machine !== '*' && !k.machines.has(machine))
        problems.push(`${at} "${machine}": no machine is called so${orDidYouMean(machine, k.machines.keys())}`);
  }
}

function ofStops(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  const at = placeOf(words, 'stop');
  if (words.language === FIRST)
    for (const id of Object.keys(words.stops))
      if (!k.stops.has(id)) problems.push(`${at}stop "${id}": nothing is called so${orDidYouMean(id, k.stops.keys())}`);
  for (const id of k.stops.keys()) if (words.stops[id]?.why === undefined) problems.push(`${at}stop "${id}", why: has no words`);
  same('stop answers to', words.stopAnswers, k.stopQuestions.keys());
  for (const question of k.stopQuestions.values()) {
    const own = words.stopAnswers[question.id] ?? {};
    const ids = question.answers.map((a) => a.id);
    same(`stop answers to "${question.id}":`, own, ids);
    for (const { id, touches } of question.answers)
      if (touches && own[id] && own[id].gasUnknown === undefined)
        problems.push(`${placeOf(words, 'stop answers')}answer "${question.id}", "${id}", gasUnknown: has no words`);
  }
  same('stop act done', words.stopDone, k.stopActs.keys());
}

function ofGeneral(words: Words, k: Knowledge, problems: string[]): void {
  const same = sameIds(words, problems);
  const g = words.general;
  const checks = [...k.checks.values()];
  const kinds = [...k.rules.referrals, ...k.rules.conclusions].flatMap((rule) => rule.then.kind ?? []);
  const classes = checks.flatMap((c) => c.measure?.reads.flatMap((r) => Object.keys(r.classes)) ?? []);
  const topics = Object.fromEntries(g.topics.map((topic) => [topic.id, topic]));
  const covers = [...k.covers.keys()].filter((id) => id !== 'none');
  const cautions = checks.flatMap((c) => c.cautions);
  const needed: [what: string, have: object, need: Iterable<string>][] = [
    ['talk', g.talk, TALK],
    ['problem', g.problems, PROBLEMS],
    ['say', g.say, SAY],
    ['topic', topics, TOPICS],
    ['state', g.states, k.states.keys()],
    ['cover', g.covers, covers],
    ['caution', g.cautions, cautions],
    ['class', g.classes, ['odd', ...classes]],
    ['trade', g.trades, TRADES],
    ['may use', g.mayUse, MAY_USE],
    ['priority', g.priorities, PRIORITIES.map(String)],
    ['conclusion', g.conclusions, CONCLUSIONS],
    ['referral', g.referrals, ['stop', ...kinds]],
  ];
  for (const [what, have, need] of needed) same(what, have, need);
}
