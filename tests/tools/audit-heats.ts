import { redraw } from '../../rules/engine/variants.ts';
import { buildNet, solve } from '../../rules/physics/index.ts';
import type { Circuit, Knowledge, MachineState } from '../../rules/types.ts';

/** What the heater of a machine takes at least while it heats, as a share of its plate; a timer motor fed through it takes far less. From memory. */
const LEAST_SHARE = 0.05;

/** States in which a sound machine, as drawn and as each variant builds it, does not heat though it should, or heats though it should not. */
export function heatsAmiss(k: Knowledge): string[] {
  return [...k.machines.values()].flatMap((m) =>
    [undefined, ...(m.variants ?? []).map((v) => v.id)].flatMap((variant) => {
      const circuit = variant === undefined ? m : redraw(m, [variant], k.supply.wire_ohm);
      const where = `machines/${m.id}.json${variant === undefined ? '' : `, variants.${variant}`}, closedIn`;
      return [...k.states.values()].flatMap((state) => {
        const should = state.running && state.heatCalled;
        const does = heater_w(k, circuit, state) >= LEAST_SHARE * m.plate.heater_w;
        if (should === does) return [];
        return should
          ? [`${where}: in state "${state.id}", which runs and calls for heat, the heater carries no current`]
          : [`${where}: in state "${state.id}", which calls for no heat, the heater carries current`];
      });
    }),
  );
}

function heater_w(k: Knowledge, circuit: Circuit, state: MachineState): number {
  const solved = solve(buildNet(k.supply, circuit, state));
  const coils = circuit.branches.filter((branch) => branch.kind === 'coil');
  return coils.reduce((watts, coil) => watts + (solved.watts(coil.id) ?? 0), 0);
}
