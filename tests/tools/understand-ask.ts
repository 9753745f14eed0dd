import type { Unit } from '../../rules/types.ts';
import type { Ask } from '../../server/types.ts';

/** One item of a file of utterances: the neutral question, its kind, the choices shown, and what was said. */
export interface Item {
  id: string;
  role: 'homeowner' | 'agent' | 'technician';
  asked: string;
  expects: string;
  text: string;
  options?: string[];
  meaning?: unknown;
}

const BLANK = { check: 'opening', text: '', why: '', cautions: [], min: 1, covers: [], stateWords: '', choices: [], reads: [] };

/** The open question as the server would hold it, made from the neutral words of the item alone. */
export function askOf(item: Pick<Item, 'asked' | 'expects' | 'options'>): Ask | undefined {
  const text = item.asked;
  const q = text.toLowerCase();
  const reads = (fact: string, unit: Unit, label = text): Ask => ({
    ...BLANK,
    kind: 'readings',
    check: fact,
    text,
    reads: [{ fact, label, unit, points: ['', ''], pointWords: '' }],
  });
  switch (item.expects) {
    case 'complaint':
      return undefined;
    case 'yesno':
      return yesNo(text);
    case 'choice':
      return {
        ...BLANK,
        kind: 'one',
        check: 'choice',
        text,
        choices: (item.options ?? []).map((label) => ({ id: label, label })),
      };
    case 'volts':
      return volts(text, q);
    case 'ohms':
      return { ...reads(ohmsFact(q), 'Ω'), ...(/cord/.test(q) ? {} : {}) };
    case 'amps':
      if (/each hot|and the neutral/.test(q))
        return {
          ...BLANK,
          kind: 'readings',
          check: 'amps',
          text,
          reads: ['amps_leg_a', 'amps_leg_b', 'amps_neutral'].map((fact, i) => ({
            fact,
            label: ['left L1', 'right L2', 'neutral'][i] ?? '',
            unit: 'A',
            points: ['', ''],
            pointWords: '',
          })),
        };
      return reads('heater_amps', 'A');
    case 'temperature':
      return reads(/room/.test(q) ? 'room_temperature' : 'exhaust_temperature', '°C');
    case 'airspeed':
      return reads('air_speed', 'm/s');
    case 'pressure':
      return reads('duct_pressure', 'Pa');
    case 'minutes':
      return reads('minutes', 'min');
    case 'length':
      return reads('duct_length_ft', '1');
    case 'plate':
      return { ...BLANK, kind: 'one', check: 'plate', text };
    default:
      if (/\(ohms\)/.test(q)) return reads(ohmsFact(q), 'Ω');
      if (/voltage|volts/.test(q)) return volts(text, q);
      if (/^(is|are|does|do|can|have|has|did) /.test(q)) return yesNo(text);
      if (/say when done|unplug/.test(q)) return { ...BLANK, kind: 'one', check: 'say-when-done', text, choices: [] };
      return { ...BLANK, kind: 'one', check: 'free', text };
  }
}

function yesNo(text: string): Ask {
  return {
    ...BLANK,
    kind: 'one',
    check: 'yes-no',
    text,
    choices: [
      { id: 'yes', label: 'Yes' },
      { id: 'no', label: 'No' },
    ],
  };
}

function ohmsFact(q: string): string {
  if (/thermistor|ntc|sensor/.test(q)) return 'thermistor_ohms';
  if (/bias/.test(q)) return 'bias_heater_ohms';
  if (/case|chassis|cabinet|ground/.test(q)) return 'coil_end_1_to_case_ohms';
  if (/cut-?off|fuse/.test(q)) return 'cut_off_ohms';
  if (/limit/.test(q)) return 'limit_ohms';
  if (/cycling|thermostat/.test(q)) return 'cycling_ohms';
  if (/timer/.test(q)) return 'timer_contact_ohms';
  if (/cord|conductor/.test(q)) return 'cord_neutral_ohms';
  if (/motor switch|centrifugal|switch|relay|contact/.test(q)) return 'motor_contact_at_rest_ohms';
  return 'coil_ohms';
}

function volts(text: string, q: string): Ask {
  const at = /running|load|heat/.test(q) && !/nothing running|heater running: no/.test(q) ? 'heat' : 'receptacle';
  const facts: [string, string][] = [];
  const across = /between the two (outer|hot)|leg to leg|between legs|and between the two|between the two outer/.test(q);
  const left = /left outer slot to neutral|each outer slot|each (leg|hot)|left .*to neutral|l1 (to|and) neutral|leg a/.test(q);
  const right = /right outer slot to neutral|each outer slot|each (leg|hot)|right .*to neutral|l2 (to|and) neutral|leg b/.test(q);
  if (left) facts.push([`motor_leg_to_neutral_${at}`, 'left']);
  if (right) facts.push([`other_leg_to_neutral_${at}`, 'right']);
  if (across) facts.push([`between_legs_${at}`, 'across']);
  if (facts.length === 0) {
    if (/neutral and ground|neutral to ground/.test(q)) facts.push(['neutral_to_ground', '']);
    else if (/heater terminals|across the (two )?heater|across the heater/.test(q)) facts.push(['coil_volts', '']);
    else facts.push(['volts', '']);
  }
  return {
    ...BLANK,
    kind: 'readings',
    check: 'volts',
    text,
    reads: facts.map(([fact, label]) => ({ fact, label, unit: 'V', points: ['', ''], pointWords: label })),
  };
}
