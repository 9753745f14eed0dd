import type { Audience, Check, Circuit, Knowledge } from '../../../rules/types.ts';
import { JOB_BLOCKS } from '../show/job-fields.ts';

/** A caller never opts in, so levels 2 and 3 are never an agent's; live work is neither's. */
export function askedOf(c: Check): readonly Audience[] {
  if (c.needs.includes('technician-only')) return ['technician'];
  if (c.needs.includes('homeowner-only')) return ['homeowner'];
  if (c.level <= 1) return ['homeowner', 'agent', 'technician'];
  return c.level <= 3 && c.needs.includes('opt-in') ? ['homeowner', 'technician'] : ['technician'];
}
export const askedOfOthers = (c: Check): boolean => askedOf(c).some((a) => a !== 'technician');

/** Has letters enough to be a word: "911" is the same in every language. */
export const isWords = (text: string): boolean => /\p{L}{2}/u.test(text);

/** Every name that a reply takes out of the knowledge or the job form as it stands there -> where it stands, for a message. */
export function namesOf(k: Knowledge): Map<string, string> {
  const all = [...ofHouse(k), ...[...k.machines.values()].flatMap(ofMachine), ...ofFaults(k), ...ofJob()];
  const out = new Map<string, string>();
  for (const [text, where] of all) if (isWords(text) && !out.has(text)) out.set(text, where);
  return out;
}
type Named = [text: string, where: string];

function ofHouse(k: Knowledge): Named[] {
  const hookups = [...k.supply.hookups.map((h) => h.id), 'unknown'];
  const branches = [...k.supply.branches, ...k.supply.hookups.flatMap((h) => h.add)];
  return [
    ...[...k.families.values()].map((f): Named => [f.title, `families.json, family "${f.id}", title`]),
    ...[...k.machines.values()].map((m): Named => [m.title, `machines/${m.id}.json, title`]),
    ...[...k.meters.values()].map((m): Named => [m.title, `meters.json, meter "${m.id}", title`]),
    ...hookups.map((h): Named => [h, `supply.json, hook-up "${h}"`]),
    ...Object.entries(k.numbers ?? {}).flatMap(([name, by]) =>
      Object.values(by).map((text): Named => [text, `stops.json, numbers.${name}`]),
    ),
    ...k.supply.nodes.map((n): Named => [n.name, `supply.json, point "${n.id}"`]),
    ...branches.map((b): Named => [b.part, `supply.json, branch "${b.id}"`]),
  ];
}
function ofMachine(m: Circuit): Named[] {
  const file = `machines/${m.id}.json`;
  const drawn = ({ nodes = [], branches = [] }: Partial<Pick<Circuit, 'nodes' | 'branches'>>, of: string): Named[] => [
    ...nodes.map((n): Named => [n.name, `${of}, point "${n.id}"`]),
    ...branches.map((b): Named => [b.part, `${of}, branch "${b.id}", part`]),
  ];
  const variants = (m.variants ?? []).flatMap(({ id, title, nodes = [], add = [] }): Named[] => [
    [title, `${file}, variant "${id}", title`],
    ...drawn({ nodes, branches: add }, `${file}, variant "${id}"`),
  ]);
  return [...drawn(m, file), ...m.lifts.map((l): Named => [l.what, `${file}, lead "${l.id}"`]), ...variants];
}
const ofFaults = (k: Knowledge): Named[] =>
  [...k.faults.values()].flatMap((f) => f.end.parts.map((part): Named => [part, `faults.json, fault "${f.id}", end.parts`]));
const ofJob = (): Named[] =>
  JOB_BLOCKS.flatMap((block): Named[] => [
    [block.title, `job-fields.json, block "${block.id}"`],
    ...block.fields.flatMap((f) =>
      [f.label, ...(f.choices ?? [])].map((text): Named => [text, `job-fields.json, field "${f.id}"`]),
    ),
  ]);
