import { type Dryer, drift } from './dryer.ts';
import { FAULTS } from './faults.ts';
import sound from './sound.json' with { type: 'json' };

/** The 5.4 kW on the plate of all three machines. */
const PLATE_W = 5400;
/**
 * Shares of the plate's watts: under the first the air is cold (430 W in 70 l/s of air are 5 K), under the second lukewarm,
 * under the third a person calls it weak.
 */
const COLD = 0.08;
const LUKEWARM = 0.6;
const WEAK = 0.88;
/** V between the cabinet and earth from which a hand feels it. */
const TINGLE_V = 30;

/** What heat there is, as shares of the plate. undefined = the drum does not turn. */
interface Heat {
  high?: number;
  hot?: number;
  low?: number;
  airOnly?: number;
  still: number;
}
type Sense = (dryer: Dryer, heat: Heat) => string | Promise<string>;

const has = (dryer: Dryer, ...ids: string[]) => ids.some((id) => dryer.faults.includes(id));
const dial = (dryer: Dryer) => dryer.machine.startsWith('dial');
/** A wrong setting ends with any trial that asks for timed high heat. */
const SETTINGS = ['setting-air-only', 'setting-low-heat'];
const holds = async (dryer: Dryer) => ((await heatOf(dryer)).hot ?? 0) >= COLD;
const cutsOut = ({ high = 0, hot = 0 }: Heat) => high >= COLD && hot < COLD;

/** What follows from the circuit: nobody wrote down per fault how warm the air is. */
const FELT: Record<string, Sense> = {
  signs_of_life: async (dryer, { high }) => {
    if (high !== undefined) return 'runs';
    return (await dryer.start_v('run-high')) > 30 ? 'hum-then-click' : 'nothing';
  },
  warmth: (_, heat) => {
    if (heat.high === undefined || heat.high < COLD) return 'never-warm';
    if (cutsOut(heat)) return 'warm-then-cold';
    return heat.high < WEAK ? 'weak-all-through' : 'now-and-then';
  },
  warm_in_5_min: (_, heat) => {
    if (heat.high === undefined) return 'will-not-run';
    if (heat.high < COLD) return 'cold';
    if (cutsOut(heat)) return 'warm-then-cold';
    return heat.high < LUKEWARM ? 'barely-warm' : 'hot';
  },
  // Three trials that put one thing right and leave the rest: the answer is the heat of the dryer without that one fault.
  duct_off_heat: async (dryer) => {
    const { high = 0, hot = 0 } = await heatOf(dryer.without('vent-duct-restricted'));
    if (high < COLD) return 'stays-cold';
    return hot < COLD ? 'still-cuts-out' : 'heat-holds';
  },
  run_after_filter: async (dryer) =>
    has(dryer, 'lint-filter-clogged', ...SETTINGS) && (await holds(dryer.without('lint-filter-clogged')))
      ? 'heat-holds'
      : 'no-change',
  reset_result: async (dryer) =>
    has(dryer, 'breaker-half-tripped', ...SETTINGS) && (await holds(dryer.without('breaker-half-tripped')))
      ? 'works-again'
      : 'still-the-same',
  low_against_high: (_, { high = 0, low = 0 }) => {
    if (high < COLD && low < COLD) return 'both-cold';
    if (low < COLD) return 'low-cold-high-weak';
    return low > 0.8 * high && high < LUKEWARM ? 'low-warm-high-weak' : 'low-cooler-than-high';
  },
  // Timer motor and dropper lie across the thermostat: they turn once it opens, in 20 minutes of good heat or at once where it is broken.
  dial_automatic: async (dryer, heat) => {
    if ((await dryer.volts('run-auto-heat', 'C1', 'C2')) > 60) return 'moves';
    return (heat.high ?? 0) >= LUKEWARM && !cutsOut(heat) && (await dryer.volts('run-auto-satisfied', 'C1', 'C2')) > 60
      ? 'moves'
      : 'still';
  },
  slots: (dryer) => (dryer.hookup === 'three-wire' ? 'three' : 'four'),
  control_kind: (dryer) => (dial(dryer) ? 'dial' : 'buttons'),
  heater_coils: (dryer) => (dryer.machine === 'dial-two-coil' ? 'two' : 'one'),
  house_lights: async (dryer) => {
    const a = await dryer.volts('idle-off', 'PA', 'PN');
    const b = await dryer.volts('idle-off', 'PB', 'PN');
    if (Math.min(a, b) < 60) return 'half-out';
    return Math.abs(a - b) > 15 ? 'bright-and-dim' : 'normal';
  },
  other_240: async (dryer) => ((await dryer.volts('idle-off', 'PA', 'PB')) < 150 ? 'weak-or-dead' : 'normal'),
  // Cabinet against true earth: in a house whose neutral floats, every tap and every metal case stands with it.
  shock_kind: async (dryer) => ((await cabinet(dryer)) > TINGLE_V ? 'tingle' : 'none'),
  shock_places: async (dryer) => ((await dryer.volts('idle-off', 'PN', 'E')) > TINGLE_V ? 'several-things' : 'dryer-only'),
  warm_without_call: (_, { airOnly = 0 }) => (airOnly > COLD ? 'yes' : 'no'),
  heat_drum_still: (_, { still }) => (still > COLD ? 'yes' : 'no'),
  clothes_at_end: (dryer, heat) => {
    if (heat.high === undefined || heat.high < COLD || has(dryer, 'setting-air-only')) return 'cold-and-damp';
    return cutsOut(heat) || heat.high < WEAK || has(dryer, 'setting-low-heat') ? 'warm-and-damp' : 'dry';
  },
  proof_owner_hot_run: (_, { high = 0, hot = 0 }) => (Math.min(high, hot) >= LUKEWARM ? 'good' : 'failed'),
  proof_limit_stays_shut: async (dryer, { hot }) =>
    hot !== undefined && (await dryer.volts('run-high-hot', dryer.has('HC') ? 'HC' : 'HL1', 'HL2')) < 10 ? 'good' : 'failed',
  proof_airflow: (dryer, { high }) =>
    high === undefined || has(dryer, 'vent-duct-restricted', 'lint-filter-clogged', 'blower-wheel-loose') ? 'failed' : 'good',
};
/** Facts a machine does not have. */
const ABSENT: Record<string, (dryer: Dryer) => boolean> = {
  relay_click: dial,
  dial_pointer: (dryer) => !dial(dryer),
  dial_automatic: (dryer) => dryer.machine !== 'dial-single-coil',
  low_against_high: (dryer) => dryer.machine !== 'dial-two-coil',
};

