import { describe, expect, test } from 'vitest';
import { consult, foldCase, knowledge, machineInHand } from '../../../rules/index.ts';
import { buildNet, solve } from '../../../rules/physics/index.ts';
import type { Audience, Check, Circuit, Consultation, Effect, Value } from '../../../rules/types.ts';
import { answerOf, type Flat } from '../../answers.ts';
import { preparedFor } from '../../bench/worlds.ts';
import { createDryer } from '../../dryer/create-dryer.ts';
import { buildDryer, type Dryer } from '../../dryer/dryer.ts';
import type { Edit } from '../../dryer/netlist.ts';
import sound from '../../dryer/sound.json' with { type: 'json' };

/** What a meter finds stops the talk, or condemns the part: never is anything run after it, whoever read it, wherever it lies. */
const k = knowledge();
const AUDIENCES: Audience[] = ['technician', 'homeowner', 'agent'];
const LOW_IMPEDANCE_OHM = 3000;

type Told = { fact: string; value: Value } & Flat;
const KNOWN: Record<string, Record<string, string>> = {
  'dial-single-coil': { control_kind: 'dial', heater_coils: 'one' },
  'dial-two-coil': { control_kind: 'dial', heater_coils: 'two' },
  'electronic-relay-thermistor': { control_kind: 'buttons', heater_coils: 'one' },
};
/** A case with every danger denied, fuel and machine told; a technician is qualified. */
function begun(machine: string, who: Audience): Told[] {
  const none = ['gate-now', 'gate-signs'].map((id) => k.checks.get(id)!.choices!.none);
  const plain = { ...sound, ...none[0], ...none[1], fuel: 'electric', dryer_kind: 'vented', slots: 'four', ...KNOWN[machine] };
  const all = Object.entries(plain).filter(([fact]) => k.facts.get(fact)?.kind === 'choice');
  return [...all, ...(who === 'technician' ? [['qualified', 'yes']] : [])].map(([fact, value]) => ({
    fact: fact!,
    value: String(value),
  }));
}
function caseOf(told: readonly Told[], who: Audience, family = 'no-heat') {
  const answers = told.map((t, i) => answerOf({ seq: i + 1, by: who, ...t }));
  const f = foldCase(k, { audience: who, families: [family], units: 'us' }, answers);
  return { f, p: preparedFor(k, machineInHand(k, f)) };
}
async function asked(told: readonly Told[], who: Audience, family = 'no-heat'): Promise<Consultation> {
  const { f, p } = caseOf(told, who, family);
  return consult(p, f);
}
const signs = (c: Consultation) => c.stops.map((s) => s.sign);

