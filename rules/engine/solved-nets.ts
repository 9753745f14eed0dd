import { buildNet, type Solved, solve, takesHold } from '../physics/index.ts';
import type { Circuit, Effect, MachineState } from '../types.ts';
import { type Corner, type Model, nameOf, remembered } from './model.ts';

const NETS_KEPT = 2_000;

/** What a machine is in when it is solved. */
export interface Condition {
  circuit: Circuit;
  state: MachineState;
  /** What the faults do to it, and how many times the ohms the knowledge gives them. */
  effects: readonly Effect[];
  times: number;
  corner: Corner;
  /** Id of the lead that is off. */
  lifted: string | undefined;
}

/** The net of supply and machine in one condition, solved once: every reading in it comes out of that. */
export function solvedNet(model: Model, { circuit, state, effects: drawn, times, corner, lifted }: Condition): Solved {
  const effects = spread(drawn, times);
  const name = nameOf(circuit);
  const key = `${name}|${state.id}|${JSON.stringify(effects)}|${corner}|${lifted ?? ''}`;
  return remembered(model.had.nets, NETS_KEPT, key, () =>
    solve(
      buildNet(model.knowledge.supply, circuit, state, {
        hookup: model.hookup,
        system: model.machine.system,
        coil: model.coils.get(name)![corner],
        effects,
        parts: corner,
        lifts: lifted ? [lifted] : [],
      }),
    ),
  );
}

/** All that these faults may come to on a circuit: as drawn first, then every other member of each of them. */
export function membersOf({ knowledge }: Model, circuit: Circuit, faults: readonly string[]): [Effect[], ...Effect[][]] {
  const all = faults.map((id) => knowledge.faults.get(id)).filter((f) => f !== undefined);
  const out: [Effect[], ...Effect[][]] = [all.flatMap((f) => f.effects)];
  for (const fault of all)
    for (const member of fault.members ?? [])
      if (member.some((e) => takesHold(knowledge.supply, circuit, e)))
        out.push(all.flatMap((f) => (f === fault ? member : f.effects)));
  return out;
}

/** Does a fault put ohms of its own into the circuit? Those are never known to a part: they have a spread. */
export const hasOhms = (effects: readonly Effect[]): boolean =>
  effects.some((e) => ('branch' in e && typeof e.ohm === 'number') || 'add' in e || 'touch' in e);

const spread = (effects: readonly Effect[], times: number): Effect[] =>
  effects.map((e) => {
    if ('branch' in e && typeof e.ohm === 'number') return { branch: e.branch, ohm: e.ohm * times };
    if ('add' in e) return { add: [e.add[0], e.add[1], e.add[2] * times] };
    if ('touch' in e) return { touch: [e.touch[0], e.touch[1], e.touch[2], e.touch[3] * times] };
    return e;
  });
