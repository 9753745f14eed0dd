import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import faultsFile from '../../../rules/knowledge/faults.json' with { type: 'json' };
import { applyEffects, buildNet, LEAK_S, type NetOptions, solve, takesHold } from '../../../rules/physics/index.ts';
import type { Circuit, Effect, Fault } from '../../../rules/types.ts';
import { limit, MACHINES, METERS, STATES, SUPPLY } from './knowledge.ts';

const faults = faultsFile.faults as unknown as Fault[];
const meter = METERS.get('meter-4000-count')!;
const LEAST_V = limit('motor-least-volts').lo;
const made = (machine: string, state: string, options: NetOptions = {}) =>
  solve(buildNet(SUPPLY, MACHINES.get(machine)!, STATES.get(state)!, options));
const open = (branch: string): Effect => ({ branch, ohm: 'open' });

const machine = fc.constantFrom(...MACHINES.values());
const world = fc.record({
  circuit: machine,
  state: fc.constantFrom(...STATES.values()),
  hookup: fc.constantFrom('four-wire' as const, 'three-wire' as const),
  effects: fc.subarray(faults, { maxLength: 2 }).map((some) => some.flatMap((f) => f.effects)),
  at: fc.tuple(fc.nat(), fc.nat()),
});
const pointsOf = (circuit: Circuit, [a, b]: [number, number]): [string, string] => [
  circuit.nodes[a % circuit.nodes.length]!.id,
  circuit.nodes[b % circuit.nodes.length]!.id,
];

