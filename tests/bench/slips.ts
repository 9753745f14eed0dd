import { knowledge } from '../../rules/index.ts';
import type { Check, Value } from '../../rules/types.ts';
import type { Answering, Outcome, World } from './worlds.ts';
import { lead } from './worlds.ts';

/** What a person does wrong with one reading. `repeats`: done the same way when asked again, so that only another check can catch it. */
export interface Slip {
  id: string;
  repeats?: boolean;
  of: 'volts' | 'ohms' | 'amps' | 'choice';
  /** The wrong value, or undefined where this slip changes nothing here. */
  wrong(truth: Value, check: Check, fact: string, shown: Readonly<Record<string, Value>>): Value | undefined;
}

const number = (v: Value): v is number => typeof v === 'number';
/** How single readings go wrong in the trade; common practice. */
export const SLIPS: readonly Slip[] = [
  { id: '0 read for OL', of: 'ohms', wrong: (v) => (v === 'open' ? 0 : undefined) },
  { id: 'OL: a lead that made no contact', of: 'ohms', wrong: (v) => (number(v) ? 'open' : undefined) },
  { id: 'kilohms told as ohms', of: 'ohms', wrong: (v) => (number(v) && v >= 1 ? v / 1000 : undefined) },
  { id: 'ohms told as kilohms', of: 'ohms', wrong: (v) => (number(v) && v >= 1 ? v * 1000 : undefined) },
  { id: 'meter on DC', of: 'volts', wrong: (v) => (number(v) && v > 5 ? 0.1 : undefined) },
  {
    id: 'the wrong leg',
    of: 'volts',
    wrong: (v, check, fact, shown) => {
      const other = check.settles.find((f) => f !== fact && /other_leg|motor_leg/.test(f));
      const told = other === undefined || !/leg_to_neutral/.test(fact) ? undefined : shown[other];
      return told !== undefined && told !== v ? told : undefined;
    },
  },
  { id: 'clamp round the whole cord', of: 'amps', wrong: (v) => (number(v) && v > 1 ? 0 : undefined) },
  {
    id: 'another answer than what was seen',
    of: 'choice',
    // That it works again, or was mended, is no slip of the eye; a breaker is closed once, and cannot be looked at again.
    wrong: (v, check, fact) => {
      if (check.needs.includes('closing-allowed')) return undefined;
      const mended = check.outcomes
        .filter((o) => check.confirms.some((c) => c.alone && c.outcome === o.id))
        .flatMap((o) => o.when[fact] ?? []);
      return knowledge()
        .facts.get(fact)
        ?.choices?.find((c) => c !== v && !mended.includes(c));
    },
  },
];

export interface Slipped {
  slip: string;
  at: number;
  outcome: Outcome;
}

/** One world led once for each place a slip can be made at, one slip a run. `only`: every how many places (1 = all), from which. */
export async function slipped(
  world: World,
  dryer: () => Answering,
  slips: readonly Slip[] = SLIPS,
  only: { every: number; from: number } = { every: 1, from: 0 },
): Promise<{ clean: Outcome; runs: Slipped[] }> {
  const k = knowledge();
  const clean = await lead(world, dryer());
  const places: { check: string; fact: string }[] = [];
  const seen = new Set<string>();
  for (const a of clean.asked) {
    const check = k.checks.get(a.check)!;
    if (check.kind === 'gate' || check.kind === 'proof') continue;
    for (const fact of check.settles) if (!seen.has(fact) && seen.add(fact)) places.push({ check: a.check, fact });
  }
  const runs: Slipped[] = [];
  let n = only.from;
  for (const [at, place] of places.entries())
    for (const slip of slips) {
      const check = k.checks.get(place.check)!;
      const of = check.measure?.reads.some((r) => r.fact === place.fact) ? check.measure.what : 'choice';
      if (slip.of !== of || n++ % only.every) continue;
      let made = 0;
      const hurt = hurting(dryer(), place, (v, shown) => {
        if (made && !slip.repeats) return v;
        const wrong = slip.wrong(v, check, place.fact, shown);
        if (wrong === undefined) return v;
        made++;
        return wrong;
      });
      const outcome = await lead(world, hurt);
      if (made) runs.push({ slip: slip.id, at, outcome });
    }
  return { clean, runs };
}

function hurting(
  dryer: Answering,
  place: { check: string; fact: string },
  make: (truth: Value, shown: Readonly<Record<string, Value>>) => Value,
): Answering {
  return {
    async answer(check) {
      const shown = (await dryer.answer(check)) as Record<string, Value>;
      const truth = shown[place.fact];
      if (check.id !== place.check || truth === undefined || truth === 'cannot' || truth === 'will-not-run') return shown;
      return { ...shown, [place.fact]: make(truth, shown) };
    },
  };
}
