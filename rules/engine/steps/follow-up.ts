import { followThrough } from '../follow-through.ts';
import { over } from '../permits.ts';
import { permittedWhere } from '../round.ts';
import { evaluateSet } from '../run-rules.ts';
import type { Step } from './step.ts';

/** After the end: the cause behind the part, its repair, the proof of it, as the rules of the set "follow-through" say. */
export const followUp: Step = async (round) => {
  const { prepared, knowledge, heard, line_v, scale, after } = round;
  const { conclusion, referral } = round.says;
  if (!conclusion) return round.says;
  const may = await permittedWhere(round, referral?.mayUse ?? 'yes');
  const { steps, flat, next: nextBy } = followThrough(prepared, heard, conclusion.faults, may, line_v, scale, after);
  const says = conclusion.is === 'confirmed' ? { ...round.says, followThrough: steps } : round.says;
  const run = await evaluateSet(over(knowledge, 'follow-through', 'case'), { conclusion: conclusion.is, ...flat });
  const by = run.find((x) => x.truth === 'holds');
  if (!by) return says;
  const trace = [...says.trace, { set: 'follow-through' as const, rule: by.rule.id, truth: by.truth, saw: by.saw }];
  const next = nextBy[by.rule.then.next];
  if (!next) return { ...says, trace };
  const due = says.followThrough.filter((x) => x.kind === next.why && x.state === 'due').length;
  return { ...says, trace, next, ahead: { min: next.cost_min, checks: due } };
};
