import { z } from 'zod';
import { check } from './check.ts';
import { cover } from './cover.ts';
import { fact } from './fact.ts';
import { family } from './family.ts';
import { fault } from './fault.ts';
import { finding } from './finding.ts';
import { likely, limit } from './limit.ts';
import { machine } from './machine.ts';
import { meter } from './meter.ts';
import { caution, need } from './need.ts';
import { repair } from './repair.ts';
import { RULES, ruleWords } from './rule.ts';
import { state } from './state.ts';
import { numbers, stop } from './stop.ts';
import { stopAct, stopQuestion } from './stop-question.ts';
import { supply } from './supply.ts';
import { trade } from './words.ts';

/**
 * The shape of every file of knowledge, strict: a field nobody knows is a problem, not a silence.
 * The same shapes make the JSON Schemas an editor uses (npm run schemas).
 */
export interface ListFile {
  /** The key its items stand under. */
  key: string;
  item: z.ZodType;
  /** How a problem calls one item. */
  called: string;
  /** What else may stand in the file. */
  beside: Record<string, z.ZodType>;
}
/** Files that are a list of items. */
export const LISTS: Record<string, ListFile> = {
  'facts.json': { key: 'facts', item: fact, called: 'fact', beside: {} },
  'limits.json': { key: 'limits', item: limit, called: 'limit', beside: { likely } },
  'faults.json': { key: 'faults', item: fault, called: 'fault', beside: {} },
  'repairs.json': { key: 'repairs', item: repair, called: 'repair', beside: {} },
  'checks.json': { key: 'checks', item: check, called: 'check', beside: {} },
  'stops.json': { key: 'stops', item: stop, called: 'stop', beside: { numbers } },
  'stop-questions.json': {
    key: 'questions',
    item: stopQuestion,
    called: 'question',
    beside: { acts: z.array(stopAct), leaveOut: z.array(trade) },
  },
  'findings.json': { key: 'findings', item: finding, called: 'finding', beside: {} },
  'families.json': { key: 'families', item: family, called: 'family', beside: {} },
  'needs.json': { key: 'needs', item: need, called: 'need', beside: { cautions: z.array(caution) } },
  'states.json': { key: 'states', item: state, called: 'state', beside: {} },
  'covers.json': { key: 'covers', item: cover, called: 'cover', beside: {} },
  'meters.json': { key: 'meters', item: meter, called: 'meter', beside: {} },
  'physics-limits.json': { key: 'limits', item: limit, called: 'limit', beside: {} },
  ...Object.fromEntries(
    Object.entries(RULES).map(([set, item]) => [`rules-${set}.json`, { key: 'rules', item, called: 'rule', beside: {} }]),
  ),
};
/** Files that are one thing. */
export const SINGLES: Record<string, z.ZodType> = {
  'machine.json': machine,
  'supply.json': supply,
  'rule-words.json': ruleWords,
};
