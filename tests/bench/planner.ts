import { looking } from '../../rules/engine/next-check.ts';
import { permitted } from '../../rules/engine/permits.ts';
import type { PlanNode, PlanWorld } from '../../rules/engine/plan.ts';
import { weigh } from '../../rules/engine/weigh.ts';
import { caseFlat, checkStanding, foldCase, knowledge, lineVolts, machineInHand, prepare } from '../../rules/index.ts';
import type { Answer } from '../../rules/types.ts';
import { ABOUT_THE_PERSON, type Answering } from './worlds.ts';

/** The planner's world of a technician once the gates of a family are answered as a machine without danger signs answers them. */
export async function afterGates(family: string, dryer: Answering): Promise<{ world: PlanWorld; node: PlanNode }> {
  const k = knowledge();
  const answers: Answer[] = [];
  const opened = { audience: 'technician' as const, families: [family], units: 'us' as const };
  const gates = k.families.get(family)!.gates.filter((id) => !k.checks.get(id)!.needs.includes('homeowner-only'));
  for (const id of gates) {
    const check = k.checks.get(id)!;
    const shown = await dryer.answer(check);
    for (const fact of check.settles) {
      const value = ABOUT_THE_PERSON[fact] ?? shown[fact];
      if (value !== undefined && value !== 'cannot')
        answers.push({
          seq: answers.length + 1,
          turn: answers.length + 1,
          act: 'tell',
          fact,
          check: id,
          value,
          said: '',
          by: 'technician',
        });
    }
  }
  const facts = foldCase(k, opened, answers);
  const open = gates.filter((id) => checkStanding(k, facts, k.checks.get(id)!) === 'open');
  if (open.length) throw new Error(`gates still open: ${open}`);
  const hand = machineInHand(k, facts);
  const p = prepare(k, hand);
  const line_v = lineVolts(p, facts);
  const may = (await permitted(p, facts, caseFlat(k, facts, hand), new Set())).checks;
  return looking(p, facts, weigh(p, facts, line_v), may, line_v);
}
