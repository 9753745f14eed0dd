import type { Ask, Meaning, Understood } from '../../server/types.ts';
import { understand } from '../../server/understand/index.ts';

type Out = Record<string, unknown>;

const FAMILY: Record<string, string> = {
  'no-heat': 'no-heat',
  'low-heat-long-dry': 'slow-dry',
  'shuts-off-early': 'stops-early',
  overheats: 'too-hot',
  'will-not-start': 'wont-start',
  'hums-no-turn': 'hums',
  'drum-not-turning': 'drum-not-turning',
  noise: 'noise',
  'trips-breaker': 'trips-breaker',
  'burning-smell': 'burning-smell',
  'will-not-stop': 'wont-stop',
  shock: 'shock',
  other: 'other',
};
const INTENT: Record<string, string> = {
  correct: 'correct',
  undo: 'undo',
  restart: 'restart',
  later: 'skip',
  why: 'why',
  'what-is-that': 'help',
  help: 'help',
  safe: 'safety',
  'may-use': 'safety',
  cost: 'cost',
  person: 'book',
  stop: 'stop',
  unsure: 'dontknow',
  'no-meter': 'nometer',
  declined: 'refuse',
  wait: 'wait',
  done: 'done',
  'made-safe': 'done',
  'repeat-question': 'repeat',
  thanks: 'social',
  greeting: 'social',
  'off-topic': 'offtopic',
  robot: 'social',
  abuse: 'abuse',
  language: 'language',
  'how-long': 'how-long',
  qualified: 'qualified',
  'in-progress': 'wait',
  yes: 'done',
  no: 'refuse',
};
const HAZARD: Record<string, string> = {
  flame_or_smoke: 'fire',
  gas_smell: 'gas-smell',
  co_or_unwell: 'co-symptoms',
  shock_kind: 'shock',
  shock_places: 'shock',
  water_seen: 'water',
  plug_marks: 'hot-plug',
  smell_kind: 'burning-smell',
  sparks_or_bang: 'sparks',
  bridged_device: 'bypass',
  warm_without_call: 'uncontrolled-heat',
  heat_drum_still: 'uncontrolled-heat',
  stop_and_door: 'door-open-running',
  charred_lint: 'charred-lint',
  hands_inside_live: 'hands-inside',
  load_danger: 'solvent-load',
  generator_near: 'generator',
  wire_down: 'wire-down',
  cord_state: 'damaged-cord',
  person_held_or_hurt: 'injury',
  trapped_or_caught: 'trapped',
  panel_state: 'hot-panel',
  chewed_wiring: 'chewed-wiring',
  aluminium_heat: 'aluminium',
  person_down: 'injury',
  burnt_hand: 'injury',
  wall_hot: 'hot-plug',
  in_the_load: 'solvent-load',
  ground_state: 'damaged-cord',
};

function hazardWord(h: Extract<Meaning, { is: 'hazard' }>, noted: Map<string, unknown>): string | undefined {
  if (h.fact === 'breaker_number') return 'oversize-breaker';
  if (noted.has('wet_live_work') && (h.fact === 'hands_inside_live' || h.fact === 'water_seen')) return 'wet-live-work';
  if (h.fact === 'house_lights') return h.value === 'half-out' ? 'half-house-out' : 'open-neutral';
  // a trip again, or a fear of it, is no danger word of that vocabulary
  if (h.fact === 'breaker_trip' || h.fact === 'at_ease') return undefined;
  if (h.fact === 'shock_kind' && h.value === 'one-snap') return undefined;
  return HAZARD[h.fact];
}

