import type { Audience } from '../../../rules/types.ts';
import type { Context } from '../context.ts';
import { featuresOf } from './features.ts';
import { type Head, scoreOf } from './head.ts';
import kindFile from './kinds.json' with { type: 'json' };
import thresholds from './thresholds.json' with { type: 'json' };
import weightsFile from './weights.json' with { type: 'json' };

/** Heads that hear a danger: first whether there is one, then which. */
export interface DangerHeads {
  whether: Head;
  which: Readonly<Record<string, Head>>;
}
/** What the heads make of one utterance. `kinds`: the likeliest, the second only where it is close behind. */
export interface Heard {
  score: number;
  is: 'nothing' | 'ask' | 'stop';
  kinds: string[];
}

const OURS = weightsFile as unknown as DangerHeads;
const KINDS: Readonly<Record<string, Readonly<Record<string, string>>>> = kindFile.kinds;

/** The facts that tell of a kind of danger, the one to ask about first. */
export const factsOfKind = (kind: string): readonly [fact: string, value: string][] => Object.entries(KINDS[kind] ?? {});

/** A score is a sum of whole numbers; it raises what phrases miss, and never lowers what they find. */
export function headsHear(c: Context, audience: Audience, heads: DangerHeads = OURS): Heard {
  const stretches = stretchesOf(c).map(([from, to]) => featuresOf(c, audience, from, to));
  const scored = stretches.map((features) => ({ features, at: scoreOf(heads.whether, features) }));
  const { features, at } = scored.reduce((best, s) => (s.at > best.at ? s : best));
  const is = at >= thresholds.stop ? 'stop' : at >= thresholds.ask ? 'ask' : 'nothing';
  if (is === 'nothing') return { score: at, is, kinds: [] };
  const ranked = Object.entries(heads.which)
    .map(([kind, head]) => ({ kind, at: scoreOf(head, features) }))
    .sort((a, b) => b.at - a.at || (a.kind < b.kind ? -1 : 1));
  const top = ranked[0]?.at ?? 0;
  const kinds = ranked.slice(0, 2).flatMap((r, i) => (i === 0 || top - r.at <= thresholds.secondKind ? [r.kind] : []));
  return { score: at, is, kinds };
}

/** A story this long is heard sentence by sentence as well: a danger in its middle counts as much as one alone. */
const STORY = 30;
/** A stretch of a story, in words at least; shorter sentences are heard together. */
const STRETCH = 12;

function stretchesOf(c: Context): [from: number, to: number][] {
  const whole: [number, number] = [0, c.tokens.length];
  if (c.tokens.length <= STORY) return [whole];
  const out: [number, number][] = [whole];
  let from = 0;
  for (let i = 1; i <= c.tokens.length; i++) {
    const ends = i === c.tokens.length || c.sentence[i] !== c.sentence[i - 1];
    if (!ends || (i - from < STRETCH && i < c.tokens.length)) continue;
    out.push([from, i]);
    from = i;
  }
  return out;
}
