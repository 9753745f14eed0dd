import { describe, expect, test } from 'vitest';
import { factIn, isTold, prepare } from '../../../rules/index.ts';
import type { Answer } from '../../../rules/types.ts';
import { conversationOf } from '../../../server/conversation/create.ts';
import { loadWords } from '../../../server/conversation/words/load.ts';
import { checkPartWords } from '../../../server/understand/across.ts';
import { understand } from '../../../server/understand/index.ts';
import { toldIn } from '../../answers.ts';
import { Case, k, throughGates, words } from '../conversation/parts.ts';

const talk = conversationOf({ k, words, understand });
const MACHINES = {
  'dial-single-coil': { control_kind: 'dial', heater_coils: 'one' },
  'dial-two-coil': { control_kind: 'dial', heater_coils: 'two' },
  'electronic-relay-thermistor': { control_kind: 'buttons' },
} as const;
type Machine = keyof typeof MACHINES;

const opened = new Map<string, Case>();
/** A case past its gates; opened once, for a turn stores nothing of its own. */
async function on(machine: Machine, audience: Answer['by'] = 'technician'): Promise<Case> {
  const key = `${machine} ${audience}`;
  const known = opened.get(key) ?? (await Case.open(talk, audience, { circuits: [machine] }));
  if (!opened.has(key)) {
    await known.tell('complaint', 'no-heat');
    if (audience === 'technician') await throughGates(known, MACHINES[machine]);
    opened.set(key, known);
  }
  const fresh = await Case.open(talk, audience, { circuits: [machine] });
  fresh.record = known.record;
  return fresh;
}

/** The readings that a record holds: "-" for points that were left to the check. */
const readings = (c: Case) =>
  c.record.answers
    .filter((a) => isTold(a))
    .filter((a) => k.facts.get(a.fact)?.kind === 'quantity')
    .map(({ value, taken }) => [value, [...(taken?.points ?? ['-'])].sort().join('-'), taken?.state]);
const pairs = [...k.supply.legPairs, ...k.supply.scalePairs].map((p) => [...p].sort().join('-'));
const ofSupply = [...k.checks.values()].filter((c) => c.supplyReading).flatMap((c) => c.settles);
/** No reading of the supply was stored, in whatever way it would be told. */
function noSupply(c: Case) {
  expect(toldIn(c.record.answers).filter(([fact]) => ofSupply.includes(fact))).toEqual([]);
  for (const [, points] of readings(c)) expect(pairs).not.toContain(points);
}

/** Part as people call it, and where its two ends lie. */
const PARTS: [Machine, string, string][] = [
  ['dial-single-coil', 'cut-off', 'E1-HL2'],
  ['dial-single-coil', 'thermal cutoff', 'E1-HL2'],
  ['dial-single-coil', 'TCO', 'E1-HL2'],
  ['dial-single-coil', 'high limit', 'HL1-HL2'],
  ['dial-single-coil', 'limit thermostat', 'HL1-HL2'],
  ['dial-single-coil', 'cycling thermostat', 'C1-C2'],
  ['dial-single-coil', 'operating stat', 'C1-C2'],
  ['dial-single-coil', 'heater', 'E1-E2'],
  ['dial-single-coil', 'heating element', 'E1-E2'],
  ['dial-single-coil', 'coil', 'E1-E2'],
  ['dial-single-coil', 'timer heat contact', 'T1-T2'],
  ['dial-single-coil', 'motor switch', 'MH-ML'],
  ['dial-single-coil', 'motor heat contact', 'MH-ML'],
  ['dial-single-coil', 'centrifugal switch', 'MH-ML'],
  ['dial-single-coil', 'door switch', 'D1-D2'],
  ['dial-single-coil', 'belt switch', 'F2-S1'],
  ['dial-single-coil', 'start switch', 'M1-S1'],
  ['dial-single-coil', 'blower fuse', 'D2-F2'],
  ['dial-single-coil', 'drive motor', 'M1-M2'],
  ['dial-single-coil', 'timer motor', 'N-T3'],
  ['dial-two-coil', 'cut-off', 'HL2-TC2'],
  ['dial-two-coil', 'high limit', 'HC-HL2'],
  ['dial-two-coil', 'first coil', 'H1-HC'],
  ['dial-two-coil', 'second element', 'H2-HC'],
  ['dial-two-coil', 'bias heater', 'MH-SB'],
  ['electronic-relay-thermistor', 'heater relay', 'KC-KH'],
  ['electronic-relay-thermistor', 'motor relay', 'KC-KM'],
  ['electronic-relay-thermistor', 'door switch', 'D2-KM'],
  ['electronic-relay-thermistor', 'element', 'E1-E2'],
];
const WORDINGS: [string, (part: string) => string][] = [
  ['across', (part) => `118 V across the ${part} with heat called`],
  ['the number last', (part) => `running on heat, across the ${part} I get 118 volts`],
  ['end to end', (part) => `${part} reads 118 V end to end with the heat on`],
  ['between its terminals', (part) => `the ${part} has 118 V between its terminals while calling for heat`],
  ['over', (part) => `I read 118 volts over the ${part}, heat called`],
  ['across, the part before', (part) => `the ${part} has 118 V across with heat called`],
  ['across it', (part) => `Checked the ${part}. 118 V across it with heat called`],
];