/** What was understood, in the vocabulary of the files of utterances. */
export function inWords(u: Understood, ask: Ask | undefined, expects: string): Out {
  const out: Out = {};
  // A danger worth one short question is heeded, though nothing stops at once.
  if (u.acts.some((m) => m.is === 'suspected')) out.asksDanger = true;
  const noted = new Map<string, unknown>();
  for (const m of u.acts) if (m.is === 'noted' || m.is === 'answer') noted.set(m.fact, m.value);
  const hazards = [...new Set(u.acts.flatMap((m) => (m.is === 'hazard' ? [hazardWord(m, noted)] : [])).filter(Boolean))];
  // "yes" to "is there a burning smell?" is that danger
  const yes = u.acts.find((m) => m.is === 'answer' && m.fact === 'yes-no' && m.value === 'yes');
  if (yes && ask && hazards.length === 0)
    for (const m of understand(ask.text.replace(/^(is|are) there (an? )?/i, ''), undefined, 'homeowner', {}).acts)
      if (m.is === 'hazard') hazards.push(hazardWord(m, noted));
  const back = u.acts.find((m) => m.is === 'ambiguous');
  const talk = u.acts.filter((m) => m.is === 'talk');
  const families = familiesOf(u, noted, hazards as string[]);
  if (back?.is === 'ambiguous')
    Object.assign(out, { ambiguous: true, askBack: back.question, candidates: back.options.map((o) => o.label) });

  if (expects === 'complaint') {
    if (families.length === 0 && hazards.length === 0) {
      const lang = talk.find((t) => t.what === 'language');
      if (lang) return { ...out, language: lang.of, intent: 'language' };
      const first = talk.find((t) => t.what !== 'help' && t.what !== 'unsure');
      if (!first || back)
        return { ambiguous: true, askBack: back?.is === 'ambiguous' ? back.question : 'What does the dryer do?' };
      return { ...out, intent: INTENT[first.what] };
    }
    return {
      ...out,
      families,
      facts: { ...factsOf(noted), ...(hazards.length > 0 ? { hazard: hazards[0] } : {}) },
      ...(hazards.length > 1 ? { hazards } : {}),
    };
  }
  for (const m of u.acts) if (m.is === 'reading') addReading(out, m, ask, expects);
  for (const m of u.acts) if (m.is === 'plate') addPlate(out, m, noted);
  const choice = u.acts.find((m) => m.is === 'answer' && (m.fact === 'choice' || m.fact === 'yes-no'));
  if (choice?.is === 'answer') {
    if (choice.fact === 'choice') out.choice = choice.value;
    else {
      out.answer = choice.value;
      if (choice.sure === false) out.sure = false;
    }
  }
  if (noted.has('had_tripped')) out.hadTripped = true;
  if (noted.get('other_240') === 'weak-or-dead') out.fact = 'range also weak';
  if (noted.has('hood_screen')) out.fact = 'screen fitted on hood';
  if (hazards.length > 0) out.hazard = hazards[0];
  if (expects === 'length') addLength(out, noted);
  if (expects === 'minutes' && noted.has('cycles_to_dry')) out.cyclesToDry = noted.get('cycles_to_dry');
  if (expects === 'plate' && noted.get('circuit_amps')) out.circuitAmps = noted.get('circuit_amps');
  if (noted.has('cold_place')) out.certain = { coldPlace: true };
  const told = talk.filter((t) => INTENT[t.what] && !(out.answer && (t.what === 'yes' || t.what === 'no')));
  const intent = told.find((t) => t.what === 'correct') ?? told.find((t) => t.what === 'language') ?? told[0];
  if (expects === 'airspeed' && out.value === undefined && noted.has('hood_air')) out.qualitative = noted.get('hood_air');
  if (intent?.what === 'wait' && ask?.check === 'yes-no') out.answer = 'inprogress';
  if (intent?.what === 'in-progress' && ask?.check === 'yes-no') out.answer = 'inprogress';
  else if (intent?.what === 'unsure' && expects === 'yesno' && !out.answer) out.answer = 'unsure';
  else if (intent && !(intent.what === 'unsure' && out.ambiguous)) {
    out.intent = INTENT[intent.what];
    if (intent.of === 'bypass') Object.assign(out, { about: 'bypass', mustRefuse: true });
    if (intent.of === 'use') out.about = 'keep using';
    if (
      expects === 'yesno' &&
      (intent.what === 'no-meter' || (intent.what === 'what-is-that' && /meter/.test(ask?.text ?? ''))) &&
      !out.answer
    )
      out.answer = 'no';
  } else if (hazards.length > 0 && !out.answer && Object.keys(out).length === 1) out.intent = 'hazard';
  if (Object.keys(out).length === 0) return { ambiguous: true, askBack: 'Please say that in other words.' };
  return out;
}

function familiesOf(u: Understood, noted: Map<string, unknown>, hazards: string[]): string[] {
  let list = u.acts.flatMap((m) => (m.is === 'complaint' ? [FAMILY[m.family] ?? m.family] : []));
  if (noted.get('stops_how') === 'dies') list = list.map((f) => (f === 'stops-early' ? 'works-then-stops' : f));
  if (noted.get('warmth') === 'warm-then-cold' || noted.get('warmth') === 'now-and-then')
    list = list.map((f) => (f === 'no-heat' ? 'works-then-stops' : f));
  if (
    noted.get('heated_here_before') === 'never' &&
    noted.get('how_began') === 'since-new' &&
    list.every((f) => f === 'no-heat' || f === 'wont-start' || f === 'slow-dry')
  )
    list = ['new-install-never-worked'];
  if (hazards.includes('gas-smell')) list.push('gas-smell');
  if (hazards.includes('fire') || hazards.includes('sparks') || hazards.includes('charred-lint')) list.push('burning-smell');
  if (u.acts.some((m) => m.is === 'hazard' && m.fact === 'breaker_trip')) list.push('trips-breaker');
  if (u.acts.some((m) => m.is === 'talk' && m.what === 'not-a-dryer')) list.push('not-dryer');
  if (list.length === 0 && hazards.length > 0) list.push('other');
  return [...new Set(list)];
}

