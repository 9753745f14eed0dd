import type { Meaning } from '../types.ts';
import { type Context, evidence, groupHits } from './context.ts';
import type { Quantity } from './units.ts';

export interface TakenNumbers {
  acts: Meaning[];
  used: Set<Quantity>;
}

/**
 * Data of the rating plate in any order: "5400W 240V", "25 amps 240", "120/240". Watts are always the plate's; volts and amps
 * only when it was asked for, or named, or told beside the watts when no reading is open.
 */
export function findPlate(c: Context, quantities: Quantity[], asked: boolean, readingOpen: boolean): TakenNumbers {
  const used = new Set<Quantity>();
  const named = groupHits(c, 'r.plate')[0];
  const watts = quantities.filter((q) => q.what === 'watts');
  if (!asked && !named && watts.length === 0) return { acts: [], used };
  const plate: { volts?: number; total_w?: number; amps?: number } = {};
  const acts: Meaning[] = [];
  const whole = asked || (watts.length > 0 && !readingOpen);
  let first: Quantity | undefined;
  const set = (key: 'volts' | 'total_w' | 'amps', value: number, q: Quantity) => {
    if (plate[key] !== undefined) return;
    plate[key] = value;
    used.add(q);
    first ??= q;
  };
  for (let i = 0; i < quantities.length; i++) {
    const q = quantities[i];
    if (!q || used.has(q)) continue;
    const afterName = named !== undefined && q.from >= named.to && q.from - named.to < 6;
    if (!whole && !afterName && q.what !== 'watts') continue;
    const next = quantities[i + 1];
    if (
      next &&
      c.tokens[q.to]?.text === '/' &&
      next.from === q.to + 1 &&
      [110, 115, 120, 125, 127].includes(q.value) &&
      next.value >= 200
    ) {
      set('volts', next.value, next);
      used.add(q);
      acts.push({
        is: 'noted',
        fact: 'plate_volts_said',
        value: `${q.value}/${next.value}`,
        evidence: evidence(c, { from: q.from, to: next.to }),
      });
      continue;
    }
    if (q.what === 'watts') {
      const other = q.found.other !== undefined && q.value < 100 ? q.found.other : undefined;
      set('total_w', other ?? q.value, q);
    } else if (q.what === 'volts') set('volts', q.value, q);
    else if (q.what === 'amps') {
      const around = c.tokens.slice(Math.max(0, q.from - 4), q.to + 3).map((t) => t.text);
      if (
        groupHits(c, 'r.circuit').length > 0 &&
        around.some((w) => c.lexicon.data.groups['r.circuit']?.includes(w)) &&
        [15, 20, 30, 40, 50].includes(q.value)
      ) {
        acts.push({ is: 'noted', fact: 'circuit_amps', value: q.value, unit: 'A', evidence: evidence(c, q) });
        used.add(q);
      } else set('amps', q.value, q);
    } else if (!q.what && (asked || afterName)) {
      const v = q.value;
      if ([110, 115, 120, 125, 127, 208, 220, 230, 240, 250].includes(v)) set('volts', v, q);
      else if (v >= 500 && v <= 9999) set('total_w', v, q);
      else if (v > 5 && v <= 60 && !/^[345]$/.test(q.found.raw)) set('amps', v, q);
    }
  }
  if (first) acts.unshift({ is: 'plate', ...plate, evidence: evidence(c, first) });
  return { acts, used };
}
