import complaints from './complaints.json' with { type: 'json' };
import { type Dryer, drift } from './dryer.ts';
import { namesFor } from './faults.ts';
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
/** V from the motor leg to neutral under which lamp and display stay dark. */
const DARK_V = 60;
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
const dial = (dryer: Dryer) => namesFor(dryer.machine).includes('dial');
const twoCoil = (dryer: Dryer) => namesFor(dryer.machine).includes('two-coil');
/** A wrong setting ends with any trial that asks for timed high heat. */
const SETTINGS = ['setting-air-only', 'setting-low-heat'];
const holds = async (dryer: Dryer) => ((await heatOf(dryer)).hot ?? 0) >= COLD;
const cutsOut = ({ high = 0, hot = 0 }: Heat) => high >= COLD && hot < COLD;

/** Lamp and display have their volts, the dial on. */
const lit = async (dryer: Dryer) => !(await dryer.trips('idle-heat')) && (await dryer.volts('idle-heat', 'L1', 'N')) > DARK_V;
const said = async (dryer: Dryer, fact: string, answer: string) => (await sense(dryer, fact)) === answer;
const goodIf = (...wants: [fact: string, answer: string][]): Sense => {
  return async (dryer) => {
    for (const [fact, answer] of wants) if (!(await said(dryer, fact, answer))) return 'failed';
    return 'good';
  };
};
/** OL, as a reading between two points with the plug out has to be, or as good as nothing. */
const ohmsAre = async (dryer: Dryer, a: string, b: string, want: 'open' | 'closed', state = 'unplugged-off', lift?: string) => {
  const shown = await dryer.measure({ what: 'ohms', points: [a, b], state, ...(lift && { lift }) });
  return shown === 'cannot' || (want === 'open' ? shown === 'open' || Number(shown) > 1e6 : Number(shown) < 1);
};