describe.each(WORDINGS)('volts %s a part are read between its own two ends', (_, say) => {
  test.each(PARTS)('%s: %s is %s', async (machine, part, points) => {
    const c = await on(machine);
    const reply = await c.say(say(part));
    expect(reply.ask?.check).not.toBe('which');
    expect(readings(c)).toEqual([[118, points, 'run-high']]);
    noSupply(c);
  });
});

describe('a part is read in the state that was said', () => {
  test.each([
    ['120 V across the door switch at rest', 'idle-off'],
    ['0 V across the heater on air only', 'run-noheat'],
    ['0 V across the heater while running', 'run-high'],
  ])('"%s"', async (said, state) => {
    const c = await on('dial-single-coil');
    await c.say(said);
    expect(readings(c).map((r) => r[2])).toEqual([state]);
    noSupply(c);
  });
  test.each([
    '0 V across the heater',
    '240 across the cut-off',
    '242 across the motor switch',
    '244 V across the timer heat contact',
  ])('"%s" says none, so it is asked, and the one picked counts', async (said) => {
    const c = await on('dial-single-coil');
    const reply = await c.say(said);
    expect(reply.ask?.check).toBe('which');
    expect(readings(c)).toEqual([]);
    await c.say('1');
    expect(readings(c).map((r) => r[2])).toEqual(['run-high']);
    noSupply(c);
  });
  test('several parts of one sentence have each its own value, and the state said once is for all', async () => {
    const c = await on('dial-single-coil');
    await c.say('0.2 V across the high limit, 239 V across the cut-off and 0 V across the heater with heat called');
    expect(readings(c)).toEqual([
      [0.2, 'HL1-HL2', 'run-high'],
      [239, 'E1-HL2', 'run-high'],
      [0, 'E1-E2', 'run-high'],
    ]);
    noSupply(c);
  });
  test('beside a part the legs are the legs', async () => {
    const c = await on('dial-single-coil');
    await c.say('L1 to L2 240 V running, 0 V across the heater with heat called');
    expect(c.fact('between_legs_heat')).toBe(240);
    expect(c.fact('coil_volts')).toBe(0);
  });
  test('two parts in line are read from the first end to the last', async () => {
    const c = await on('dial-single-coil');
    await c.say('240 V across the limit and the cut-off with heat called');
    expect(readings(c)).toEqual([[240, 'E1-HL1', 'run-high']]);
  });
  test('"the new one" is the part named before', async () => {
    const c = await on('dial-single-coil');
    await c.say('240 V across the old cut-off, 0 V across the new one, heat on');
    expect(readings(c).map(([value, points]) => [value, points])).toEqual([
      [240, 'E1-HL2'],
      [0, 'E1-HL2'],
    ]);
    noSupply(c);
  });
  test('what is said not to be there is no reading', async () => {
    const c = await on('dial-single-coil');
    await c.say('no 240 across the heater, heat called');
    expect(readings(c)).toEqual([]);
  });
  test('"and the motor runs" is not told of the place', async () => {
    const c = await on('dial-single-coil');
    await c.say('240 V across the cut-off and the motor is running');
    expect(readings(c)).toEqual([[240, 'E1-HL2', 'run-high']]);
  });
});

