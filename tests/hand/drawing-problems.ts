import { orDidYouMean } from '../../rules/knowledge/closest.ts';
import type { Knowledge } from '../../rules/types.ts';
import { isDrawn, unread } from '../dryer/netlist.ts';
import { drawnOn } from './dryer-problems.ts';
import type { Positions } from './shapes.ts';

const FILE = 'tests/dryer/netlists/positions.json';

/** The drawings made by hand against the machines: each is drawn, whole, and its contacts stand somewhere in every state. */
export function drawingProblems(k: Knowledge, positions: Positions): string[] {
  const machines = [...k.machines.keys()];
  const drawn = machines.filter(isDrawn);
  const states = Object.keys(positions.states);
  const out: string[] = [];
  for (const id of machines)
    if (!isDrawn(id)) out.push(`tests/dryer/netlists/${id}.cir: is missing; every machine is drawn a second time, by hand`);
  for (const name of ['supply', ...drawn])
    for (const line of unread(name))
      out.push(`tests/dryer/netlists/${name}.cir: "${line}" is no element; a line begins with R, L, C or V, a remark with *`);
  for (const id of drawn) {
    const own = positions.machines[id];
    if (!own) out.push(`${FILE}, machines: "${id}" is missing; which contacts stand open in which state`);
    const { elements } = drawnOn(id);
    for (const state of own ? states : [])
      if (!own![state]) out.push(`${FILE}, machines.${id}: "${state}" is missing; the contacts that stand open in it`);
    for (const [field, by] of [
      ['machines', own ?? {}],
      ['lifts', positions.lifts[id] ?? {}],
    ] as const)
      for (const [key, names] of Object.entries(by)) {
        if (field === 'machines' && !states.includes(key))
          out.push(`${FILE}, machines.${id}: there is no state "${key}"${orDidYouMean(key, states)}`);
        for (const name of names)
          if (!elements.has(name))
            out.push(`${FILE}, ${field}.${id}.${key}: the drawing has no element "${name}"${orDidYouMean(name, elements)}`);
      }
    const { attributes } = k.machines.get(id)!;
    for (const kind of positions.kinds[id] ?? [])
      if (!attributes.includes(kind))
        out.push(`${FILE}, kinds.${id}: "${kind}" is no attribute of the machine${orDidYouMean(kind, attributes)}`);
    const leads = k.machines.get(id)!.lifts.map((l) => l.id);
    for (const lead of own ? leads : [])
      if (!positions.lifts[id]?.[lead]) out.push(`${FILE}, lifts.${id}: "${lead}" is missing; what comes off with that lead`);
    for (const lead of Object.keys(positions.lifts[id] ?? {}))
      if (!leads.includes(lead)) out.push(`${FILE}, lifts.${id}: the machine has no lead "${lead}"${orDidYouMean(lead, leads)}`);
  }
  for (const state of k.states.keys())
    if (!states.includes(state)) out.push(`${FILE}, states: "${state}" is missing; where the plug and the motor are in it`);
  return out;
}