describe('a lost neutral, however it splits the house, is known from the legs', { timeout: 240_000 }, () => {
  const RATIOS = [0.05, 0.1, 0.2, 0.3, 0.4, 0.44, 0.47, 0.53, 0.56, 0.6, 0.7, 0.8, 0.9, 0.95];
  const lost = (ratio: number, whole_ohm: number): Effect[] => [
    { branch: 'svcN', ohm: 'open' },
    { branch: 'houseA', ohm: whole_ohm * ratio },
    { branch: 'houseB', ohm: whole_ohm * (1 - ratio) },
  ];
  /** Both legs and leg to leg as this check reads them, to a tenth of a volt; undefined where the machine would not run there. */
  function read(c: Circuit, check: Check, effects: Effect[], hookup: 'four-wire' | 'three-wire', input_ohm = LOW_IMPEDANCE_OHM) {
    const state = k.states.get(check.state)!;
    const net = solve(buildNet(k.supply, c, state, { effects, hookup }));
    if (state.running && !net.runs(90)) return undefined;
    return check.measure!.reads.map(({ fact, points }): Told & { value: number } => {
      const [a, b] = points['*']!;
      return { fact, value: Math.round(net.volts(a, b, input_ohm)!.volts * 10) / 10 };
    });
  }
  const apart = (told: readonly { value: number }[]) => Math.abs(told[1]!.value - told[2]!.value) > 10;
  const atRest = ['supply-at-receptacle', 'supply-at-block-idle', 'proof-supply-at-rest'].map((id) => k.checks.get(id)!);

  test.each([...k.machines.keys()])('read at rest on %s', async (machine) => {
    let seen = 0;
    for (const hookup of ['four-wire', 'three-wire'] as const)
      for (const ratio of RATIOS)
        for (const whole_ohm of [20, 60])
          for (const check of whole_ohm === 20 && hookup === 'four-wire' ? atRest : atRest.slice(1, 2)) {
            const told = read(k.machines.get(machine)!, check, lost(ratio, whole_ohm), hookup)!;
            if (!apart(told)) continue;
            seen++;
            for (const who of AUDIENCES) {
              const c = await asked([...begun(machine, who), ...told], who);
              const name = `${who} ${check.id} ${ratio} ${told.map((t) => t.value)}`;
              expect(signs(c), name).toEqual(['service-neutral']);
              expect(c.next, name).toBeUndefined();
              expect(c.referral, name).toMatchObject({ mayUse: 'no', priority: 0, trades: ['utility', 'electrician'] });
            }
          }
    expect(seen).toBeGreaterThan(50);
  });

  test.each([...k.machines.keys()])(
    'with the heat on, on %s: where the loads leave one leg higher than it may be',
    async (machine) => {
      const check = k.checks.get('supply-at-block-heat')!;
      let seen = 0;
      for (const ratio of RATIOS) {
        const told = read(k.machines.get(machine)!, check, lost(ratio, 20), 'four-wire');
        if (!told || !apart(told)) continue;
        const c = await asked([...begun(machine, 'technician'), ...told], 'technician');
        const higher = Math.max(told[1]!.value, told[2]!.value);
        expect(signs(c), String(told.map((t) => t.value))).toEqual(higher > 126 ? ['service-neutral'] : []);
        seen += higher > 126 ? 1 : 0;
      }
      expect(seen).toBeGreaterThan(4);
    },
  );

  test('a poor joint in one leg, a lost leg, a crossed cord, a wye and a high leg are other matters', async () => {
    const others: [string, Effect[], string?][] = [
      ['one leg sags', [{ branch: 'brB', ohm: 1.06 }]],
      ['the other leg sags', [{ branch: 'brA', ohm: 1.06 }]],
      ['a leg lost', [{ branch: 'brB', ohm: 'open' }]],
      ['a service leg lost', [{ branch: 'svcB', ohm: 'open' }]],
      ['a branch neutral lost', [{ branch: 'brN', ohm: 'open' }]],
      ['crossed with the motor leg', k.faults.get('neutral-leg-swap-motor-leg')!.effects],
      ['crossed with the other leg', k.faults.get('neutral-leg-swap-other-leg')!.effects],
      ['a wye', [{ supply: 'wye208' }]],
      ['another wye', [{ supply: 'wye220' }]],
      ['a high leg', [{ supply: 'high-leg' }]],
      ['one leg twice', [{ supply: 'same-leg' }]],
      ['nothing wrong', []],
    ];
    for (const machine of k.machines.values())
      for (const [name, effects] of others)
        for (const check of [...atRest, k.checks.get('supply-at-block-heat')!]) {
          const told = read(machine, check, effects, 'four-wire');
          if (!told) continue;
          const rest = read(machine, atRest[1]!, effects, 'four-wire')!;
          const c = await asked([...begun(machine.id, 'technician'), ...rest, ...told], 'technician');
          expect(signs(c), `${name} ${check.id} ${told.map((t) => t.value)}`).toEqual([]);
        }
  });

  test('on a meter of many megohms, at rest, it is asked once more and then stops; another number does not undo it', async () => {
    const legs = (a: number, b: number, w: number, lowImpedance?: boolean): Told[] =>
      [
        { fact: 'between_legs_idle', value: w },
        { fact: 'motor_leg_to_neutral_idle', value: a },
        { fact: 'other_leg_to_neutral_idle', value: b },
      ].map((t) => ({ ...t, ...(lowImpedance !== undefined && { lowImpedance }) }));
    const start = begun('dial-single-coil', 'technician');
    const once = await asked([...start, ...legs(88, 152, 240, false)], 'technician');
    expect(signs(once)).toEqual([]);
    expect(once.next).toMatchObject({ check: 'supply-at-block-idle', why: 'repeat' });
    expect(once.verdicts.at(-1)!.is).toBe('floating');
    expect(signs(await asked([...start, ...legs(88, 152, 240, false), ...legs(90, 151, 241, false)], 'technician'))).toEqual([
      'service-neutral',
    ]);
    const better = await asked([...start, ...legs(88, 152, 240, false), ...legs(120, 120, 240, true)], 'technician');
    expect(signs(better)).toEqual(['service-neutral']);
    const ghost = await asked([...start, ...legs(88, 152, 240, false), ...legs(120, 4, 121, true)], 'technician');
    expect(ghost.found).toEqual([{ finding: 'open_neutral', readings: expect.any(Array) }]);
    expect(signs(await asked([...start, ...legs(88, 152, 240)], 'technician'))).toEqual(['service-neutral']);
  });

  test('the circuit simulator, with its own drawing of the house, agrees', async () => {
    const check = k.checks.get('supply-at-block-idle')!;
    for (const machine of k.machines.keys())
      for (const [a, b] of [
        [12, 48],
        [48, 12],
        [18, 23],
      ] as const) {
        const edits: Edit[] = [
          ['open', 'RserviceN'],
          ['value', 'RhouseA', a],
          ['value', 'RhouseB', b],
        ];
        const told = await readOn(buildDryer({ machine, faults: [], edits }), check);
        expect(apart(told as { value: number }[]), JSON.stringify(told)).toBe(true);
        const c = await asked([...begun(machine, 'technician'), ...told], 'technician');
        expect(signs(c), JSON.stringify(told)).toEqual(['service-neutral']);
      }
  });
});

