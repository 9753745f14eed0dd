import { looking } from '../../rules/engine/next-check.ts';
import { permitted } from '../../rules/engine/permits.ts';
import { weigh } from '../../rules/engine/weigh.ts';
import { caseFlat, consult, foldCase, knowledge, lineVolts, machineInHand, prepare } from '../../rules/index.ts';
import type { Answer } from '../../rules/types.ts';
import { fixed, optimum, ours } from './optimum.ts';
export async function main(args: string[]) {
  const k = knowledge();
  for (const m of [
    { control_kind: 'dial', heater_coils: 'one' },
    { control_kind: 'dial', heater_coils: 'two' },
    { control_kind: 'buttons', heater_coils: 'one' },
  ]) {
    const gates: Record<string, string> = {
      person_held_or_hurt: 'no',
      trapped_or_caught: 'no',
      hands_inside_live: 'no',
      flame_or_smoke: 'no',
      gas_smell: 'no',
      co_or_unwell: 'no',
      fuel: 'electric',
      smell_kind: 'none',
      shock_kind: 'none',
      shock_places: 'dryer-only',
      house_lights: 'normal',
      wire_down: 'no',
      water_seen: 'no',
      plug_marks: 'clean',
      cord_state: 'sound',
      sparks_or_bang: 'no',
      bridged_device: 'no',
      warm_without_call: 'no',
      heat_drum_still: 'no',
      stop_and_door: 'both-stop-it',
      charred_lint: 'no',
      chewed_wiring: 'no',
      load_danger: 'no',
      breaker_trip: 'never',
      panel_state: 'cool-and-quiet',
      aluminium_heat: 'no',
      generator_near: 'no',
      at_ease: 'yes',
      dryer_kind: 'vented',
      slots: 'four',
      signs_of_life: 'runs',
      ...m,
      qualified: 'yes',
      plate_supply: '120-240',
    };
    const answers: Answer[] = Object.entries(gates).map(([fact, value], i) => ({
      seq: i + 1,
      turn: i + 1,
      act: 'tell',
      fact,
      value,
      said: value,
      by: 'technician',
    }));
    const f = foldCase(k, { audience: 'technician', families: ['no-heat'], units: 'us' }, answers);
    const hand = machineInHand(k, f);
    let t = performance.now();
    const p = prepare(k, hand);
    console.log('prepare', (performance.now() - t).toFixed(1));
    for (let i = 0; i < 40; i++) {
      t = performance.now();
      const c = await consult(p, f);
      console.log('consult', (performance.now() - t).toFixed(1), c.next?.check, c.ahead);
    }
    if (args[0]) {
      const flat = caseFlat(k, f, hand);
      const line = lineVolts(p, f);
      const may = (await permitted(p, f, flat, new Set(), false)).checks;
      for (const scale of [undefined]) {
        const l = looking(p, f, weigh(p, f, line, scale), may, line, scale);
        t = performance.now();
        console.log(
          'fixed',
          fixed(l.world, l.node).toFixed(1),
          'ours',
          ours(l.world, l.node).toFixed(2),
          'ms',
          (performance.now() - t).toFixed(0),
          l.live.length,
        );
        t = performance.now();
        console.log('optimum', optimum(l.world, l.node), (performance.now() - t).toFixed(0));
      }
    }
  }
}