/** What follows from the circuit: nobody wrote down per fault how warm the air is. */
const FELT: Record<string, Sense> = {
  signs_of_life: async (dryer, { high }) => {
    if (high !== undefined) return 'runs';
    if (await dryer.trips('idle-off')) return 'nothing';
    // It gets away, and the breaker lets go.
    if (dryer.motor === 'turns' && (await dryer.trips('run-high'))) return 'runs';
    if (dryer.motor !== 'dead' && (await dryer.start_v('run-high')) > TINGLE_V) return 'hum-then-click';
    return (await lit(dryer)) ? 'lamp-only' : 'nothing';
  },
  console_sign: async (dryer) => ((await lit(dryer)) ? 'none' : 'blank'),
  lamp_when_stopped: async (dryer) => ((await lit(dryer)) ? 'stays-on' : 'goes-out'),
  door_latch: async (dryer) => ((await lit(dryer)) ? 'clicks-lamp-changes' : 'lamp-stuck'),
  restart: async (dryer) => ((await said(dryer, 'signs_of_life', 'runs')) ? 'at-once' : 'not-at-all'),
  drum_turns: async (dryer) => ((await said(dryer, 'signs_of_life', 'runs')) ? 'yes' : 'no'),
  dial_timed: async (dryer) => ((await dryer.volts('run-high', 'T3', 'N')) > DARK_V ? 'moves' : 'still'),
  trip_when: async (dryer) => {
    if (await dryer.trips('idle-off')) return 'at-plug-in';
    if ((await dryer.trips('idle-heat')) || (await dryer.trips('run-noheat'))) return 'at-start';
    return (await dryer.trips('run-high')) ? 'when-heat-starts' : 'never';
  },
  // Who has come about it has mostly tried again; a breaker that only lets go warm holds at first.
  breaker_trip: async (dryer) => {
    const when = await sense(dryer, 'trip_when');
    if (when === 'never') return dryer.complaint === 'trips-breaker' ? 'once-and-held' : 'never';
    const late = when === 'after-10-40-min';
    return late || dryer.complaint !== 'trips-breaker'
      ? 'once-and-held'
      : pick(['again-after-reset', 'once-and-held'], dryer.seed, 'breaker_trip');
  },
  heat_pattern: (_, heat) => (cutsOut(heat) ? 'short-bursts' : 'steady'),
  outlet_log: (_, heat) => {
    if ((heat.high ?? 0) < COLD) return 'below-band';
    return cutsOut(heat) ? 'limit-cycles-it' : 'cycles-in-band';
  },
  noise_when: async (dryer) => ((await said(dryer, 'noise_kind', 'none')) ? 'no-noise' : 'from-start'),
  smell_when: async (dryer) => ((await said(dryer, 'smell_kind', 'none')) ? 'no-smell' : 'with-heat'),
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
  heater_coils: (dryer) => (twoCoil(dryer) ? 'two' : 'one'),
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
  clothes_at_end: async (dryer, heat) => {
    if (heat.high === undefined || heat.high < COLD || has(dryer, 'setting-air-only')) return 'cold-and-damp';
    if (cutsOut(heat) || heat.high < WEAK || has(dryer, 'setting-low-heat')) return 'warm-and-damp';
    if (dryer.complaint === 'overheats') return 'too-hot';
    if (dryer.complaint !== 'low-heat-long-dry') return 'dry';
    return (await said(dryer, 'hood_air', 'strong')) ? 'warm-and-damp' : 'hot-and-damp';
  },
  proof_owner_hot_run: (_, { high = 0, hot = 0 }) => (Math.min(high, hot) >= LUKEWARM ? 'good' : 'failed'),
  proof_limit_stays_shut: async (dryer, { hot }) =>
    hot !== undefined && (await dryer.volts('run-high-hot', dryer.has('HC') ? 'HC' : 'HL1', 'HL2')) < 10 ? 'good' : 'failed',
  // Nothing was put right yet: a trial after the repair fails as long as what it looks at is wrong.
  proof_airflow: goodIf(['hood_air', 'strong'], ['wheel_on_shaft', 'turns-as-one'], ['filter_look', 'clean']),
  proof_hood_strong: goodIf(['hood_air', 'strong']),
  proof_torque: goodIf(['block_seen', 'clean-and-tight']),
  proof_strap: goodIf(['strap_and_wires', 'as-sheet']),
  proof_tabs: goodIf(['tabs_seen', 'tight-and-bright'], ['motor_tabs_seen', 'tight-and-bright']),
  proof_stamps: goodIf(['rating_stamps', 'same']),
  proof_no_bypass: goodIf(['bridged_device', 'no']),
  proof_drum_free: goodIf(['drum_by_hand', 'even-drag'], ['drum_gap', 'even'], ['belt_seen', 'whole']),
  proof_duct_refit: goodIf(['transition_seen', 'round-and-on']),
  proof_plug_warmth: goodIf(['plug_seen', 'clean'], ['plug_marks', 'clean']),
  proof_joints: goodIf(['plug_seen', 'clean'], ['block_seen', 'clean-and-tight'], ['sag_at_start', 'small']),
  proof_run_15: goodIf(
    ['signs_of_life', 'runs'],
    ['minutes_to_stop', 'does-not-stop'],
    ['smell_kind', 'none'],
    ['noise_kind', 'none'],
  ),
  proof_auto_ends: goodIf(['signs_of_life', 'runs'], ['after_end', 'stops'], ['timed_or_automatic', 'same-on-both']),
  proof_usual_load: goodIf(['signs_of_life', 'runs'], ['clothes_at_end', 'dry'], ['minutes_to_stop', 'does-not-stop']),
  proof_temperature: goodIf(['outlet_log', 'cycles-in-band'], ['clothes_at_end', 'dry']),
  proof_green: async (dryer) => {
    const amps = await dryer.measure({ what: 'amps', branch: 'cordG', state: 'run-high' });
    return amps === 'will-not-run' || Number(amps) < 0.1 ? 'good' : 'failed';
  },
  proof_legs_then_case: async (dryer) => ((await cabinet(dryer)) > 2 ? 'failed' : 'good'),
  proof_ground_path: async (dryer) => {
    const held = dryer.hookup === 'three-wire' ? ohmsAre(dryer, 'G', 'PLN', 'closed') : ohmsAre(dryer, 'G', 'PLG', 'closed');
    return (await held) ? 'good' : 'failed';
  },
  proof_insulation: async (dryer) => {
    const motor = dial(dryer) ? 'T3' : 'KM';
    for (const post of [motor, 'L1', 'L2'])
      if (!(await ohmsAre(dryer, post, 'G', 'open', 'unplugged-start', 'bond-strap'))) return 'failed';
    return 'good';
  },
  proof_coil_case: async (dryer) => {
    const end = dryer.machine === 'dial-two-coil' ? 'TC2' : 'E2';
    return (await ohmsAre(dryer, end, 'G', 'open', 'unplugged-off', 'bond-strap')) ? 'good' : 'failed';
  },
  proof_coil_band: async (dryer) => {
    const [a, b, lift]: [string, string, string?] =
      dryer.machine === 'dial-two-coil' ? ['H1', 'H2', 'coil-2-lead'] : ['E1', 'E2'];
    const shown = await dryer.measure({ what: 'ohms', points: [a, b], state: 'unplugged-off', ...(lift && { lift }) });
    const nominal = lift ? 41.5 : 10.4;
    return Math.abs(Number(shown) - nominal) < 0.1 * nominal ? 'good' : 'failed';
  },
};
/** Facts a machine does not have. */
const ABSENT: Record<string, (dryer: Dryer) => boolean> = {
  relay_click: dial,
  dial_pointer: (dryer) => !dial(dryer),
  dial_automatic: (dryer) => dryer.machine !== 'dial-single-coil',
  dial_timed: (dryer) => !dial(dryer),
  thermostat_warmed: (dryer) => !dial(dryer),
  low_against_high: (dryer) => !twoCoil(dryer),
  ...Object.fromEntries(['lock_cleared', 'power_cycle', 'board_seen', 'board_output'].map((fact) => [fact, dial])),
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
  'hood_flap',
  'closet_door',
  'lean_on_door',
  'dial_timed',
  'duct_off_air',
  'static_pressure',
  'outlet_log',
];

