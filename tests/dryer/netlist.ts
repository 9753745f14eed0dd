import { existsSync, readFileSync } from 'node:fs';

/** One line of a netlist: a two-ended element and the rest of its line (its value). */
export interface Element {
  name: string;
  a: string;
  b: string;
  value: string;
}
/** What is done to a drawing, in the words of somebody with pliers. */
export type Edit =
  | ['open', element: string]
  | ['shut', element: string]
  | ['value', element: string, value: number | string]
  | ['bridge', a: string, b: string, ohm: number]
  | ['land', element: string, a: string, b: string];

const INSULATION_OHM = 5e9;

const fileOf = (name: string) => new URL(`./netlists/${name}.cir`, import.meta.url);
export const isDrawn = (name: string): boolean => existsSync(fileOf(name));
const linesOf = (name: string): string[] => readFileSync(fileOf(name), 'utf8').split('\n');

/** Lines of a drawing that are no element, no remark and no order: left out of it, and nobody would know. */
export const unread = (name: string): string[] => linesOf(name).filter((line) => line.trim() !== '' && !/^[RLCV*.+]/.test(line));

export function readNetlist(name: string): Element[] {
  return linesOf(name)
    .filter((line) => /^[RLCV]/.test(line))
    .map((line) => {
      const [element, a, b, ...value] = line.trim().split(/\s+/);
      if (!element || !a || !b || value.length === 0) throw new Error(`${name}.cir: cannot read "${line}"`);
      return { name: element, a, b, value: value.join(' ') };
    });
}

/**
 * The drawing after the edits. An open element is taken out; naming one that is not drawn is an error of ours.
 * `whole`: the drawing with the parts this dryer came without, which an edit may name, and shut brings in.
 */
export function edit(drawing: readonly Element[], edits: readonly Edit[], whole = drawing): Element[] {
  let elements = drawing.map((element) => ({ ...element }));
  /** Already taken out = nothing left to change. */
  const find = (name: string) => {
    if (whole.every((drawn) => drawn.name !== name)) throw new Error(`no element ${name} to edit`);
    return elements.find((element) => element.name === name);
  };
  for (const [index, change] of edits.entries()) {
    switch (change[0]) {
      case 'open':
        find(change[1]);
        elements = elements.filter(({ name }) => name !== change[1]);
        break;
      case 'shut': {
        const drawn = whole.find(({ name }) => name === change[1]);
        if (!drawn) throw new Error(`no element ${change[1]} to shut`);
        if (elements.every(({ name }) => name !== change[1])) elements.push({ ...drawn });
        break;
      }
      case 'value': {
        const changed = find(change[1]);
        if (changed) changed.value = String(change[2]);
        break;
      }
      case 'bridge':
        elements.push({ name: `Rbridge${index}`, a: change[1], b: change[2], value: String(change[3]) });
        break;
      case 'land': {
        const moved = find(change[1]);
        if (moved) [moved.a, moved.b] = [change[2], change[3]];
        break;
      }
    }
  }
  return elements;
}

/**
 * Netlist text. Every node gets 5 GΩ of insulation to earth, so that nothing is left without a path for direct current.
 * (ngspice's own rshunt option, at such values, leaves a dead cord "singular".)
 */
export function write(title: string, elements: readonly Element[], nodes: readonly string[], analysis: string): string {
  return [
    `* ${title}`,
    ...elements.map(({ name, a, b, value }) => `${name} ${a} ${b} ${value}`),
    ...nodes.map((node) => `Rinsulation_${node} ${node} 0 ${INSULATION_OHM}`),
    analysis,
    '.end',
    '',
  ].join('\n');
}

export const nodesOf = (elements: readonly Element[]): string[] =>
  [...new Set(elements.flatMap(({ a, b }) => [a, b]))].filter((node) => node !== '0');
