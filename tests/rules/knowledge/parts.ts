import { FILES } from '../../../rules/knowledge/files.ts';
import { KnowledgeError, loadKnowledge } from '../../../rules/knowledge/load.ts';

/** Our own files, as a copy that may be broken. */
export const parts = (): Record<string, unknown> => structuredClone(FILES) as Record<string, unknown>;

// biome-ignore lint/suspicious/noExplicitAny: tests break the files in ways no type allows
export type Item = any;

/** One item of a list file, by id. */
export function item(p: Record<string, unknown>, file: string, id: string): Item {
  const list = Object.values(p[file] as Record<string, unknown>).find(Array.isArray) as Item[];
  const found = list.find((x) => x.id === id);
  if (!found) throw new Error(`no "${id}" in ${file}`);
  return found;
}

/** What the loader says against these files; none = it takes them. */
export function problemsOf(p: Record<string, unknown>): readonly string[] {
  try {
    loadKnowledge(p);
    return [];
  } catch (error) {
    if (error instanceof KnowledgeError) return error.problems;
    throw error;
  }
}

/** One more machine, a copy that an answer of its own tells and that takes half of the prior of the one it is like. */
export function newMachine(p: Item, otherwise: Item = {}): void {
  item(p, 'facts.json', 'control_kind').choices.push('slider');
  item(p, 'checks.json', 'ask-control-kind').outcomes.push({ id: 'slider', when: { control_kind: ['slider'] } });
  const machine = p['machines/dial-single-coil.json'];
  machine.prior /= 2;
  const knownBy = { ...machine.knownBy, control_kind: 'slider' };
  p['machines/dial-new.json'] = { ...structuredClone(machine), id: 'dial-new', knownBy, ...otherwise };
}