describe('laws of any net of ours, under any two faults', () => {
  test('reciprocity: which lead is red does not matter, to volts or to ohms', () => {
    fc.assert(
      fc.property(world, ({ circuit, state, at, ...options }) => {
        const s = solve(buildNet(SUPPLY, circuit, state, options));
        const [a, b] = pointsOf(circuit, at);
        const there = s.volts(a, b, 1e7)!;
        const back = s.volts(b, a, 1e7)!;
        expect(back.volts).toBeCloseTo(there.volts, 9);
        expect(Math.abs(back.source_ohm - there.source_ohm)).toBeLessThanOrEqual(1e-9 * there.source_ohm);
      }),
      { numRuns: 400, seed: 3 },
    );
  });

  test('passivity: no point stands higher than the sources, no resistance is below zero, a meter only pulls down', () => {
    fc.assert(
      fc.property(world, ({ circuit, state, at, ...options }) => {
        const s = solve(buildNet(SUPPLY, circuit, state, options));
        const [a, b] = pointsOf(circuit, at);
        // The motor is inductive, so a little above the sources' own volts is not ruled out; nothing like a doubling is.
        expect(s.volts(a, b, 1e7)!.open_v).toBeLessThanOrEqual(241);
        expect(s.volts(a, b, 3000)!.volts).toBeLessThanOrEqual(s.volts(a, b, 1e7)!.volts * (1 + 1e-9) + 1e-9);
        const ohms = s.ohms(a, b, meter.over_range_ohm);
        if (typeof ohms === 'number') expect(ohms).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 400, seed: 4 },
    );
  });

  test('linearity: 5 % more at the sources is 5 % more at every point and in every branch', () => {
    fc.assert(
      fc.property(world, ({ circuit, state, at, ...options }) => {
        const [a, b] = pointsOf(circuit, at);
        const s = solve(buildNet(SUPPLY, circuit, state, options));
        const more = solve(buildNet(SUPPLY, circuit, state, { ...options, sourceScale: 1.05 }));
        expect(more.volts(a, b, 1e7)!.volts).toBeCloseTo(1.05 * s.volts(a, b, 1e7)!.volts, 9);
        expect(more.amps('cordB') ?? 0).toBeCloseTo(1.05 * (s.amps('cordB') ?? 0), 9);
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  test('what flows in flows out: at every node of the machine the currents of its branches and its leak add up to nothing', () => {
    fc.assert(
      fc.property(world, ({ circuit, state, at: _, ...options }) => {
        const net = buildNet(SUPPLY, circuit, state, options);
        const s = solve(net);
        for (const { id } of circuit.nodes) {
          const [er, ei] = s.phasor(id, SUPPLY.reference)!;
          let re = er * LEAK_S;
          let im = ei * LEAK_S;
          let largest = 0;
          for (const b of net.branches) {
            if (b.a === b.b || (b.a !== id && b.b !== id)) continue;
            const [vr, vi] = s.phasor(id, b.a === id ? b.b : b.a)!;
            const size = b.re_ohm ** 2 + b.im_ohm ** 2;
            re += (vr * b.re_ohm + vi * b.im_ohm) / size;
            im += (vi * b.re_ohm - vr * b.im_ohm) / size;
            largest = Math.max(largest, s.amps(b.id)!);
          }
          expect(Math.hypot(re, im)).toBeLessThanOrEqual(1e-8 + 1e-8 * largest);
        }
      }),
      { numRuns: 100, seed: 6 },
    );
  });
});

describe('the motor', () => {
  test.each([...MACHINES.keys()])('%s: runs when sound, in every running state and in no other', (id) => {
    for (const state of STATES.values()) expect(made(id, state.id).runs(LEAST_V)).toBe(state.running);
  });
  test.each([...MACHINES.keys()])(
    '%s: a lost motor leg is a dead dryer, even where the heater could feed the motor back',
    (id) => {
      const s = made(id, 'run-high', { effects: [open('brA')] });
      expect(s.runs(LEAST_V)).toBe(false);
      expect(s.motor!.start_v).toBeLessThan(LEAST_V);
    },
  );
  test('on a board the heater would hold the motor up once it turned: only the start tells', () => {
    const s = made('electronic-relay-thermistor', 'run-high', { effects: [open('brA')] });
    expect(s.motor!.run_v).toBeGreaterThan(LEAST_V);
    expect(s.motor!.start_v).toBeLessThan(1);
  });
  test.each([
    ['the other leg lost', open('brB'), true],
    ['the branch neutral open', open('brN'), false],
    ['the door switch open', open('door'), false],
    ['the belt switch open', open('belt_switch'), false],
    ['the outlet fuse open', open('outlet_fuse'), false],
    ['the cut-off open', open('cutoff'), true],
  ])('%s: runs = %o', (_, effect, runs) => {
    for (const id of MACHINES.keys()) expect(made(id, 'run-high', { effects: [effect] }).runs(LEAST_V)).toBe(runs);
  });
});

describe('effects in the words of one machine', () => {
  const two = MACHINES.get('dial-two-coil')!;
  test('what the machine does not have is void', () => {
    expect(takesHold(SUPPLY, two, open('heater_relay'))).toBe(false);
    const sound = made('dial-two-coil', 'run-high').amps('cordB');
    expect(made('dial-two-coil', 'run-high', { effects: [open('heater_relay')] }).amps('cordB')).toBe(sound);
  });
  test('an alias and the own name are one effect', () => {
    const applied = applyEffects(SUPPLY, two, [{ add: ['EM', 'G', 0.05] }, { add: ['E1M', 'G', 0.05] }, open('coil_a')]);
    expect(applied.adds).toEqual([['E1M', 'G', 0.05]]);
    expect([...applied.branches]).toEqual([['coil1a', { open: true }]]);
  });
  test('open stands above a weld and above a resistance, whatever the order', () => {
    for (const effects of [
      [open('cutoff'), { branch: 'cutoff', ohm: 'closed' }],
      [{ branch: 'cutoff', ohm: 2 }, open('cutoff')],
    ] as Effect[][])
      expect(made('dial-single-coil', 'run-high', { effects }).amps('cordB')).toBeCloseTo(0, 3);
  });
  test('a contact that stays in is judged by the state itself, not by the table it borrows', () => {
    const knob: Effect[] = [{ contact: 'timer_heat', staysIn: ['unplugged-shaft'] }];
    expect(made('dial-single-coil', 'unplugged-shaft', { effects: knob }).ohms('T1', 'T2', 4e7)).toBeCloseTo(0.02, 3);
    expect(made('dial-single-coil', 'unplugged-heat', { effects: knob }).ohms('T1', 'T2', 4e7)).toBe('open');
  });
  test('neutral and motor leg changed places: each cord conductor lands once', () => {
    const net = buildNet(SUPPLY, two, STATES.get('run-high')!, { effects: [{ join: ['PLA', 'N'] }, { join: ['PLN', 'L1'] }] });
    expect(net.branches.filter((b) => b.id.startsWith('cord')).map(({ a, b }) => [a, b])).toEqual([
      ['PLA', 'N'],
      ['PLB', 'L2'],
      ['PLN', 'L1'],
      ['PLG', 'G'],
    ]);
  });
  test('a lead taken off opens what it fed, and an unknown lead or supply is our own mistake', () => {
    expect(made('dial-two-coil', 'unplugged-heat', { lifts: ['coil-2-lead'] }).ohms('K1', 'K2', 4e7)).toBeCloseTo(40.6, 1);
    expect(() => made('dial-two-coil', 'unplugged-heat', { lifts: ['thermistor-plug'] })).toThrow('no lead');
    expect(() => made('dial-two-coil', 'unplugged-heat', { system: 'none' })).toThrow('no supply system');
  });
});

describe('what an ohmmeter is good for', () => {
  test('nothing where volts are, and nothing where no such point is', () => {
    expect(made('dial-single-coil', 'idle-off').ohms('L1', 'L2', 4e7)).toBeUndefined();
    expect(made('dial-single-coil', 'unplugged-off').ohms('RA', 'RB', 4e7)).toBeUndefined();
    expect(made('dial-single-coil', 'unplugged-off').ohms('H1', 'HC', 4e7)).toBeUndefined();
    expect(made('dial-single-coil', 'unplugged-off').volts('H1', 'HC', 1e7)).toBeUndefined();
    expect(made('dial-single-coil', 'unplugged-off').amps('heater_relay')).toBeUndefined();
  });
  test('the receptacle stays live with the plug out, and the machine is dead', () => {
    const s = made('dial-single-coil', 'unplugged-off');
    expect(s.volts('RA', 'RB', 1e7)!.volts).toBeGreaterThan(235);
    expect(s.volts('L1', 'L2', 1e7)!.volts).toBeLessThan(0.01);
  });
  test('a dead point looks back into megohms, a held one into next to nothing', () => {
    const least = limit('floating-source').lo;
    const s = made('dial-single-coil', 'run-noheat', { effects: [open('cutoff')] });
    expect(s.volts('L1', 'T2', 1e7)!.source_ohm).toBeGreaterThan(least);
    expect(made('dial-single-coil', 'run-noheat').volts('L1', 'T2', 1e7)!.source_ohm).toBeLessThan(20);
  });
  test.each([
    ['low', 9000 * 0.11],
    ['high', 9000 * 1.67],
  ] as const)('parts that vary are read at the %s end when asked', (parts, ohms) => {
    expect(made('dial-two-coil', 'unplugged-heat', { parts }).ohms('SB', 'MH', 4e7)).toBeCloseTo(ohms, 1);
  });
  test('another plate rescales the coil: hot when plugged in, cold when not', () => {
    const coil = { hot_ohm: 9.6, cold_ohm: 9 };
    expect(made('dial-single-coil', 'unplugged-off', { coil }).ohms('E1', 'E2', 4e7)).toBeCloseTo(9, 6);
    expect(made('dial-two-coil', 'unplugged-off', { coil, lifts: ['coil-2-lead'] }).ohms('H1', 'HC', 4e7)).toBeCloseTo(18, 6);
    expect(made('dial-single-coil', 'run-high', { coil }).amps('coil_a')).toBeGreaterThan(24);
  });
});
