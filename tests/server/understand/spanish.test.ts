import { describe, expect, test } from 'vitest';
import type { Ask, Meaning } from '../../../server/types.ts';
import { understand } from '../../../server/understand/index.ts';
import dangers from '../../data/dangers-said-es.json' with { type: 'json' };
import items from '../../data/utterances-es.json' with { type: 'json' };

interface Item {
  id: string;
  /** The question open then; absent = the opening one. */
  ask?: string;
  text: string;
  /** "kind:fact=value", "?" = hedged or plain alike, "-" before = must not be there, "ask" = asked back. */
  means: string[];
  /** Only measured: no phrase was written for it. */
  held?: boolean;
}

const pick = (check: string, text: string, fact: string, choices: Record<string, string>, kind: 'one' | 'many' = 'one'): Ask => ({
  ...plain(check, text),
  kind,
  choices: Object.entries(choices).map(([id, label]) => ({ id, label, fact })),
});
const measure = (
  check: string,
  text: string,
  reads: [fact: string, label: string, unit: Ask['reads'][number]['unit']][],
): Ask => ({
  ...plain(check, text),
  kind: 'readings',
  reads: reads.map(([fact, label, unit]) => ({ fact, label, unit, points: ['', ''], pointWords: label })),
});
const plain = (check: string, text: string): Ask => ({
  check,
  text,
  kind: 'one',
  choices: [],
  reads: [],
  why: '',
  cautions: [],
  min: 1,
  covers: [],
  stateWords: '',
});
const danger = (id: string, label: string, fact: string) => ({ id, label, fact });

const ASKS: Record<string, Ask> = {
  drum: pick('ask-drum', '¿Gira el tambor?', 'drum_turns', { yes: 'Sí', no: 'No' }),
  kink: pick('look-duct', '¿Está doblado o aplastado el ducto?', 'duct_kinked', { yes: 'Sí', no: 'No' }),
  fuel: pick('ask-fuel', '¿Es eléctrica o de gas?', 'fuel', { electric: 'Eléctrica', gas: 'De gas', unsure: 'No sé' }),
  slots: pick('ask-slots', '¿Cuántas patas tiene la clavija?', 'slots', {
    four: 'Cuatro patas',
    three: 'Tres patas',
    'direct-wired': 'Conectada directo a la pared',
    unsure: 'No estoy seguro',
  }),
  warm: pick('run-5', '¿Qué tan caliente está después de cinco minutos?', 'warm_in_5_min', {
    hot: 'Caliente',
    'barely-warm': 'Apenas tibia',
    cold: 'Fría',
    'very-hot': 'Demasiado caliente',
    'warm-then-cold': 'Tibia y luego fría',
    'will-not-run': 'No arranca',
  }),
  hood: pick('look-hood', '¿Cómo sale el aire afuera?', 'hood_air', {
    strong: 'Fuerte',
    weak: 'Débil',
    none: 'Nada',
    'cannot-see': 'No puedo verlo',
  }),
  other: pick('ask-other', '¿Funcionan bien otros aparatos de 240 voltios?', 'other_240', {
    normal: 'Funcionan bien',
    'weak-or-dead': 'Débiles o muertos',
    'none-here': 'No hay otros',
  }),
  gate: {
    ...plain('gate-now', '¿Hay algo de esto ahora?'),
    kind: 'many',
    choices: [
      danger('now', 'Fuego o humo', 'flame_or_smoke'),
      danger('yes', 'Olor a gas', 'gas_smell'),
      danger('tingle', 'Toques al tocarla', 'shock_kind'),
      danger('burning', 'Olor a quemado', 'smell_kind'),
    ],
  },
  volts: measure('supply-at-block-idle', '¿Qué marca en el bloque?', [
    ['between_legs_idle', 'entre las dos líneas', 'V'],
    ['motor_leg_to_neutral_idle', 'línea del motor a neutro', 'V'],
    ['other_leg_to_neutral_idle', 'la otra línea a neutro', 'V'],
  ]),
  volts1: measure('motor-leg', '¿Qué marca de la línea del motor a neutro?', [
    ['motor_leg_to_neutral_idle', 'línea del motor a neutro', 'V'],
  ]),
  coil: measure('coil-ohms', '¿Cuántos ohmios marca la resistencia?', [['coil_ohms', 'resistencia', 'Ω']]),
  cut: measure('cut-off-ohms', '¿Cuántos ohmios marca el corte térmico?', [['cut_off_ohms', 'corte térmico', 'Ω']]),
  amps: measure('clamp', '¿Cuántos amperios marca la pinza?', [['heater_amps', 'amperios del calentador', 'A']]),
  temp: measure('outlet-temperature', '¿Qué temperatura tiene el aire?', [['outlet_c', 'aire de salida', '°C']]),
  minutes: measure('dry-time', '¿Cuántos minutos tarda en secar?', [['dry_minutes', 'minutos', 'min']]),
  plate: plain('read-plate', '¿Qué dice la placa?'),
};

