import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { usesPower } from '../../../rules/knowledge/touches.ts';
import { everyWorld } from '../../bench/every-world.ts';
import { modelDryer } from '../../bench/model-dryer.ts';
import { lead } from '../../bench/worlds.ts';

const k = knowledge();
const COIL = ['coil-to-case-ohms', 'coil-to-case-ohms-two'];

describe('a breaker that trips, a shock, a burning smell: dead before live, and nothing closed until it is clear', () => {
  test.each(['trips-breaker', 'shock', 'burning-smell'])(
    '%s',
    async (family) => {
      let powered = 0;
      for (const quiet of [true, false])
        for (const [i, w] of everyWorld(family, 'technician').entries()) {
          if (i % 2 === (quiet ? 0 : 1)) continue;
          const o = await lead(w, modelDryer(w.machine, w.faults, family, { quiet }));
          const first = o.asked.findIndex((a) => usesPower(k.checks.get(a.check)!.touches));
          if (first < 0) continue;
          powered++;
          const before = o.asked.slice(0, first);
          const told = `${w.faults} on ${w.machine}: ${o.asked[first]!.check}`;
          const clear = (ids: string[]) =>
            before.some((a) => ids.includes(a.check) && Object.values(a.answers).every((v) => v === 'open' || Number(v) > 1e6));
          expect([clear(['insulation-ohms']), clear(COIL)], told).toEqual([true, true]);
          expect(o.asked.filter((a) => k.checks.get(a.check)!.touches.includes('breaker-on')).length, told).toBeLessThanOrEqual(
            1,
          );
        }
      expect(powered).toBeGreaterThan(0);
    },
    240_000,
  );

  test('whoever cannot read to the case is asked for no power at all there', async () => {
    for (const family of ['trips-breaker', 'shock', 'burning-smell'])
      for (const audience of ['homeowner', 'agent'] as const)
        for (const [i, w] of everyWorld(family, audience).entries()) {
          if (i % 3) continue;
          const o = await lead(w, modelDryer(w.machine, w.faults, family, { quiet: true }));
          expect(o.asked.filter((a) => usesPower(k.checks.get(a.check)!.touches)).map((a) => a.check)).toEqual([]);
        }
  }, 240_000);
});