test('nothing across the heater rules no supply out that leaves it without volts', async () => {
  const p = prepare(k, {
    circuits: ['dial-single-coil'],
    plate: {},
    hookup: 'four-wire',
    meter: [...k.meters.keys()][0]!,
    system: k.supply.systems[0]!.id,
  });
  const dead = [...k.faults.values()]
    .filter((f) => f.side === 'supply')
    .map((f) => f.id)
    .filter((f) =>
      p.between('volts', ['E1', 'E2'], 'run-high', [f]).some((e) => typeof e === 'object' && Number(e.centre) < 0.5),
    );
  expect(dead).toContain('supply-leg-lost-other-leg');
  expect(dead.length).toBeGreaterThan(3);
  for (const said of ['0 V across the heater with heat called', 'nothing across the element, heat called']) {
    const reply = await (await on('dial-single-coil')).say(said);
    const live = reply.consultation.suspects.filter((x) => x.live).flatMap((x) => x.faults);
    expect(live, said).toEqual(expect.arrayContaining(dead));
  }
});

describe('a name that fits several places asks which', () => {
  test.each<[Machine, string, number]>([
    ['dial-single-coil', '240 V across the thermostat with heat called', 2],
    ['dial-single-coil', '240 V across the thermal fuse with heat called', 2],
    ['dial-single-coil', '244 V across the timer contact with heat called', 2],
    ['dial-two-coil', '0 V across the heater with heat called', 2],
    ['dial-two-coil', '238 V end to end on the element, heat called', 2],
    ['electronic-relay-thermistor', '240 V across the relay with heat called', 2],
  ])('%s: "%s"', async (machine, said, ways) => {
    const c = await on(machine);
    const reply = await c.say(said);
    expect(reply.ask?.check).toBe('which');
    expect(reply.ask?.choices).toHaveLength(ways);
    expect(new Set(reply.ask?.choices.map((x) => x.label)).size).toBe(ways);
    expect(readings(c)).toEqual([]);
    await c.say('2');
    expect(readings(c)).toHaveLength(1);
    noSupply(c);
  });
});

describe('a unit that clashes with the state asks', () => {
  test.each([
    '10.6 ohms across the heater with heat called',
    '0.2 ohms across the cut-off with the power on',
    '240 V across the heater with the plug out',
    '240 V across the limit, dryer unplugged',
    '240 across the element, unplugged',
    '10.6 across the element',
  ])('"%s"', async (said) => {
    const c = await on('dial-single-coil');
    const reply = await c.say(said);
    expect(reply.ask?.check).toBe('which');
    const labels = reply.ask?.choices.map((x) => x.label) ?? [];
    expect(labels.some((l) => /\d V;.*plug in|\d V;.*running/.test(l))).toBe(true);
    expect(labels.some((l) => /Ω;.*plug out/.test(l))).toBe(true);
    expect(readings(c)).toEqual([]);
  });
});