interface Scored {
  item: Item;
  right: boolean;
  missedDanger: boolean;
  falseDanger: boolean;
  confidentWrong: boolean;
  acts: Meaning[];
}
const CLAIMS = new Set(['hazard', 'answer', 'reading']);

/** "answer:drum_turns=yes" and the like, as the file writes them. */
function namesOf(a: Meaning): string[] {
  switch (a.is) {
    case 'complaint':
      return ['family', `family:${a.family}`];
    case 'hazard':
    case 'answer':
    case 'reading': {
      const value = typeof a.value === 'number' ? Number(a.value.toFixed(4)) : a.value;
      const of = a.fact === 'gate-now' ? 'none' : (a.fact ?? '');
      return [a.is, `${a.is}:${of}`, `${a.is}:${of}=${value}`];
    }
    case 'talk':
      return ['talk', `talk:${a.what}`];
    case 'plate':
      return (['volts', 'total_w', 'amps'] as const).flatMap((k) => (a[k] === undefined ? [] : [`plate:${k}=${a[k]}`]));
    case 'ambiguous':
      return ['ask'];
    default:
      return [];
  }
}

function score(item: Item): Scored {
  const { acts } = understand(item.text, item.ask ? ASKS[item.ask] : undefined, 'homeowner', {}, 'es');
  const got = acts.flatMap(namesOf);
  // a danger on the list of the question is a danger, whichever act tells it
  const has = (w: string) => got.includes(w) || (item.ask === 'gate' && got.includes(w.replace('hazard:', 'answer:')));
  const want = item.means.filter((m) => !m.startsWith('-')).map((m) => m.replace('?', ''));
  const mayNot = item.means.filter((m) => m.startsWith('-')).map((m) => m.slice(1));
  const wanted = (a: Meaning) => {
    const names = namesOf(a);
    return want.some((w) => names.includes(w) || names.includes(w.replace('hazard:', 'answer:')));
  };
  const asked = new Set(
    item.ask ? [...(ASKS[item.ask]?.choices ?? []), ...(ASKS[item.ask]?.reads ?? [])].map((x) => x.fact) : [],
  );
  const claims = acts.filter((a) => CLAIMS.has(a.is) && !('sure' in a && a.sure === false) && !wanted(a));
  const dangers = want.filter((w) => w.startsWith('hazard:'));
  return {
    item,
    acts,
    right: want.every(has) && !mayNot.some((m) => got.includes(m)),
    missedDanger: dangers.some((d) => !has(d)),
    falseDanger: claims.some((a) => a.is === 'hazard') && dangers.length === 0,
    confidentWrong: claims.some(
      (a) =>
        a.is === 'reading' ||
        (a.is === 'answer' && asked.has(a.fact)) ||
        (a.is !== 'ambiguous' && 'fact' in a && want.some((w) => w.split(/[:=]/)[1] === a.fact && w.includes('='))),
    ),
  };
}

const scored = (items as Item[]).map(score);
const open = scored.filter((s) => !s.item.held);
const held = scored.filter((s) => s.item.held);
const texts = (list: Scored[]) => list.map((s) => `${s.item.id} ${s.item.text} ${JSON.stringify(s.acts.flatMap(namesOf))}`);

describe('utterances in Spanish', () => {
  test('there are enough of them, a third of them held back', () => {
    expect(scored.length).toBeGreaterThanOrEqual(150);
    expect(held.length * 3).toBeGreaterThanOrEqual(scored.length - 2);
  });
  test.each(open.map((s) => [s.item.id, s.item.ask ?? 'opening', s.item.text, s] as const))('%s %s: "%s"', (_, __, ___, s) =>
    expect(s.right, JSON.stringify(s.acts)).toBe(true),
  );
  test('of those held back at least nine of ten are right', () =>
    expect(held.filter((s) => s.right).length / held.length).toBeGreaterThanOrEqual(0.9));
  test('no danger is missed, and none is seen where none was told', () => {
    expect(texts(scored.filter((s) => s.missedDanger))).toEqual([]);
    expect(texts(scored.filter((s) => s.falseDanger))).toEqual([]);
  });
  test('no value is taken surely and wrongly', () => expect(texts(scored.filter((s) => s.confidentWrong))).toEqual([]));
});

describe.each(['es', 'en'])('dangers told in Spanish, in a case of %s', (language) => {
  const told = (text: string) =>
    understand(text, undefined, 'homeowner', {}, language).acts.flatMap((a) => (a.is === 'hazard' ? [a.fact] : []));
  const rows = dangers as { text: string; fact?: string }[];
  test('every one is heard', () =>
    expect(rows.filter((r) => r.fact && !told(r.text).includes(r.fact)).map((r) => r.text)).toEqual([]));
  test('what was denied, supposed or is an idiom is none', () =>
    expect(rows.filter((r) => !r.fact && told(r.text).length > 0).map((r) => [r.text, told(r.text)])).toEqual([]));
});
