import { describe, expect, test } from 'vitest';
import { knowledge } from '../../rules/index.ts';
import type { Audience } from '../../rules/types.ts';
import { everyWorld } from './every-world.ts';
import { modelDryer } from './model-dryer.ts';
import { STOPS, stoppedEverywhere } from './stopped.ts';

const k = knowledge();
/** A seeded sample; COLD_DRUM_EVERY=1 takes every world, as npm run bench -- --stops does. */
const EVERY = Math.max(1, Number(process.env.COLD_DRUM_EVERY ?? 29));

describe('with a stop told at every place of a talk, nothing gives the dryer power or uses it from then on', () => {
  test('every kind of stop is among those told', () => {
    // what only readings find has a law of its own (laws-readings.test.ts)
    const found = ['burning-contact', 'live-cabinet'];
    expect([...new Set([...STOPS.map((s) => s.sign), ...found])].sort()).toEqual([...k.stops.keys()].sort());
  });
  test.each<Audience>(['technician', 'homeowner', 'agent'])(
    '%s',
    async (audience) => {
      const wrong: string[] = [];
      let runs = 0;
      let asked = 0;
      let n = 0;
      for (const quiet of [true, false])
        for (const family of k.families.keys())
          for (const w of everyWorld(family, audience)) {
            if (n++ % EVERY) continue;
            const all = await stoppedEverywhere(w, () => modelDryer(w.machine, w.faults, family, { quiet }), n);
            wrong.push(...all.wrong);
            runs += all.runs;
            asked += all.asked;
          }
      expect(wrong).toEqual([]);
      expect(runs).toBeGreaterThan(100);
      // Only a technician is asked anything after a stop, once it is made safe.
      if (audience === 'technician') expect(asked).toBeGreaterThan(300);
      else expect(asked).toBe(0);
    },
    EVERY > 1 ? 480_000 : 36_000_000,
  );
});
