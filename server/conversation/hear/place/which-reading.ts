import type { Unit } from '../../../../rules/types.ts';
import { readsAt } from '../../../place/reads.ts';
import type { Doorway } from '../door.ts';
import type { Act } from '../hearing.ts';

type Reading = Act<'reading'>;
/** More than this many are no question. */
export const MOST_OPTIONS = 12;

const UNIT: Record<Reading['what'], Unit | undefined> = {
  volts: 'V',
  ohms: 'Ω',
  amps: 'A',
  temperature: '°C',
  minutes: 'min',
  speed: 'm/s',
  pressure: 'Pa',
  length: undefined,
};
const unitOf = (act: Reading): Unit | undefined => act.unit ?? UNIT[act.what];

/** Readings of the open question in this unit. */
const openIn = ({ k, ask }: Doorway, unit: Unit | undefined): string[] =>
  (ask?.reads ?? []).map((r) => r.fact).filter((fact) => k.facts.get(fact)?.unit === unit);

/** The one reading of the open question this can be; undefined while several are open. */
export function onlyOneOpen(d: Doorway, act: Reading, told: ReadonlySet<string>): string | undefined {
  const [only, ...more] = openIn(d, unitOf(act)).filter((fact) => !told.has(fact));
  return more.length ? undefined : only;
}

/** The readings a value may be, the open question's first; none if there are too many to ask. */
export function mayBe(d: Doorway, act: Reading, said: string): string[] {
  const asked = openIn(d, unitOf(act));
  if (asked.length) return asked;
  // Those whose names share a word with what was said come first, and alone if there are any.
  const all = [...new Set(readHere(d, act))];
  const shared = sharedWords(d, said);
  const most = Math.max(0, ...all.map(shared));
  return (most ? all.filter((fact) => shared(fact) === most) : all).slice(0, MOST_OPTIONS);
}

/** Every reading of this unit that is taken on the machine in hand, in the state told. */
function readHere({ k, at }: Doorway, act: Reading): string[] {
  const unit = unitOf(act);
  return readsAt(k, at.p.circuits, { state: act.state, unit })
    .filter((read) => read.unit === unit)
    .map((read) => read.fact);
}

/** The one fact whose name was said, where no other shares as many words of it; undefined where it was not. */
export function byName(d: Doorway, act: Reading, said: string): string[] | undefined {
  if (openIn(d, unitOf(act)).length) return undefined;
  const [only, ...others] = mayBe(d, act, said);
  return only !== undefined && others.length === 0 && sharedWords(d, said)(only) > 0 ? [only] : undefined;
}

/** How many words of a fact's name were said. */
function sharedWords({ name }: Doorway, said: string): (fact: string) => number {
  const wordsOf = (text: string) => new Set(text.toLowerCase().match(/\p{L}{3,}/gu));
  const words = wordsOf(said);
  return (fact) => [...wordsOf(name?.(fact) ?? fact.replaceAll('_', ' '))].filter((w) => words.has(w)).length;
}
