import type { Law } from './law.ts';

/** A fault is not its own cause, and what may be behind it adds to no more than all of it. Nor is a sign what says nothing. */
export const causes: Law = (shelf) => {
  const out: string[] = [];
  for (const fault of shelf.faults.values()) {
    const where = `faults.json, fault "${fault.id}"`;
    if (fault.causes.some((c) => c.fault === fault.id)) out.push(`${where}, causes: a fault is not its own cause`);
    for (const m of shelf.fitting(fault.fits)) {
      const fitting = fault.causes.filter((c) => shelf.fitting(shelf.faults.get(c.fault)?.fits ?? []).includes(m));
      const sum = fitting.reduce((s, c) => s + c.share, 0);
      if (sum > 1.0001)
        out.push(`${where}, causes: the shares on "${m.id}" add to ${Math.round(sum * 1000) / 1000}; they should not pass 1`);
    }
  }
  return out;
};
