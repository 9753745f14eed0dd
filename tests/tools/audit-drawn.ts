import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { orDidYouMean } from '../../rules/knowledge/closest.ts';
import type { Circuit, Knowledge } from '../../rules/types.ts';
import { editsOf, FAULTS } from '../dryer/faults.ts';
import { type Edit, readNetlist } from '../dryer/netlist.ts';

const NETLISTS = join(import.meta.dirname, '../dryer/netlists');
const POSITIONS = 'tests/dryer/netlists/positions.json';

/** positions.json: what stands where in which state, by the names of the drawings. */
export interface Positions {
  states: Record<string, unknown>;
  kinds: Record<string, string[]>;
  /** machine -> state -> what stands open. */
  machines: Record<string, Record<string, string[]>>;
  /** machine -> lead -> what comes off with it. */
  lifts: Record<string, Record<string, string[]>>;
}
export const positionsThere = (): Positions => JSON.parse(readFileSync(join(NETLISTS, 'positions.json'), 'utf8')) as Positions;

/** Faults and machines that the simulated dryer of the tests does not know, wholly or in part: no world would ever show them, or show them wrong. */
export function undrawn(k: Knowledge, positions = positionsThere()): string[] {
  const states = [...k.states.keys()];
  return [
    ...[...k.faults.keys()]
      .filter((id) => !Object.hasOwn(FAULTS, id))
      .map((id) => `tests/dryer/faults.json, fault "${id}": is missing; what it does in the netlists and what is told of it`),
    ...namesAmiss(`${POSITIONS}, states`, 'state', Object.keys(positions.states), states),
    ...(['machines', 'kinds', 'lifts'] as const).flatMap((key) =>
      namesAmiss(`${POSITIONS}, ${key}`, 'machine', Object.keys(positions[key]), [...k.machines.keys()]),
    ),
    ...[...k.machines.values()].flatMap((m) => {
      if (!existsSync(join(NETLISTS, `${m.id}.cir`)))
        return [`tests/dryer/netlists/${m.id}.cir: is missing; every machine is drawn a second time, by hand`];
      const drawn = [...readNetlist('supply'), ...readNetlist(m.id)].map(({ name }) => name);
      return [...positionsAmiss(m, states, drawn, positions), ...faultsAmiss(k, m, drawn)];
    }),
  ];
}

/** Names that are missing, and names that nothing is called by. */
function namesAmiss(where: string, called: string, there: readonly string[], wanted: readonly string[]): string[] {
  return [
    ...wanted.filter((id) => !there.includes(id)).map((id) => `${where}.${id}: is missing; the knowledge has that ${called}`),
    ...there
      .filter((id) => !wanted.includes(id))
      .map((id) => `${where}.${id}: there is no ${called} "${id}"${orDidYouMean(id, wanted)}`),
  ];
}

function positionsAmiss(m: Circuit, states: readonly string[], drawn: readonly string[], positions: Positions): string[] {
  const at = (key: string): string => `${POSITIONS}, ${key}.${m.id}`;
  const contacts = positions.machines[m.id];
  const lifts = positions.lifts[m.id];
  const kinds = positions.kinds[m.id] ?? [];
  return [
    ...(contacts ? namesAmiss(at('machines'), 'state', Object.keys(contacts), states) : []),
    ...undrawnElements(at('machines'), contacts, m, drawn),
    ...(lifts
      ? namesAmiss(
          at('lifts'),
          'lead that lifts',
          Object.keys(lifts),
          m.lifts.map(({ id }) => id),
        )
      : []),
    ...undrawnElements(at('lifts'), lifts, m, drawn),
    ...kinds
      .filter((kind) => !m.attributes.includes(kind))
      .map((kind) => `${at('kinds')}: "${kind}" is no attribute of the machine${orDidYouMean(kind, m.attributes)}`),
  ];
}

function undrawnElements(
  where: string,
  by: Readonly<Record<string, readonly string[]>> | undefined,
  m: Circuit,
  drawn: readonly string[],
): string[] {
  return Object.entries(by ?? {}).flatMap(([name, elements]) =>
    elements
      .filter((element) => !drawn.includes(element))
      .map((element) => `${where}.${name}: ${m.id}.cir has no "${element}"${orDidYouMean(element, drawn)}`),
  );
}

/** Faults that fit the machine and that faults.json does not put into its drawing, or by names the drawing does not have. */
function faultsAmiss(k: Knowledge, m: Circuit, drawn: readonly string[]): string[] {
  return [...k.faults.values()].flatMap((fault) => {
    if (!Object.hasOwn(FAULTS, fault.id) || !fault.fits.every((attribute) => m.attributes.includes(attribute))) return [];
    const where = `tests/dryer/faults.json, fault "${fault.id}", on`;
    const edits = editsOf(fault.id, m.id);
    if (!edits)
      return [`${where}: nothing for "${m.id}", which the fault fits; its id, one of its kinds in positions.json, or "every"`];
    return edits
      .flatMap(elementsOf)
      .filter((element) => !drawn.includes(element))
      .map((element) => `${where}: ${m.id}.cir has no "${element}"${orDidYouMean(element, drawn)}`);
  });
}
const elementsOf = (change: Edit): string[] => (change[0] === 'bridge' ? [] : [change[1]]);
