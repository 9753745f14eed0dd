import { over } from '../permits.ts';
import { referBeyond } from '../referral.ts';
import { evaluateSet } from '../run-rules.ts';
import { firstOf, gatesLeft } from './gate.ts';
import { type Step, toWriteOut } from './step.ts';

/** Outside what is known here: danger signs are still asked first, then the case is handed on. */
export const beyond: Step = async (round) => {
  const { knowledge, flat, says } = round;
  const run = await evaluateSet(over(knowledge, 'conclusions', 'case'), flat);
  const by = run.find((x) => x.truth === 'holds' && x.rule.then.trade);
  if (!by) return round;
  const gates = gatesLeft(round);
  const danger = gates.find((g) => g.settles.some((fact) => knowledge.facts.get(fact)?.danger));
  if (danger) return { ...says, ...firstOf(gates, danger) };
  return {
    ...says,
    conclusion: { is: 'out of scope', faults: [] },
    referral: referBeyond(by.rule, toWriteOut(round)),
    trace: [...says.trace, { set: 'conclusions', rule: by.rule.id, truth: 'holds', saw: by.saw }],
  };
};