describe('ohms across a part', () => {
  test.each<[Machine, string, string, unknown, string, string]>([
    ['dial-single-coil', '10.6 ohms across the heater', 'coil_ohms', 10.6, 'E1-E2', 'unplugged-off'],
    ['dial-single-coil', 'heater 10.6 ohms end to end', 'coil_ohms', 10.6, 'E1-E2', 'unplugged-off'],
    ['dial-single-coil', 'ohmed it across the element, 10.9', 'coil_ohms', 10.9, 'E1-E2', 'unplugged-off'],
    ['dial-single-coil', 'OL across the cut-off', 'cut_off_ohms', 'open', 'E1-HL2', 'unplugged-off'],
    [
      'dial-single-coil',
      '0.2 ohms across the timer heat contact with the dial on heat',
      'timer_contact_ohms',
      0.2,
      'T1-T2',
      'unplugged-heat',
    ],
    ['dial-single-coil', 'OL across the motor switch', 'ohms_between', 'open', 'MH-ML', 'unplugged-off'],
    ['dial-two-coil', '21.3 ohms across coil 2, lead lifted', 'coil_2_ohms', 21.3, 'H2-HC', 'unplugged-off'],
  ])('%s: "%s" is %s', async (machine, said, fact, value, points, state) => {
    const c = await on(machine);
    await c.say(said);
    expect(readings(c)).toEqual([[value, points, state]]);
    expect(c.record.answers.some((a) => factIn(a) === fact)).toBe(true);
  });
  test('where a lead must come off first, it is asked whether it was', async () => {
    const c = await on('dial-two-coil');
    const reply = await c.say('21.3 ohms across coil 2');
    expect(reply.ask?.choices.map((x) => /off the selector/.test(x.label))).toEqual([true, false]);
  });
});

describe('while the machine is not known', () => {
  const fresh = async (audience: Answer['by']) => {
    const c = await Case.open(talk, audience);
    await c.tell('complaint', 'no-heat');
    return c;
  };
  test.each(['technician', 'homeowner', 'agent'] as const)(
    'a part every machine has is read where it lies on each (%s)',
    async (who) => {
      const c = await fresh(who);
      await c.say('240 V across the cut-off with heat called');
      expect(readings(c)).toEqual([[240, '-', 'run-high']]);
      expect(c.fact('cut_off_volts')).toBe(240);
      noSupply(c);
    },
  );
  test.each(['0 V across the heater with heat called', '120 V across the door switch with heat called'])(
    '"%s": a technician is asked which machine, and that is then known',
    async (said) => {
      const c = await fresh('technician');
      const reply = await c.say(said);
      expect(reply.ask?.check).toBe('which');
      noSupply(c);
      await c.say('1');
      expect(readings(c)).toHaveLength(1);
      expect(toldIn(c.record.answers).some(([fact]) => fact === 'heater_coils' || fact === 'control_kind')).toBe(true);
      noSupply(c);
    },
  );
  test('what a homeowner cannot tell is not asked: the words are kept, and said to be kept', async () => {
    const c = await fresh('homeowner');
    const reply = await c.say('0 volts across the heating element with the heat on');
    expect(readings(c)).toEqual([]);
    expect(c.record.answers.at(-1)).toMatchObject({
      note: 'noted',
      said: '0 volts across the heating element with the heat on',
    });
    expect(reply.ask?.check).not.toBe('which');
    noSupply(c);
  });
  test('a part that only one kind of machine has is read where it lies there', async () => {
    const c = await fresh('technician');
    await c.say('240 V across the heater relay with heat called');
    expect(readings(c)).toEqual([[240, 'KC-KH', 'run-high']]);
  });
  test('in the opening words too', async () => {
    const c = await Case.open(talk, 'technician');
    await c.say('no heat. 240 V across the cut-off with heat called');
    expect(c.fact('cut_off_volts')).toBe(240);
    expect(c.record.answers.some((a) => a.act === 'set' && a.set.families?.includes('no-heat'))).toBe(true);
    noSupply(c);
  });
});

describe("on no drawing in hand, or no part's own two ends: kept in words", () => {
  test.each([
    '240 V across the heater relay with heat called',
    '240 V across the igniter with heat called',
    '12 V across the relay coil',
    '0 V across coil 1 with heat called',
    '120 V across the heater to neutral with heat called',
  ])('"%s"', async (said) => {
    const c = await on('dial-single-coil');
    await c.say(said);
    expect(readings(c)).toEqual([]);
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'note', note: 'noted' });
    noSupply(c);
  });
});