/** What the simulated dryer shows at each place of a check. */
async function readOn(dryer: Dryer, check: Check): Promise<Told[]> {
  const out: Told[] = [];
  for (const { fact, points } of check.measure!.reads) {
    const at = points[dryer.machine] ?? points['*'];
    const lift = check.measure!.lift?.[dryer.machine];
    const how = { what: check.measure!.what, points: at!, state: check.state, lowImpedance: check.measure!.lowImpedance };
    out.push({ fact, value: (await dryer.measure({ ...how, ...(lift && { lift }) })) as Value });
  }
  return out;
}

/** A grounded coil as the project's own circuit shows it: answers a check truthfully, in numbers and in words. */
function grounded(machine: string, family: string, touch: Effect, of: Check): Told[] {
  const circuit = k.machines.get(machine)!;
  const state = k.states.get(of.state)!;
  const lift = of.measure?.lift?.[machine] ?? of.measure?.lift?.['*'];
  const net = of.measure && solve(buildNet(k.supply, circuit, state, { effects: [touch], ...(lift && { lifts: [lift] }) }));
  const numbers = (of.measure?.reads ?? []).flatMap(({ fact, points, branch }): Told[] => {
    const [a, b] = points[machine] ?? points['*'] ?? [];
    if (!net || !a || !b || (state.running && !net.runs(90))) return [];
    const input_ohm = of.measure!.lowImpedance ? LOW_IMPEDANCE_OHM : 10e6;
    const value =
      of.measure!.what === 'ohms'
        ? (net.ohms(a, b, 40e6) ?? 0)
        : of.measure!.what === 'volts'
          ? (net.volts(a, b, input_ohm)?.volts ?? 0)
          : (net.amps(branch?.[machine] ?? branch?.['*'] ?? '') ?? 0);
    return [{ fact, value: value === 'open' ? value : Math.round(value * 10) / 10 }];
  });
  const words = of.settles.filter((fact) => k.facts.get(fact)?.kind === 'choice');
  return [...numbers, ...words.map((fact): Told => ({ fact, value: likely(fact, family) }))];
}
/** What somebody with a grounded coil would mostly say, and nothing that stops the talk by itself. */
function likely(id: string, family: string): string {
  const fact = k.facts.get(id)!;
  const fault = k.faults.get('element-grounded')!;
  const by = fault.signsIn?.[family]?.[id] ?? fault.signs[id] ?? fact.silentIn?.[family] ?? fact.silent ?? {};
  const safe = fact.choices!.filter((c) => !fact.danger?.includes(c) && !fact.noEvidence?.includes(c));
  const words = ['always', 'usual', 'maybe', 'rare', 'never', undefined];
  return [...safe].sort((a, b) => words.indexOf(by[a]) - words.indexOf(by[b]))[0]!;
}

