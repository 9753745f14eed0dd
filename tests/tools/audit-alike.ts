import { outcomeOf } from '../../rules/engine/outcome.ts';
import { prepare } from '../../rules/engine/prepare.ts';
import { wordsOfTalk } from '../../rules/engine/talk.ts';
import type { Audience, Check, Circuit, Fault, Knowledge, Prepared } from '../../rules/types.ts';
import { mayBeAsked } from './audit-asked.ts';

const fits = (of: { fits: string[] }, m: Circuit): boolean => of.fits.every((a) => m.attributes.includes(a));

// Answers of two faults to one question overlap by the smaller of the two likelihoods, summed; half or more = one question does not tell them apart.
function overlap(k: Knowledge, fact: string, a: Fault, b: Fault): number {
  const f = k.facts.get(fact)!;
  const answers = (f.choices ?? []).filter((c) => !f.noEvidence?.includes(c));
  const of = (x: Fault): number[] | undefined => {
    const by = x.signs[fact] ?? f.silent;
    if (!by) return undefined;
    const raw = answers.map((c) => k.likely[by[c] ?? 'never']);
    const sum = raw.reduce((s, n) => s + n, 0);
    return raw.map((n) => n / sum);
  };
  const [pa, pb] = [of(a), of(b)];
  return pa && pb ? pa.reduce((s, n, i) => s + Math.min(n, pb[i]!), 0) : 1;
}

/** What a reading check shows under one fault on this machine, as its outcome or as what is read. */
export function shownBy(p: Prepared): (c: Check, f: Fault) => string {
  const kept = new Map<string, string>();
  return (c, f) => {
    const key = `${c.id} ${f.id}`;
    const had = kept.get(key);
    if (had !== undefined) return had;
    const [read] = p.expected(c.id, [f.id], 1);
    const at = (fact: string) => (typeof read === 'object' ? read.find((x) => x.fact === fact)?.centre : undefined);
    const line_v = f.effects.some((e) => 'supply' in e && e.supply === 'wye208') ? 208 : 240;
    const shown = typeof read === 'object' ? (outcomeOf(p, c, at, line_v, 1) ?? 'no outcome') : (read ?? 'not read');
    kept.set(key, shown);
    return shown;
  };
}
/** One machine as it is drawn, read with the first meter. */
export const asDrawn = (k: Knowledge, m: Circuit): Prepared =>
  prepare(k, {
    circuits: [m.id],
    plate: {},
    hookup: 'four-wire',
    meter: [...k.meters.keys()][0]!,
    system: k.supply.systems[0]!.id,
  });

/** Groups of faults behind one complaint that no check this audience may be asked can tell apart on a machine; those of no weight left out. */
export async function alike(all: Knowledge, audience: Audience, m: Circuit, family: string): Promise<string[][]> {
  const k = wordsOfTalk(all, [family]);
  const weight = (f: Fault) => f.weight[family]?.[m.id] ?? f.weight[family]?.['*'] ?? 0;
  const faults = [...k.faults.values()].filter((f) => fits(f, m) && weight(f) > 0);
  const checks = await asked(k, audience, m);
  const shown = shownBy(asDrawn(k, m));
  const apart = (a: Fault, b: Fault) =>
    checks.some((c) => (c.measure ? shown(c, a) !== shown(c, b) : c.settles.some((fact) => overlap(k, fact, a, b) < 0.5)));
  const group = new Map(faults.map((f) => [f.id, f.id]));
  const root = (id: string): string => (group.get(id) === id ? id : root(group.get(id)!));
  faults.forEach((a, i) => {
    for (const b of faults.slice(i + 1)) if (!apart(a, b)) group.set(root(a.id), root(b.id));
  });
  const groups = new Map<string, string[]>();
  for (const f of faults) groups.set(root(f.id), [...(groups.get(root(f.id)) ?? []), f.id]);
  return [...groups.values()].filter((g) => g.length > 1);
}

/** Checks that may tell faults apart for them: what the opt-in opens is not everybody's. */
async function asked(k: Knowledge, audience: Audience, m: Circuit): Promise<Check[]> {
  const out: Check[] = [];
  for (const c of k.checks.values())
    if (fits(c, m) && c.kind !== 'gate' && c.kind !== 'proof' && !c.anywhere && (audience === 'technician' || c.level <= 1))
      if (await mayBeAsked(k, c, audience)) out.push(c);
  return out;
}