describe('no place between two ends', () => {
  test.each([
    '120 V on both sides of the cut-off with heat called',
    '120 V at one end of the heater with heat called',
    'lint all over the heater, 240 V',
    'air blows across the heater, 240 V at the block',
    'L1 to neutral 120 V at rest, the heater looks fine',
  ])('"%s"', async (said) => {
    const c = await on('dial-single-coil');
    await c.say(said);
    expect(readings(c).filter(([, points]) => points !== '-')).toEqual([]);
  });
});

describe('a homeowner who tells it is heard in the same way', () => {
  test.each([
    ['I measured 240 V across the cutoff with the heat on', 'E1-HL2'],
    ['my meter says 0 volts between the ends of the heating element when it is heating', 'E1-E2'],
    ['240 volts across the motor switch while it is running', 'MH-ML'],
  ])('"%s"', async (said, points) => {
    const c = await on('dial-single-coil', 'homeowner');
    await c.say(said);
    expect(readings(c)).toEqual([[expect.any(Number), points, 'run-high']]);
    noSupply(c);
  });
});

describe('no part named: the legs, as before', () => {
  const upTo = async (check: string) => {
    const c = await on('dial-single-coil');
    for (let i = 0; i < 40 && c.last?.reply.ask?.check !== check; i++) {
      const ask = c.last?.reply.ask ?? ((await c.talk.look(c.record)) as Case['last']).reply.ask!;
      await c.tell(ask.check, undefined, { act: 'declined' });
    }
    expect(c.last.reply.ask?.check).toBe(check);
    return c;
  };
  test.each([
    '240 across',
    '240 V across L1 and L2',
    '240 across the legs',
    '240 V across the block',
    '240 across the two hots',
    '240 across, the heater is cold',
    'across 240',
  ])('"%s" answers leg to leg at the block', async (said) => {
    const c = await upTo('supply-at-block-idle');
    await c.say(said);
    expect(c.fact('between_legs_idle')).toBe(240);
  });
  test.each(['240 across the outlet', '240 V across the plug slots', '240 across'])(
    '"%s" answers leg to leg at the outlet',
    async (said) => {
      const c = await upTo('supply-at-receptacle');
      await c.say(said);
      expect(c.fact('between_legs_receptacle')).toBe(240);
    },
  );
  test.each([
    '240 V across the cut-off with heat called',
    '0 V across the heater with heat called',
    '242 across the motor switch, running',
  ])('"%s" is no answer to it', async (said) => {
    for (const check of ['supply-at-block-idle', 'supply-at-receptacle']) {
      const c = await upTo(check);
      await c.say(said);
      expect(readings(c)).toHaveLength(1);
      noSupply(c);
    }
  });
  test.each([
    ['240 V across L1 and L2 with the heater on', 240],
    ['240 V across the legs with heat called', 240],
    ['the heater has 240 across the legs with heat called', 240],
  ])('"%s" is told of the legs', async (said, value) => {
    const c = await on('dial-single-coil');
    await c.say(said);
    expect(c.fact('between_legs_heat')).toBe(value);
  });
});