/** Needs a turning drum: a person before a still one has only that to say. */
const TURNING = [
  'hood_air',
  'relay_click',
  'motor_sound',
  'dial_automatic',
  'low_against_high',
  'run_after_filter',
  'duct_off_heat',
  'warm_without_call',
];

/** The facts that can be asked of any dryer. */
export const SENSED: string[] = [...new Set([...Object.keys(sound), ...Object.keys(FELT)])];

/** The truthful answer to one choice fact; 'will-not-run' = the drum stands still; 'cannot' = this machine has no such thing. */
export async function sense(dryer: Dryer, fact: string): Promise<string> {
  if (ABSENT[fact]?.(dryer)) return 'cannot';
  if (TURNING.includes(fact) && !(await dryer.runs('run-high'))) return 'will-not-run';
  for (const id of dryer.faults) {
    const told = FAULTS[id]?.told?.[fact];
    if (told !== undefined && !(await overruled(dryer, id, fact))) return pick(told, dryer.seed, fact);
  }
  const felt = FELT[fact];
  if (felt) return felt(dryer, await heatOf(dryer));
  return (sound as Record<string, string>)[fact] ?? 'cannot';
}

const BY_HEAT = ['warmth', 'low_against_high', 'dial_automatic'];

/** With two faults at once, what one would show by its heat is only true if the other leaves heat to show it. */
async function overruled(dryer: Dryer, id: string, fact: string): Promise<boolean> {
  return BY_HEAT.includes(fact) && ((await heatOf(dryer.without(id))).high ?? 0) < COLD;
}

async function cabinet(dryer: Dryer): Promise<number> {
  const volts = [];
  for (const state of ['idle-off', 'idle-heat', 'run-high']) volts.push(await dryer.volts(state, 'G', 'E'));
  return Math.max(...volts);
}

async function heatOf(dryer: Dryer): Promise<Heat> {
  const share = async (state: string) => {
    const watts = await dryer.heat_w(state);
    return watts === undefined ? undefined : watts / PLATE_W;
  };
  return {
    high: await share('run-high'),
    hot: await share('run-high-hot'),
    low: await share('run-low'),
    airOnly: await share('run-noheat'),
    still: (await share('idle-heat')) ?? 0,
  };
}

function pick(told: string | string[], seed: number, fact: string): string {
  if (typeof told === 'string') return told;
  return told[Math.floor(((drift(seed, fact) + 1) / 2) * told.length * 0.999)] ?? told[0] ?? 'cannot';
}
