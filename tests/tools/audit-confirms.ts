import type { Check, Circuit, Knowledge } from '../../rules/types.ts';
import { asDrawn, shownBy } from './audit-alike.ts';

const fits = (of: { fits: string[] }, m: Circuit): boolean => of.fits.every((a) => m.attributes.includes(a));

/**
 * Readings said to confirm a fault that, on a machine both fit, show something else under it: a place on the wrong points, contacts closed
 * in the wrong states. An outcome of what is told beside the meter is not computed; confirmedByNever looks at those.
 */
export function confirmedByNoReading(k: Knowledge): string[] {
  const out: string[] = [];
  for (const m of k.machines.values()) {
    const shown = shownBy(asDrawn(k, m));
    for (const check of k.checks.values()) {
      if (!check.measure || !fits(check, m)) continue;
      for (const link of check.confirms) {
        const fault = k.faults.get(link.fault)!;
        if (!fits(fault, m)) continue;
        for (const step of [{ check: check.id, outcome: link.outcome }, ...(link.after ?? [])]) {
          const read = k.checks.get(step.check)!;
          if (!fits(read, m) || !isRead(read, step.outcome)) continue;
          const got = shown(read, fault);
          if (got !== step.outcome)
            out.push(
              `checks.json, check "${check.id}", confirms "${fault.id}": on "${m.id}" the check "${read.id}" shows "${got}" with it, not "${step.outcome}"; are the points of machines/${m.id}.json, places and its closedIn right?`,
            );
        }
      }
    }
  }
  return out;
}

/** Does the meter alone tell this outcome? */
function isRead(check: Check, outcome: string): boolean {
  const read = new Set(check.measure?.reads.map(({ fact }) => fact));
  const facts = Object.keys(check.outcomes.find(({ id }) => id === outcome)!.when);
  return facts.every((fact) => read.has(fact));
}
