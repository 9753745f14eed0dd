import { forMachine } from '../../../rules/index.ts';
import { shownValue } from '../words/numbers.ts';
import type { Option } from './option.ts';
import { pointWords } from './points.ts';
import type { Saying } from './said.ts';

/** What one way to mean a reading is called: its number where the unit is in doubt, its place, state and lead, and the machine it takes. */
export function wayLabel(x: Saying, { meaning, also = [] }: Option, all: readonly Option[]): string {
  if (meaning.is !== 'reading' || meaning.fact === undefined) return '';
  const { k, s, at } = x;
  const { fact, points, state, value, lifted } = meaning;
  const units = new Set(all.map((o) => (o.meaning.is === 'reading' ? o.meaning.unit : undefined)));
  return [
    units.size > 1 && shownValue(s, k, fact, value, at.facts.units),
    points ? pointWords(x, '', points) : s.fact(fact),
    state !== undefined && s.of('states', state),
    lifted === true && leadOff(x, fact),
    lifted === false && s.say('leads-on'),
    ...also.map((a) => a.is === 'answer' && `${s.fact(a.fact)}: ${s.choice(a.fact, a.value)}`),
  ]
    .filter(Boolean)
    .join('; ');
}

/** The lead that the check of this fact wants off. */
function leadOff({ k, s, at }: Saying, fact: string): string {
  const check = [...k.checks.values()].find((c) => c.measure?.reads.some((r) => r.fact === fact));
  for (const c of at.p.circuits) {
    const lead = c.lifts.find((l) => l.id === forMachine(check?.measure?.lift, c.id));
    if (lead) return s.name(lead.what);
  }
  return '';
}
