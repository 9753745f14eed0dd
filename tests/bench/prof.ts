import { consult, foldCase, knowledge, machineInHand, prepare } from '../../rules/index.ts';
import type { Answer } from '../../rules/types.ts';
export async function main() {
  const k = knowledge();
  const gates: Record<string, string> = { person_held_or_hurt: 'no', trapped_or_caught: 'no', hands_inside_live: 'no', flame_or_smoke: 'no', gas_smell: 'no', co_or_unwell: 'no', fuel: 'electric', smell_kind: 'none', shock_kind: 'none', shock_places: 'dryer-only', house_lights: 'normal', wire_down: 'no', water_seen: 'no', plug_marks: 'clean', cord_state: 'sound', sparks_or_bang: 'no', bridged_device: 'no', warm_without_call: 'no', heat_drum_still: 'no', stop_and_door: 'both-stop-it', charred_lint: 'no', chewed_wiring: 'no', load_danger: 'no', breaker_trip: 'never', panel_state: 'cool-and-quiet', aluminium_heat: 'no', generator_near: 'no', at_ease: 'yes', dryer_kind: 'vented', slots: 'four', signs_of_life: 'runs', control_kind: 'dial', heater_coils: 'one', qualified: 'yes', plate_supply: '120-240' };
  const answers: Answer[] = Object.entries(gates).map(([fact, value], i) => ({ seq: i + 1, turn: i + 1, act: 'tell', fact, value, said: value, by: 'technician' }));
  const f = foldCase(k, { audience: 'technician', families: ['no-heat'], units: 'us' }, answers);
  const hand = machineInHand(k, f);
  let t = performance.now();
  const p = prepare(k, hand);
  console.log('prepare', (performance.now() - t).toFixed(1));
  for (let i = 0; i < 6; i++) {
    t = performance.now();
    const c = await consult(p, f);
    console.log('consult', (performance.now() - t).toFixed(1), c.next?.check, c.ahead);
  }
}