function factsOf(n: Map<string, unknown>): Out {
  const out: Out = {};
  const yes = (fact: string, name: string) => n.has(fact) && Object.assign(out, { [name]: n.get(fact) === 'yes' });
  const as = (fact: string, name: string, words?: Record<string, unknown>) =>
    n.has(fact) && Object.assign(out, { [name]: words ? words[String(n.get(fact))] : n.get(fact) });
  as('heat_felt', 'heat', { none: 'none', some: 'some', 'too-hot': 'too hot', normal: 'normal' });
  yes('drum_turns', 'drumTurns');
  as('fuel', 'energy');
  as('hood_air', 'airflow', { none: 'none', weak: 'weak', strong: 'normal' });
  if (n.has('filter_look')) out.filterClean = n.get('filter_look') === 'clean';
  yes('display_lit', 'displayLights');
  yes('drum_light', 'drumLight');
  yes('timed_dry_ok', 'timedDryOk');
  yes('ground_fault_device', 'groundFaultDevice');
  yes('breaker_reset', 'breakerReset');
  yes('intermittent', 'intermittent');
  yes('tank_full', 'tankFull');
  yes('ventless', 'ventless');
  yes('recent_install', 'recentInstall');
  as('duct_length_ft', 'ventLengthFt');
  as('vent_material', 'ventMaterial', {
    'foil-flex': 'foil flex',
    'plastic-flex': 'plastic flex',
    'rigid-metal': 'rigid metal',
    'semi-rigid-metal': 'semi-rigid metal',
  });
  as('cycles_to_dry', 'cyclesToDry');
  as('dry_time_min', 'dryTimeMin');
  as('stops_after_min', 'stopsAfterMin');
  return out;
}

function addReading(out: Out, m: Extract<Meaning, { is: 'reading' }>, ask: Ask | undefined, expects: string): void {
  if (m.approx) out.approx = true;
  const loaded = /_heat$|coil_volts/.test(m.fact ?? '');
  if (m.what === 'volts') {
    const key = !m.fact
      ? { 'leg to leg': 'acrossLegs', 'L1 to neutral': 'legA', 'L2 to neutral': 'legB' }[m.pointsSaid ?? '']
      : /between_legs/.test(m.fact)
        ? 'acrossLegs'
        : /motor_leg/.test(m.fact)
          ? 'legA'
          : /other_leg/.test(m.fact)
            ? 'legB'
            : m.fact === 'coil_volts'
              ? 'acrossHeater'
              : m.fact === 'neutral_to_ground'
                ? 'neutralGround'
                : 'volts';
    if (key) out[key] = m.value;
    if (key !== 'neutralGround') out.loaded = loaded;
    return;
  }
  if (m.what === 'ohms') {
    const closed = m.value === 'beep' ? 'short' : m.value === 'no-beep' ? 'open' : m.value;
    const raw = m.leadsTakenOff;
    out.ohms = closed;
    if (raw !== undefined) out.leads = raw;
    if (m.at_c !== undefined) out.atC = m.at_c;
    return;
  }
  if (m.what === 'amps') {
    const key =
      m.fact === 'amps_leg_a' ? 'legA' : m.fact === 'amps_leg_b' ? 'legB' : m.fact === 'amps_neutral' ? 'neutral' : 'amps';
    out[key] = m.value;
    if (m.peak !== undefined) out.inrush = m.peak;
    return;
  }
  if (m.what === 'minutes') {
    if (expects === 'minutes') out.minutes = m.value;
    return;
  }
  if (ask?.reads.some((r) => r.fact === m.fact)) {
    out.value = m.saidValue ?? m.value;
    if (m.what === 'temperature') out.unit = m.saidUnit === '°F' ? 'F' : 'C';
    else out.unit = m.saidUnit ?? m.unit;
    if (m.unitInferred) out.unitInferred = true;
  }
}

function addPlate(out: Out, m: Extract<Meaning, { is: 'plate' }>, noted: Map<string, unknown>): void {
  if (m.volts !== undefined) out.plateVolts = noted.get('plate_volts_said') ?? m.volts;
  if (m.total_w !== undefined) out.plateWatts = m.total_w;
  if (m.amps !== undefined) out.plateAmps = m.amps;
  if (noted.get('dryer_kind') === 'heat-pump') Object.assign(out, { machine: 'heat pump', energy: 'electric' });
}

function addLength(out: Out, noted: Map<string, unknown>): void {
  if (noted.has('duct_length_ft')) out.lengthFt = noted.get('duct_length_ft');
  if (noted.has('elbows')) out.elbows90 = noted.get('elbows');
  const material = factsOf(noted).ventMaterial;
  if (material) out.material = material;
  if (noted.get('vent_route')) out.route = 'attic';
}
