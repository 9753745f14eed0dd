import { fitsCircuit, knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { createDryer } from '../dryer/create-dryer.ts';
import { modelDryer } from './model-dryer.ts';
import type { Answering, World } from './worlds.ts';

/** Every single suspect of a family on every machine it fits, for one audience. */
export function everyWorld(family: string, audience: Audience): World[] {
  const k = knowledge();
  const out: World[] = [];
  for (const m of k.machines.values())
    for (const f of k.faults.values())
      if (fitsCircuit(f, m.attributes) && (f.weight[family]?.[m.id] ?? f.weight[family]?.['*'] ?? 0) > 0)
        out.push({ machine: m.id, faults: [f.id], audience, family });
  return out;
}

/** A failed part with each cause behind it that this machine can have. */
export function everyPair(family: string): World[] {
  const k = knowledge();
  return everyWorld(family, 'technician').flatMap((w) => {
    const attributes = k.machines.get(w.machine)!.attributes;
    return k.faults
      .get(w.faults[0]!)!
      .causes.filter((c) => k.faults.has(c.fault) && fitsCircuit(k.faults.get(c.fault)!, attributes))
      .map((c) => ({ ...w, faults: [w.faults[0]!, c.fault] }));
  });
}

export const dryerFor = (w: World) =>
  createDryer({ machine: w.machine as 'dial-single-coil', faults: w.faults, hookup: 'four-wire' } as Parameters<
    typeof createDryer
  >[0]);

/** A cold dryer answers out of the circuit simulator; the other complaints out of the knowledge itself, the danger signs denied. */
export const answering = (w: World): Answering =>
  w.family === 'no-heat' ? dryerFor(w) : modelDryer(w.machine, w.faults, w.family, { quiet: true });