const SOUND: Record<string, string> = sound;
/** The well answers of facts that follow from the circuit. */
const WELL: Record<string, string> = { shock_kind: 'none', trip_when: 'never', clothes_at_end: 'dry' };

/** The facts that can be asked of any dryer. */
export const SENSED: string[] = [...new Set([...Object.keys(sound), ...Object.keys(FELT)])];

/** The truthful answer to one choice fact; 'will-not-run' = the drum stands still; 'cannot' = this machine has no such thing. */
export async function sense(dryer: Dryer, fact: string): Promise<string> {
  if (ABSENT[fact]?.(dryer)) return 'cannot';
  if (TURNING.includes(fact) && !(await dryer.runs('run-high'))) return 'will-not-run';
  const without = NOTHING_WITHOUT[fact];
  if (without && (await said(dryer, without, 'none'))) return String(SOUND[fact]);
  for (const id of dryer.faults) {
    const told = dryer.fault(id)?.told?.[fact];
    if (told !== undefined && !(await overruled(dryer, id, fact)))
      return pick(fitting(told, fact, dryer.complaint), dryer.seed, fact);
  }
  const felt = FELT[fact];
  if (felt) return felt(dryer, await heatOf(dryer));
  return SOUND[fact] ?? 'cannot';
}

/** When and where of a noise or a smell: nothing to tell without one. */
const NOTHING_WITHOUT: Record<string, string> = {
  smell_when: 'smell_kind',
  noise_when: 'noise_kind',
  noise_by_hand: 'noise_kind',
};

/**
 * What a fault sometimes shows and sometimes does not: who came about that very thing has it, who came about another has not.
 * (clothes that dry, a cabinet that does not tingle, and so on).
 */
function fitting(told: string | string[], fact: string, complaint = 'no-heat'): string | string[] {
  const about = Object.entries(complaints).filter(([, facts]) => facts.includes(fact));
  const well = SOUND[fact] ?? WELL[fact];
  if (about.length === 0 || typeof told === 'string' || !told.includes(String(well))) return told;
  return about.some(([family]) => family === complaint) ? told.filter((answer) => answer !== well) : String(well);
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

/** The likeliest with seed 0, which stands first; else the earlier ones the more often. */
function pick(told: string | string[], seed: number, fact: string): string {
  if (typeof told === 'string') return told;
  const at = seed === 0 ? 0 : ((drift(seed, fact) + 1) / 2) ** 2 * 0.999;
  return told[Math.floor(at * told.length)] ?? 'cannot';
}

/** The facts that follow from the circuit, whatever the table says of a fault. */
export const CIRCUIT_FACTS: readonly string[] = Object.keys(FELT);
