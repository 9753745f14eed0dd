import type { MachineInHand } from '../../../rules/types.ts';
import { FIRST, type Language } from '../../languages.ts';
import type { Ask, CaseRecord, Understood } from '../../types.ts';
import { builtOtherwise } from '../../understand/built-otherwise.ts';
import { withPoints } from '../../understand/points-said.ts';
import { askedNow, type Moment } from '../stand/moment.ts';
import type { Option } from '../stand/option.ts';
import { pointWords } from '../stand/points.ts';
import { WHICH, type Which, whichAsk } from '../stand/which.ts';
import type { Doorway } from './door.ts';
import { acrossPart } from './place/across-part.ts';

export type Understand = (
  utterance: string,
  ask: Ask | undefined,
  audience: CaseRecord['audience'],
  machine: Partial<MachineInHand>,
  language?: Language,
) => Understood;

/** What an answer of now is held against. */
export const doorwayOf = (m: Moment): Doorway => ({
  k: m.k,
  at: m.at,
  ask: m.danger ?? m.open,
  name: (fact) => m.s.fact(fact),
});

const understoodUnder = (understand: Understand, m: Moment, text: string, ask: Ask | undefined): Understood =>
  understand(text, ask, m.at.facts.audience, m.at.hand, m.s.language);

/** What words mean under the question open now. Costs most of a turn that changes nothing: asked for once. */
export function listen(understand: Understand, m: Moment, text: string): Understood {
  const heard = understoodUnder(understand, m, text, askedNow(m));
  // A technician's words about the drawing itself; with them we speak English.
  if (m.at.facts.audience !== 'technician' || m.s.language !== FIRST) return heard;
  const built = builtOtherwise(heard, text);
  if (heard.acts.some((a) => a.is === 'reading' && a.across && acrossPart(doorwayOf(m), a).length)) return built;
  return withPoints(built, text, placesOf(m));
}

function placesOf(m: Moment): Parameters<typeof withPoints>[2] {
  const label = (points: [string, string], state: string) => `${pointWords(m, '', points)}; ${m.s.of('states', state)}`;
  return { k: m.k, p: m.at.p, ask: m.open, label };
}

/** One of the meanings asked back, picked by its name or place: "the first", "at rest". Words of another language pick none: the case moves first. */
export function namedOption(understand: Understand, m: Moment, which: Which, text: string): Option | undefined {
  const { acts } = understoodUnder(understand, m, text, whichAsk(m, which));
  if (acts.some((a) => a.is === 'talk' && a.what === 'language')) return undefined;
  const [only, ...more] = acts.filter((a) => a.is !== 'talk');
  return only?.is === 'answer' && only.fact === WHICH && !more.length ? which.options[Number(only.value) - 1] : undefined;
}
