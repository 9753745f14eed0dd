import type { Law } from './law.ts';

/** What fits no machine is never looked at, and a machine gives no weight to a fault that does not fit it. */
export const fittingMachines: Law = (shelf) => {
  const out: string[] = [];
  if (!shelf.machines.length) return out;
  const known = shelf.names('attribute');
  const items = [
    ...[...shelf.faults.values()].map(({ id, fits }) => ({ where: `faults.json, fault "${id}", fits`, fits })),
    ...[...shelf.checks.values()].map(({ id, fits }) => ({ where: `checks.json, check "${id}", fits`, fits })),
  ];
  for (const { where, fits } of items)
    if (fits.every((a) => known.has(a)) && !shelf.fitting(fits).length)
      out.push(`${where}: no machine has all of ${fits.join(', ')}`);
  for (const m of shelf.machines)
    for (const [family, by] of Object.entries(m.weights ?? {}))
      for (const id of Object.keys(by)) {
        const fault = shelf.faults.get(id);
        if (fault && !shelf.fitting(fault.fits).includes(m))
          out.push(`machines/${m.id}.json, weights.${family}.${id}: the fault does not fit this machine`);
      }
  return out;
};
