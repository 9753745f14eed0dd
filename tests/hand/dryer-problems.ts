import { word } from '../../rules/engine/likelihood.ts';
import { wordsOfTalk } from '../../rules/engine/talk.ts';
import { orDidYouMean } from '../../rules/knowledge/closest.ts';
import type { Fault, Knowledge } from '../../rules/types.ts';
import { namesFor } from '../dryer/faults.ts';
import { isDrawn, readNetlist } from '../dryer/netlist.ts';
import { CIRCUIT_FACTS } from '../dryer/senses.ts';
import sound from '../dryer/sound.json' with { type: 'json' };
import type { DryerFaults, Positions } from './shapes.ts';

type Row = DryerFaults[string];
const SOUND: Readonly<Record<string, string>> = sound;
const FILE = 'tests/dryer/faults.json';

/** The simulated dryer's table against the drawings and the knowledge: machines, elements, points, and what a person would answer. */
export function dryerProblems(k: Knowledge, table: DryerFaults, positions: Positions): string[] {
  const systems = Object.keys(positions.systems);
  const missing = [...k.faults.keys()].filter((id) => !Object.hasOwn(table, id));
  return [
    ...missing.map((id) => `${FILE}, fault "${id}": is missing; what it does in the netlists and what is told of it`),
    ...Object.entries(table).flatMap(([id, row]) => {
      const fault = k.faults.get(id);
      const problems = [
        ...drawingProblems(k, row),
        ...systemProblems(row, systems),
        ...(fault ? [...fitProblems(k, row, fault), ...toldProblems(k, row, fault)] : []),
      ];
      return [...new Set(problems)].map((problem) => `${FILE}, fault "${id}", ${problem}`);
    }),
  ];
}

/** Machine ids a key of `on` stands for, as far as they are drawn; undefined = it stands for none. */
function machinesOf(k: Knowledge, key: string): string[] | undefined {
  const named = [...k.machines.keys()].filter((id) => namesFor(id).includes(key));
  return named.length ? named.filter(isDrawn) : undefined;
}

function drawingProblems(k: Knowledge, row: Row): string[] {
  const out: string[] = [];
  for (const [at, part] of partsOf(row))
    for (const [key, edits] of Object.entries(part.on ?? {})) {
      const machines = machinesOf(k, key);
      if (!machines) {
        const known = new Set([...k.machines.keys()].flatMap(namesFor));
        out.push(`${at}on: there is no machine "${key}"${orDidYouMean(key, known)}`);
        continue;
      }
      for (const machine of machines) {
        const drawn = drawnOn(machine);
        for (const change of edits) {
          const [what, first] = change;
          if (what !== 'bridge' && !drawn.elements.has(first))
            out.push(`${at}on.${key}: "${machine}" has no element "${first}"${orDidYouMean(first, drawn.elements)}`);
          const points = what === 'bridge' ? [change[1], change[2]] : what === 'land' ? [change[2], change[3]] : [];
          for (const point of points)
            if (!drawn.points.has(point))
              out.push(`${at}on.${key}: "${machine}" has no point "${point}"${orDidYouMean(point, drawn.points)}`);
        }
      }
    }
  const everywhere = new Set([...k.machines.keys()].filter(isDrawn).flatMap((id) => [...drawnOn(id).elements]));
  for (const [at, part] of partsOf(row))
    for (const [field, names] of [
      ['hot', part.hot ?? []],
      ['openExcept', Object.keys(part.openExcept ?? {})],
      ['openIn', Object.keys(part.openIn ?? {})],
    ] as const)
      for (const name of names)
        if (!everywhere.has(name))
          out.push(`${at}${field}: no drawing has an element "${name}"${orDidYouMean(name, everywhere)}`);
  return out;
}
const systemProblems = (row: Row, systems: readonly string[]): string[] =>
  partsOf(row).flatMap(([at, { system }]) =>
    system === undefined || systems.includes(system)
      ? []
      : [`${at}system: there is no supply system "${system}"${orDidYouMean(system, systems)}`],
  );

type Part = Partial<Omit<Row, 'in'>>;
const partsOf = (row: Row): [at: string, part: Part][] => [
  ['', row],
  ...Object.entries(row.in ?? {}).map(([family, part]): [string, Part] => [`in.${family}.`, part]),
];

/** Kept for the life of the process. */
const drawings = new Map<string, { elements: ReadonlySet<string>; points: ReadonlySet<string> }>();
/** The elements and points of a machine with its supply. */
export function drawnOn(machine: string) {
  let drawn = drawings.get(machine);
  if (!drawn) {
    const all = [...readNetlist('supply'), ...readNetlist(machine)];
    drawn = { elements: new Set(all.map((e) => e.name)), points: new Set(all.flatMap((e) => [e.a, e.b])) };
    drawings.set(machine, drawn);
  }
  return drawn;
}

/** The dryer has the fault on every machine that it fits, and on no other. */
function fitProblems(k: Knowledge, row: Row, fault: Fault): string[] {
  const keys = partsOf(row).flatMap(([, part]) => Object.keys(part.on ?? {}));
  const on = new Set(keys.flatMap((key) => machinesOf(k, key) ?? []));
  return [...k.machines.values()].flatMap((m) => {
    const fits = fault.fits.every((a) => m.attributes.includes(a));
    if (fits && isDrawn(m.id) && !on.has(m.id)) return [`on: "${m.id}" is missing; the fault fits it`];
    return !fits && on.has(m.id) && keys.includes(m.id) ? [`on.${m.id}: the fault does not fit this machine`] : [];
  });
}

/**
 * What a person before this dryer answers is what faults.json lets the fault show: the likeliest answer told, else, of a fact the circuit
 * does not answer, that of a sound machine. Complaint by complaint.
 */
function toldProblems(k: Knowledge, row: Row, fault: Fault): string[] {
  const out: string[] = [];
  for (const family of Object.keys(fault.weight)) {
    const talk = wordsOfTalk(k, [family]);
    const under = [row, ...(family === 'no-heat' ? [] : [row.in?.others ?? {}]), row.in?.[family] ?? {}];
    const told = Object.assign({}, ...under.map((part) => part.told ?? {})) as NonNullable<Row['told']>;
    const unlike = Object.assign({}, ...under.map((part) => part.unlike ?? {})) as Record<string, string>;
    for (const [fact, by] of Object.entries(talk.faults.get(fault.id)!.signs)) {
      const said = told[fact];
      if (said === undefined && CIRCUIT_FACTS.includes(fact)) continue;
      const answer = said === undefined ? SOUND[fact] : Array.isArray(said) ? said[0]! : said;
      const may = answer !== undefined && (word(talk, [fault.id], fact, answer) ?? 'never') !== 'never';
      if (may || unlike[fact]) continue;
      const gives = Object.keys(by)
        .filter((a) => by[a] !== 'never')
        .join(', ');
      out.push(
        said === undefined
          ? `told.${fact}: is missing; a sound dryer's "${answer}" is none of ${gives}, which faults.json gives (${family})`
          : `told.${fact}: "${answer}" is none of ${gives}, which faults.json gives (${family}); unlike says why, if that is meant`,
      );
    }
  }
  return out;
}
