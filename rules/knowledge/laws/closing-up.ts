import type { Cover } from '../cover.ts';
import type { Repair } from '../repair.ts';
import type { Shelf } from '../shelf.ts';
import type { Law } from './law.ts';

/**
 * Where the machine was open, its closing up is proved: a repair of the machine carries the proofs of every cover (`closing`) that comes off
 * to find its fault. A repair of the house, the duct or the use is made elsewhere; one made from outside says so (`notBehind`).
 */
export const closingUp: Law = (shelf) => {
  const out: string[] = [];
  const covers = new Map(shelf.list<Cover>('covers.json').map((c) => [c.id, c]));
  for (const repair of shelf.list<Repair>('repairs.json')) {
    const where = `repairs.json, repair "${repair.id}"`;
    const owed = owedBy(shelf, repair, covers);
    if (repair.notBehind !== undefined) {
      if (!owed.size) out.push(`${where}, notBehind: it owes no cover a proof, so there is nothing to except`);
      continue;
    }
    for (const [proof, why] of owed)
      if (!repair.proofs.includes(proof))
        out.push(`${where}, proofs: "${proof}" is missing; ${why}. Or notBehind says why nobody works behind it`);
  }
  return out;
};

/** A cover that must be on while the machine runs says what is proved once it is on again, and that is a proof. */
export const coversProved: Law = (shelf) =>
  shelf.list<Cover>('covers.json').flatMap((cover) => {
    const where = `covers.json, cover "${cover.id}", closing`;
    if (cover.shutToRun && !cover.closing) return [`${where}: is missing; what is proved once it is on again`];
    return (cover.closing ?? []).flatMap((id) => {
      const kind = shelf.checks.get(id)?.kind;
      return kind === undefined || kind === 'proof' ? [] : [`${where}: "${id}" is a check of kind "${kind}", not "proof"`];
    });
  });

/** Proof -> which check takes off which cover that asks for it. */
function owedBy(shelf: Shelf, repair: Repair, covers: ReadonlyMap<string, Cover>): Map<string, string> {
  const out = new Map<string, string>();
  const ends = new Set(
    [...shelf.faults.values()].filter((f) => f.side === 'machine' && f.end.repair === repair.id).map((f) => f.id),
  );
  for (const check of shelf.checks.values()) {
    const confirmed = check.confirms.find((link) => ends.has(link.fault));
    if (!confirmed) continue;
    // One that is no proof is told of the cover alone.
    for (const id of new Set(Object.values(check.covers).flat()))
      for (const cover of withThoseInFront(id, covers))
        for (const proof of cover.closing ?? [])
          if (!out.has(proof) && shelf.checks.get(proof)?.kind === 'proof')
            out.set(
              proof,
              `"${check.id}" finds "${confirmed.fault}" with the cover "${cover.id}" off, which asks for it (covers.json, closing)`,
            );
  }
  return out;
}

function withThoseInFront(id: string, covers: ReadonlyMap<string, Cover>): Cover[] {
  const out: Cover[] = [];
  for (let at = covers.get(id); at && !out.includes(at); at = covers.get(at.behind ?? '')) out.push(at);
  return out;
}
