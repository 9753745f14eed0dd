import type { Meaning } from '../types.ts';
import { type Context, evidence, groupHits } from './context.ts';
import type { TakenNumbers } from './plate.ts';
import type { Quantity } from './units.ts';

/** Numbers that count or time something on the way: cycles, bends, feet of duct, minutes until it stopped. */
export function findCounts(
  c: Context,
  quantities: Quantity[],
  expects: string | undefined,
  families: ReadonlySet<string>,
): TakenNumbers {
  const used = new Set<Quantity>();
  const acts: Meaning[] = [];
  const note = (fact: string, value: number, q: Quantity, unit?: 'min') => {
    if (acts.some((a) => a.is === 'noted' && a.fact === fact)) return;
    acts.push({ is: 'noted', fact, value: Number(value.toPrecision(4)), ...(unit ? { unit } : {}), evidence: evidence(c, q) });
  };
  const followed = (group: string, q: Quantity, upTo = 1) =>
    groupHits(c, group).some((h) => h.from >= q.to && h.from - q.to <= upTo);
  if (families.has('low-heat-long-dry') && !quantities.some((q) => !q.what && followed('r.cycles', q)))
    for (const [group, n] of [
      ['r.twice', 2],
      ['r.thrice', 3],
    ] as const) {
      const hit = groupHits(c, group)[0];
      if (hit) acts.push({ is: 'noted', fact: 'cycles_to_dry', value: n, evidence: evidence(c, hit) });
    }
  let feet = 0;
  const parts: Quantity[] = [];
  const usedToBe = (q: Quantity) =>
    groupHits(c, 'usedToBe').some((h) => h.to <= q.from && q.from - h.to <= 2) &&
    quantities.some((o) => o.from > q.from && (o.what === q.what || isNow(o)));
  // "used to be 40 min, now it is 90"
  const isNow = (q: Quantity) => !q.what && q.value >= 5 && q.value <= 400;
  for (const q of quantities) {
    // "used to take 40 min, now 2 hours": what it was is not what it is
    if (q.what === 'minutes' && usedToBe(q)) {
      used.add(q);
      const now = quantities.find((o) => o.from > q.from && isNow(o));
      if (now && expects === undefined && families.has('low-heat-long-dry')) {
        note('dry_time_min', now.value, now, 'min');
        used.add(now);
      }
      continue;
    }
    // "4 90s": ninety names the bend
    if (groupHits(c, 'r.elbows').some((h) => h.from === q.from) && quantities.some((o) => o.to === q.from)) {
      used.add(q);
      continue;
    }
    if (!q.what && followed('r.cycles', q) && q.value < 20) {
      note('cycles_to_dry', q.value, q);
      used.add(q);
    } else if (!q.what && followed('r.elbows', q, 2) && q.value < 20) {
      note('elbows', q.value, q);
      used.add(q);
    } else if (q.what === 'length' && expects !== 'length' && (q.unit === 'ft' || q.unit === 'm')) {
      feet += q.unit === 'm' ? q.value * 3.28084 : q.value;
      parts.push(q);
      used.add(q);
    } else if (q.what === 'length' && expects === 'length' && (q.unit === 'ft' || q.unit === 'm')) {
      feet += q.unit === 'm' ? q.value * 3.28084 : q.value;
      parts.push(q);
      used.add(q);
    } else if (q.what === 'minutes' && expects !== 'minutes') {
      used.add(q);
      if (families.has('shuts-off-early')) note('stops_after_min', q.value, q, 'min');
      else if (families.has('low-heat-long-dry')) note('dry_time_min', q.value, q, 'min');
      else note('ran_min', q.value, q, 'min');
    }
  }
  const [first] = parts;
  if (first) note('duct_length_ft', Number(feet.toPrecision(4)), first);
  // "2 cycles of 60"
  if (expects === 'minutes') {
    const cycles = quantities.find((q) => used.has(q) && followed('r.cycles', q));
    const each = quantities.find((q) => !used.has(q) && cycles && q.from > cycles.to);
    if (cycles && each) each.value *= cycles.value;
  }
  return { acts, used };
}