/** Leads a case on from what was told until nothing more is asked; who does not answer declines, but for what must be known first. */
async function ledOn(start: readonly Told[], who: Audience, family: string, answer: (check: Check) => Told[] | Promise<Told[]>) {
  const told = [...start];
  const acts: string[] = [];
  for (let step = 0; step < 60; step++) {
    const { f, p } = caseOf(told, who, family);
    const c = await consult(p, f);
    if (!c.next) return { c, acts };
    const check = k.checks.get(c.next.check)!;
    acts.push(check.id);
    const again = c.next.of === undefined ? undefined : f.readings.find((r) => r.seq === c.next!.of);
    if (again) told.push({ fact: again.fact, value: again.value, act: 'repeat', of: again.repeats ?? again.seq });
    else {
      const given = check.settles.includes('repair_done') ? [{ fact: 'repair_done', value: 'not-yet' }] : await answer(check);
      told.push(...(given.length ? given : [{ act: 'declined', check: check.id } as unknown as Told]));
    }
  }
  throw new Error(`no end: ${acts}`);
}
const runs = (id: string): boolean => {
  const check = k.checks.get(id)!;
  return check.touches.includes('run') || (k.states.get(check.state)?.running ?? false);
};

describe('a coil that touches its case is condemned wherever it touches, and nothing is run after that', {
  timeout: 600_000,
}, () => {
  const PLACES = [0, 0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95, 1];
  const toCase = (machine: string): Check =>
    k.checks.get(machine === 'dial-two-coil' ? 'coil-to-case-ohms-two' : 'coil-to-case-ohms')!;
  const shown = (ohm: number): number => Math.round((ohm + 0.05) * 10) / 10;
  /** Both ends to case, by what is left of the wire on either side; the two coils meet at their common end. */
  const ends = (machine: string, place: number, coil: 1 | 2): [number, number] => {
    if (machine !== 'dial-two-coil') return [shown(10.16 * place), shown(10.16 * (1 - place))];
    const near = shown(20.3 * place);
    const far = shown(20.3 * (1 - place) + 20.3);
    return coil === 1 ? [near, far] : [far, near];
  };
  const cases = [...k.machines.keys()].flatMap((machine) =>
    PLACES.flatMap((place) =>
      (machine === 'dial-two-coil' ? [1, 2] : [1]).map((coil) => ({ machine, place, coil: coil as 1 | 2 })),
    ),
  );
  test.each(cases)('$machine at $place of coil $coil', async ({ machine, place, coil }) => {
    const [a, b] = toCase(machine).settles;
    const [first, second] = ends(machine, place, coil);
    const half = place < 0.5 ? ['coil_a', place * 2] : ['coil_b', place * 2 - 1];
    const [branch, at] = (coil === 2 ? ['coil2', place] : half) as [string, number];
    const touch: Effect = { touch: [branch, at, 'G', 0.05] };
    for (const who of AUDIENCES)
      for (const family of ['no-heat', 'overheats', 'trips-breaker'])
        for (const answers of who === 'technician' ? [true, false] : [false]) {
          const told = [...begun(machine, who), { fact: a!, value: first }, { fact: b!, value: second }];
          const answer = (check: Check) => (answers || check.kind === 'gate' ? grounded(machine, family, touch, check) : []);
          const { c, acts } = await ledOn(told, who, family, answer);
          const name = `${who} ${family} ${first}/${second} ${acts}`;
          expect(acts.filter(runs), name).toEqual([]);
          expect(
            c.found.map((x) => x.finding),
            name,
          ).toContain('path_to_case');
          expect(c.referral?.mayUse, name).toBe('no');
          if (answers) expect(c.conclusion, name).toEqual({ is: 'confirmed', faults: ['element-grounded'] });
        }
  });

  test.each(['no-heat', 'overheats', 'low-heat-long-dry', 'burning-smell'])(
    'a leak through carbon or damp, under the limit of insulation, is not run either: %s',
    async (family) => {
      for (const machine of k.machines.keys())
        for (const ohm of [120, 900, 4700, 50_000, 900_000])
          for (const who of AUDIENCES) {
            const told = [...begun(machine, who), ...toCase(machine).settles.map((fact) => ({ fact, value: ohm }))];
            const touch: Effect = { touch: ['coil_a', 0.3, 'G', ohm] };
            const { c, acts } = await ledOn(told, who, family, (check) => grounded(machine, family, touch, check));
            expect(acts.filter(runs), `${who} ${machine} ${ohm} ${acts}`).toEqual([]);
            expect(c.referral?.mayUse, `${who} ${machine} ${ohm}`).toBe('no');
          }
    },
  );

  test('sound insulation bars nothing', async () => {
    const told = begun('dial-single-coil', 'technician');
    const clear = toCase('dial-single-coil').settles.map((fact): Told => ({ fact, value: 'open' }));
    const c = await asked([...told, ...clear], 'technician', 'overheats');
    expect([c.found, c.silenced]).toEqual([[], []]);
  });

  test('the circuit simulator, with its own coil, agrees', async () => {
    for (const machine of k.machines.keys())
      for (const place of [0.02, 0.17, 0.6, 0.98]) {
        const [first, second, total] =
          machine === 'dial-two-coil' ? ['Rcoil1First', 'Rcoil1Second', 20.72] : ['RcoilFirst', 'RcoilSecond', 10.366];
        const edits: Edit[] = [
          ['value', first as string, place * (total as number)],
          ['value', second as string, (1 - place) * (total as number)],
        ];
        const dryer = createDryer({ machine, faults: ['element-grounded'], edits });
        const answer = async (check: Check) =>
          Object.entries(await dryer.answer(check)).flatMap(([fact, value]): Told[] =>
            value === 'cannot' || value === 'will-not-run' ? [] : [{ fact, value }],
          );
        const told = await answer(toCase(machine));
        const { c, acts } = await ledOn([...begun(machine, 'technician'), ...told], 'technician', 'no-heat', answer);
        expect(acts.filter(runs), JSON.stringify(told)).toEqual([]);
        expect(c.conclusion, `${JSON.stringify(told)} ${acts}`).toEqual({ is: 'confirmed', faults: ['element-grounded'] });
      }
  });
});

