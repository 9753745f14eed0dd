import type { Audience, Check, Knowledge } from '../../../rules/types.ts';
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
  const out = new Map<string, string>();
  const add = (text: string, where: string) => {
    if (isWords(text) && !out.has(text)) out.set(text, where);
  };
  for (const f of k.families.values()) add(f.title, `family ${f.id}`);
  for (const m of k.machines.values()) add(m.title, `machine ${m.id}`);
  for (const m of k.meters.values()) add(m.title, `meter ${m.id}`);
  for (const h of [...k.supply.hookups.map((x) => x.id), 'unknown']) add(h, `hook-up ${h}`);
  for (const [name, by] of Object.entries(k.numbers ?? {})) for (const text of Object.values(by)) add(text, `number ${name}`);
  for (const n of k.supply.nodes) add(n.name, `supply point ${n.id}`);
  for (const b of [...k.supply.branches, ...k.supply.hookups.flatMap((h) => h.add)]) add(b.part, `supply branch ${b.id}`);
  for (const m of k.machines.values()) {
    for (const n of m.nodes) add(n.name, `${m.id}, point ${n.id}`);
    for (const b of m.branches) add(b.part, `${m.id}, branch ${b.id}`);
    for (const l of m.lifts) add(l.what, `${m.id}, lead ${l.id}`);
    for (const v of m.variants ?? []) {
      add(v.title, `${m.id}, ${v.id}`);
      for (const n of v.nodes ?? []) add(n.name, `${m.id}, ${v.id}, point ${n.id}`);
      for (const b of v.add ?? []) add(b.part, `${m.id}, ${v.id}, branch ${b.id}`);
    }
  }
  for (const f of k.faults.values()) for (const part of f.end.parts) add(part, `fault ${f.id}, parts`);
  for (const block of JOB_BLOCKS) {
    add(block.title, `job block ${block.id}`);
    for (const f of block.fields) for (const text of [f.label, ...(f.choices ?? [])]) add(text, `job field ${f.id}`);
  }
  return out;
}