describe('the open question', () => {
  const upTo = async (check: string) => {
    const c = await on('dial-single-coil');
    for (let i = 0; i < 70 && c.last?.reply.ask?.check !== check; i++) {
      const ask = c.last?.reply.ask ?? ((await c.talk.look(c.record)) as Case['last']).reply.ask!;
      await c.tell(ask.check, undefined, { act: 'declined' });
    }
    expect(c.last.reply.ask?.check).toBe(check);
    return c;
  };
  test.each([
    ['coil-volts', '0 V across the heater', 'coil_volts'],
    ['limit-and-cutoff-volts', '240 V across the cut-off', 'cut_off_volts'],
    ['limit-and-cutoff-ohms', '0.1 across the cut off', 'cut_off_ohms'],
    ['coil-ohms', '10.6 end to end on the element', 'coil_ohms'],
  ])('%s is answered by "%s"', async (check, said, fact) => {
    const c = await upTo(check);
    await c.say(said);
    expect(c.record.answers.at(-1)).toMatchObject({ act: 'tell', fact });
  });
  test.each([
    ['limit-and-cutoff-ohms', '240 V across the cut-off with heat called', 'cut_off_volts'],
    ['control-half-volts', '0 V across the coil with heat called', 'coil_volts'],
    ['line-to-motor-side-ohms', '10.6 ohms across the heater', 'coil_ohms'],
    ['coil-ohms', 'OL across the motor switch', 'ohms_between'],
    ['coil-volts', 'nothing across the cut-off with heat called', 'cut_off_volts'],
    ['run-after-filter', '240 V across the cut-off with heat called', 'cut_off_volts'],
  ])('%s is not answered by "%s"', async (check, said, fact) => {
    const c = await upTo(check);
    const had = c.record.answers.length;
    await c.say(said);
    expect(c.record.answers.slice(had).map(factIn)).toEqual([fact]);
  });
});

describe('in Spanish', () => {
  const en = loadWords(
    import.meta.glob<Record<string, unknown>>('../../../server/conversation/words/en/*.json', { eager: true, import: 'default' }),
    k,
  );
  const es = loadWords(
    import.meta.glob<Record<string, unknown>>('../../../server/conversation/words/es/*.json', { eager: true, import: 'default' }),
    k,
    {
      language: 'es',
      first: en,
    },
  );
  const spoken = conversationOf({ k, words: [en, es], understand });
  const PARTES: [string, string][] = [
    ['la resistencia', 'E1-E2'],
    ['el límite alto', 'HL1-HL2'],
    ['el corte térmico', 'E1-HL2'],
    ['el interruptor del motor', 'MH-ML'],
    ['el interruptor de la puerta', 'D1-D2'],
    ['el termostato de ciclo', 'C1-C2'],
  ];
  const del = (part: string) => `de ${part}`.replace('de el ', 'del ');
  test.each(
    PARTES.flatMap(([part, points]) =>
      [
        `118 V a través ${del(part)} con el calor prendido`,
        `118 V entre los extremos ${del(part)} con calor`,
        `${part} marca 118 V entre sus terminales con calor`,
        `118 voltios de extremo a extremo en ${part} con la secadora calentando`,
      ].map((said) => [said, points] as const),
    ),
  )('"%s" is %s', async (said, points) => {
    const c = await Case.open(spoken, 'homeowner', { circuits: ['dial-single-coil'] });
    c.record = { ...c.record, settings: { ...c.record.settings, language: 'es' } };
    await c.tell('complaint', 'no-heat');
    await c.say(said);
    expect(readings(c)).toEqual([[118, points, 'run-high']]);
    noSupply(c);
  });
  test('the legs are the legs', async () => {
    const c = await Case.open(spoken, 'homeowner', { circuits: ['dial-single-coil'] });
    c.record = { ...c.record, settings: { ...c.record.settings, language: 'es' } };
    await c.tell('complaint', 'no-heat');
    await c.say('240 V entre las dos líneas con calor');
    expect(c.fact('between_legs_heat')).toBe(240);
  });
});

describe('parts that cannot be are refused at the start', () => {
  test('the knowledge as it is has none', () => expect(() => checkPartWords(k)).not.toThrow());
  test.each([
    [{ coil: ['no_such_branch'] }, /parts\.json: coil: no machine has a branch "no_such_branch"/],
    [{ spare: [] }, /points\.json: parts: no words for "spare"/],
    [{}, /no part/],
  ])('%j', (chains, says) => expect(() => checkPartWords(k, chains)).toThrow(says));
});