describe('a middle voltage across a part that is closed when sound', () => {
  const across: [machine: string, fact: string][] = [
    ['dial-single-coil', 'motor_contact_volts'],
    ['dial-single-coil', 'limit_volts'],
    ['dial-two-coil', 'cycling_volts'],
    ['electronic-relay-thermistor', 'control_contact_volts'],
  ];
  test.each(across)('%s %s: a burning contact on low impedance, nothing proved without', async (machine, fact) => {
    for (const value of [12, 20, 75, 150, 190])
      for (const who of AUDIENCES) {
        const real = await asked([...begun(machine, who), { fact, value, lowImpedance: true }], who);
        expect(real.verdicts.at(-1), `${value}`).toMatchObject({ is: 'burning', rule: 'burning-contact' });
        expect(signs(real)).toEqual(['burning-contact']);
        const ghost = await asked([...begun(machine, who), { fact, value }], who);
        expect(ghost.verdicts.at(-1)!.is).toBe('floating');
        expect(signs(ghost)).toEqual([]);
      }
    for (const value of [0.4, 3, 235]) {
      const c = await asked([...begun(machine, 'technician'), { fact, value, lowImpedance: true }], 'technician');
      expect(signs(c), String(value)).toEqual([]);
    }
  });
  test('a full reading of a 208 V supply is no middle one, whether the legs were read or not', async () => {
    const open = { fact: 'limit_volts', value: 205, lowImpedance: true };
    const legs = [
      { fact: 'between_legs_idle', value: 208 },
      { fact: 'motor_leg_to_neutral_idle', value: 120 },
      { fact: 'other_leg_to_neutral_idle', value: 120 },
    ];
    const start = begun('dial-single-coil', 'technician');
    expect(signs(await asked([...start, open], 'technician'))).toEqual([]);
    expect(signs(await asked([...start, ...legs, open], 'technician'))).toEqual([]);
    const low = { ...open, value: 180 };
    expect(signs(await asked([...start, ...legs, low], 'technician'))).toEqual(['burning-contact']);
  });
  test('across a coil, or with the heat off, it is none', async () => {
    for (const fact of ['coil_volts', 'string_volts_air_only', 'control_half_volts']) {
      const c = await asked([...begun('dial-single-coil', 'technician'), { fact, value: 100, lowImpedance: true }], 'technician');
      expect(signs(c), fact).toEqual([]);
    }
  });
});

describe('volts on the cabinet', () => {
  test.each(AUDIENCES)('stop a %s', async (who) => {
    for (const value of [12, 62, 120]) {
      const c = await asked([...begun('dial-single-coil', who), { fact: 'case_volts', value }], who);
      expect(signs(c)).toEqual(['live-cabinet']);
      expect(c.verdicts.at(-1)!.is).toBe('high');
    }
    expect(signs(await asked([...begun('dial-single-coil', who), { fact: 'case_volts', value: 0.6 }], who))).toEqual([]);
  });
});
