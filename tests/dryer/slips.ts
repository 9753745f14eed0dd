import type { Measure, Shown } from './dryer.ts';

/** A mistake with the meter. */
export type SlipKind = 'zero-for-open' | 'wrong-leg' | 'wrong-prefix' | 'meter-on-dc' | 'lead-not-lifted';
export const SLIPS: SlipKind[] = ['zero-for-open', 'wrong-leg', 'wrong-prefix', 'meter-on-dc', 'lead-not-lifted'];

const OTHER_LEG: Record<string, string> = Object.fromEntries(
  [
    ['L1', 'L2'],
    ['RA', 'RB'],
    ['PLA', 'PLB'],
    ['PA', 'PB'],
    ['cordA', 'cordB'],
    ['svcA', 'svcB'],
  ].flatMap(([a, b]) => [
    [a, b],
    [b, a],
  ]),
);
const other = (point: string) => OTHER_LEG[point] ?? point;
/** Stray millivolts: a meter on direct current in front of alternating current. */
const ON_DC_V = 0;

/**
 * What is done with the meter by mistake: the measure that is truly taken, and what is told of the reading.
 * Undefined = there is no such mistake to make here (a prefix of volts, a lead where none is lifted, a leg where none is touched).
 */
export function slipped(kind: SlipKind, asked: Measure): { taken: Measure; told: (shown: Shown) => Shown } | undefined {
  const as = (shown: Shown): Shown => shown;
  switch (kind) {
    case 'zero-for-open':
      return asked.what === 'ohms' ? { taken: asked, told: (shown) => (shown === 'open' ? 0 : shown) } : undefined;
    case 'wrong-prefix':
      return asked.what === 'ohms'
        ? { taken: asked, told: (shown) => (typeof shown === 'number' && shown >= 1000 ? shown / 1000 : shown) }
        : undefined;
    case 'meter-on-dc':
      return asked.what === 'volts'
        ? { taken: asked, told: (shown) => (typeof shown === 'number' ? ON_DC_V : shown) }
        : undefined;
    case 'lead-not-lifted': {
      const { lift, ...taken } = asked;
      return lift ? { taken, told: as } : undefined;
    }
    case 'wrong-leg': {
      const points = asked.points?.map(other) as [string, string] | undefined;
      const branch = asked.branch && other(asked.branch);
      if (points?.join() === asked.points?.join() && branch === asked.branch) return undefined;
      return { taken: { ...asked, ...(points && { points }), ...(branch && { branch }) }, told: as };
    }
  }
}
