import type { Unit } from '../../rules/types.ts';
import type { Ask } from '../../server/types.ts';

/** A dryer's worth of questions for the page to show: every kind of question, part and verdict, and no reasoning. */
export interface FakeFact {
  label: string;
  choices?: { id: string; label: string }[];
  unit?: Unit;
  good?: [lo: number, hi: number];
}
const yesNo = [
  { id: 'yes', label: 'Yes' },
  { id: 'no', label: 'No' },
];
export const FACTS: Record<string, FakeFact> = {
  gas_smell: { label: 'Smell of gas', choices: yesNo },
  flame_or_smoke: {
    label: 'Flame or smoke',
    choices: [
      { id: 'now', label: 'Now' },
      { id: 'earlier', label: 'Earlier' },
      { id: 'no', label: 'No' },
    ],
  },
  hands_inside: { label: 'Hands or meter inside with power on', choices: yesNo },
  shock: { label: 'Shock or tingle', choices: yesNo },
  fuel: {
    label: 'What heats it',
    choices: [
      { id: 'electric', label: 'Electric' },
      { id: 'gas', label: 'Gas' },
      { id: 'not-known', label: 'Not known' },
    ],
  },
  warmth: {
    label: 'Air after five minutes on high',
    choices: [
      { id: 'cold', label: 'As cold as the room' },
      { id: 'warm', label: 'Warm, but weak' },
      { id: 'hot', label: 'Hot as ever' },
    ],
  },
  block_a_n: { label: 'Block, L1 to N', unit: 'V', good: [108, 126] },
  block_b_n: { label: 'Block, L2 to N', unit: 'V', good: [108, 126] },
  block_a_b: { label: 'Block, L1 to L2', unit: 'V', good: [216, 252] },
  coil: { label: 'Heater coil, cold', unit: 'Ω', good: [9.3, 11.6] },
};

const question = (ask: Partial<Ask> & Pick<Ask, 'check' | 'text' | 'kind'>): Ask => ({
  choices: [],
  reads: [],
  why: 'It parts the suspects better than anything else that takes as little time.',
  cautions: [],
  min: 1,
  covers: [],
  stateWords: '',
  ...ask,
});
const pick = (check: string, fact: string, text: string, more: Partial<Ask> = {}) =>
  question({ check, text, kind: 'one', choices: FACTS[fact]!.choices!.map((choice) => ({ ...choice, fact })), ...more });
const read = (fact: string, points: [string, string], pointWords: string): Ask['reads'][number] => ({
  fact,
  label: FACTS[fact]!.label,
  unit: FACTS[fact]!.unit!,
  points,
  pointWords,
});

export const GATE: Record<string, Record<string, string>> = {
  'gas-smell': { gas_smell: 'yes' },
  'smoke-now': { flame_or_smoke: 'now' },
  'hands-inside': { hands_inside: 'yes' },
  tingle: { shock: 'yes' },
  none: { gas_smell: 'no', flame_or_smoke: 'no', hands_inside: 'no', shock: 'no' },
};
const GATE_WORDS: Record<string, string> = {
  'gas-smell': 'I smell gas or hear a hiss',
  'smoke-now': 'There is flame or smoke now',
  'hands-inside': 'Somebody has hands or a meter inside with the power on',
  tingle: 'Somebody felt a shock or a tingle',
  none: 'None of these',
};
export const QUESTIONS: (Ask & { settles: string[]; technician?: boolean })[] = [
  {
    ...question({
      check: 'gate-now',
      text: 'Is any of these true right now?',
      kind: 'many',
      choices: Object.keys(GATE).map((id) => ({ id, label: GATE_WORDS[id]!, fact: 'gate-now' })),
      min: 0.5,
      why: 'Danger comes before any fault. One look at this list is all it takes.',
    }),
    settles: ['gas_smell', 'flame_or_smoke', 'hands_inside', 'shock'],
  },
  { ...pick('ask-fuel', 'fuel', 'What heats the air: electricity or gas?', { min: 0.3 }), settles: ['fuel'] },
  {
    ...pick('run-5-min', 'warmth', 'How warm is the air at the back of the drum after five minutes on high?', {
      min: 6,
      stateWords: 'running on high, drum empty',
      cautions: ['Stay with the dryer while it runs. Stop it at once if you smell burning.'],
    }),
    settles: ['warmth'],
  },
  {
    ...question({
      check: 'block-volts',
      text: 'What do you read at the terminal block? Rear cover off, plug in, dryer at rest. Low impedance, please.\n\n- Block, L1 to N: red lead on L1, black on N. A good one: 108 to 126 V.\n- Block, L2 to N: red lead on L2, black on N. A good one: 108 to 126 V.\n- Block, L1 to L2: red lead on L1, black on L2. A good one: 216 to 252 V.',
      kind: 'readings',
      reads: [
        read('block_a_n', ['L1', 'N'], 'red lead on L1, black on N'),
        read('block_b_n', ['L2', 'N'], 'red lead on L2, black on N'),
        read('block_a_b', ['L1', 'L2'], 'red lead on L1, black on L2'),
      ],
      cautions: [
        'Live reading. Insulated probes, one hand, nothing metal on your wrists. Thin disposable gloves do not protect you.',
      ],
      covers: ['rear cover'],
      stateWords: 'plug in, at rest',
      min: 4,
    }),
    settles: ['block_a_n', 'block_b_n', 'block_a_b'],
    technician: true,
  },
  {
    ...question({
      check: 'coil-ohms',
      text: 'What does the cold heater coil read? Plug out. Take one lead off it first.',
      kind: 'readings',
      reads: [read('coil', ['H1', 'H2'], 'across the two terminals of the coil')],
      covers: ['rear cover'],
      stateWords: 'plug out',
      min: 3,
    }),
    settles: ['coil'],
    technician: true,
  },
];
