import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import type { Circuit } from '../../../rules/types.ts';
import { factsOfSupply, listedAs, listedPlaces } from '../../../server/place/listed.ts';
import { differByLeg, type Pair, SAID_OF_SUPPLY, SUPPLY_SAID, supplyRole } from '../../../server/place/place.ts';
import { freeFact, pointsRead, readsAt, readsOf } from '../../../server/place/reads.ts';

const k = knowledge();
const machine = (id: string): Circuit => k.machines.get(id)!;
const single = machine('dial-single-coil');

describe('what two points read of the supply', () => {
  test.each<[Pair, string | undefined]>([
    [['L1', 'L2'], 'across'],
    [['RB', 'RA'], 'across'],
    [['L1', 'N'], 'legA'],
    [['RN', 'RA'], 'legA'],
    [['L2', 'N'], 'legB'],
    [['RB', 'RN'], 'legB'],
    [['L1', 'RN'], undefined],
    [['E1', 'E2'], undefined],
    [['G', 'E'], undefined],
  ])('%j: %s', (points, role) => expect(supplyRole(k.supply, points)).toBe(role));
  test('each has words of its own, and they lead back to it', () => {
    for (const [role, said] of Object.entries(SAID_OF_SUPPLY)) expect(SUPPLY_SAID.get(said)).toBe(role);
    expect(SUPPLY_SAID.get('neutral')).toBeUndefined();
  });
  test.each<[Pair, Pair, boolean]>([
    [['L1', 'N'], ['L2', 'N'], true],
    [['RN', 'RA'], ['RB', 'RN'], true],
    [['L1', 'N'], ['L1', 'L2'], false],
    [['L1', 'N'], ['L1', 'N'], false],
    [['E1', 'G'], ['E2', 'G'], false],
  ])('%j and %j differ by the leg alone: %s', (a, b, so) => expect(differByLeg(k, a, b)).toBe(so));
});

describe('which readings are taken there', () => {
  const facts = (circuits: Circuit[], where: Parameters<typeof readsAt>[2]) =>
    readsAt(k, circuits, where).map((read) => read.fact);
  test('between two points in one state, whichever way round', () => {
    const at = { points: ['E2', 'E1'], state: 'unplugged-off', unit: 'Ω' } as const;
    expect(facts([single], at)).toContain('coil_ohms');
    expect(facts([single], { ...at, unit: 'V' })).toEqual([]);
    expect(facts([single], { ...at, state: 'run-high' })).toEqual([]);
  });
  test('of the supply, with the cord in or out', () => {
    expect(facts([single], { role: 'legB', unit: 'V', plugged: false })).toEqual(['other_leg_to_neutral_receptacle']);
    expect(facts([single], { role: 'legB', unit: 'V', state: 'idle-off' })).toEqual(['other_leg_to_neutral_idle']);
  });
  test('at the points of the first drawing, and never as a proof', () => {
    for (const m of k.machines.values())
      for (const read of readsAt(k, [m], {})) {
        expect(m.nodes.concat(k.supply.nodes).map((n) => n.id)).toEqual(expect.arrayContaining([...read.points]));
        expect(read.check.kind).not.toBe('proof');
      }
  });
  test('a lead that comes off first comes with its reading', () => {
    const two = machine('dial-two-coil');
    const lifted = readsAt(k, [two], { state: 'unplugged-off', unit: 'Ω' }).filter((read) => read.lift !== undefined);
    expect(lifted.map((read) => read.fact)).toContain('coil_2_ohms');
    for (const { lift } of lifted) expect(two.lifts.map((l) => l.id)).toContain(lift);
  });
  test('a reading lies where it was told to lie, else where its check is done', () => {
    const told = {
      seq: 1,
      fact: 'coil_ohms',
      check: 'coil-ohms',
      value: 10,
      state: 'unplugged-off',
      said: '',
      by: 'agent',
    } as const;
    const [own] = readsOf(k, k.checks.get('coil-ohms')!, single);
    expect(pointsRead(k, single, told)).toEqual(own!.points);
    expect(pointsRead(k, single, { ...told, points: ['E1', 'G'] })).toEqual(['E1', 'G']);
    expect(pointsRead(k, machine('dial-two-coil'), { ...told, check: undefined })).toBeUndefined();
  });
  test('volts and ohms may be read between any two points, amps not', () => {
    expect([freeFact(k, 'V'), freeFact(k, 'Ω'), freeFact(k, 'A')]).toEqual(['volts_between', 'ohms_between', undefined]);
  });
});

describe('what a fact’s place says of its numbers', () => {
  const places = listedPlaces(k);
  test('every reading of the supply that a check asks for has its place and state', () => {
    for (const check of k.checks.values())
      for (const read of readsOf(k, check, single)) {
        const role = read.unit === 'V' ? supplyRole(k.supply, read.points) : undefined;
        expect(listedAs(places, read.fact).role, read.fact).toBe(role);
        if (role || read.unit === 'A') expect(listedAs(places, read.fact).state, read.fact).toBe(check.state);
      }
    expect(Object.values(factsOfSupply(places)).map((facts) => facts.length > 1)).toEqual([true, true, true]);
  });
  test.each([
    ['coil_volts', { state: 'run-high', closedPath: false, kiloOhms: false }],
    ['limit_volts', { closedPath: false, kiloOhms: false }],
    ['limit_ohms', { closedPath: true, kiloOhms: false }],
    ['belt_switch_ohms', { closedPath: true, kiloOhms: false }],
    ['thermistor_ohms', { closedPath: false, kiloOhms: true }],
    ['bias_heater_ohms', { closedPath: false, kiloOhms: true }],
    ['cycling_ohms', { closedPath: true, kiloOhms: false }],
    ['coil_ohms', { closedPath: false, kiloOhms: false }],
    ['warmth', { closedPath: false, kiloOhms: false }],
  ])('%s: %j', (fact, as) => expect(listedAs(places, fact)).toEqual(as));
});
