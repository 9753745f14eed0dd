import type { Audience } from '../../../rules/types.ts';
import type { Context, Span } from '../context.ts';
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

/**
 * A score is a sum of whole numbers. It raises what phrases miss to a question or a stop, and turns a phrase's stop into a question
 * where all else speaks against it; it clears nothing.
 */
export function headsHear(c: Context, audience: Audience, heads: DangerHeads = OURS): Heard {
  const stretches = stretchesOf(c).map(([from, to]) => featuresOf(c, audience, from, to));
  const scored = stretches.map((features) => ({ features, at: scoreOf(heads.whether, features) }));
  const { features, at } = scored.reduce((best, s) => (s.at > best.at ? s : best));
  if (at < thresholds.ask) return { score: at, is: 'nothing', kinds: [] };
  const ranked = Object.entries(heads.which)
    .map(([kind, head]) => ({ kind, at: scoreOf(head, features) }))
    .sort((a, b) => b.at - a.at || (a.kind < b.kind ? -1 : 1));
  const top = ranked[0]?.at ?? 0;
  const kinds = ranked.slice(0, 2).flatMap((r, i) => (i === 0 || top - r.at <= thresholds.secondKind ? [r.kind] : []));
  const clear = top - (ranked[1]?.at ?? 0) >= thresholds.clearKind;
  return { score: at, is: at >= thresholds.stop && clear ? 'stop' : 'ask', kinds };
}

/**
 * Do the words around phrases of danger speak so much against them that they are asked about and do not stop at once? Never where little
 * else was said, nor where the clause of one of them alone tells of a danger.
 */
export function doubtsPhrases(c: Context, audience: Audience, phrases: readonly Span[], heads: DangerHeads = OURS): boolean {
  if (c.tokens.filter((t) => t.kind !== 'mark').length < thresholds.phraseWords) return false;
  const stretches = [...stretchesOf(c), ...phrases.map((p) => clauseAround(c, p))];
  return stretches.every(([from, to]) => scoreOf(heads.whether, featuresOf(c, audience, from, to)) < thresholds.phraseStops);
}

function clauseAround(c: Context, { from, to }: Span): [from: number, to: number] {
  let [first, last] = [from, to];
  while (first > 0 && c.clause[first - 1] === c.clause[from]) first--;
  while (last < c.tokens.length && c.clause[last] === c.clause[to - 1]) last++;
  return [first, last];
}

/** What kills at once stops at its phrase, whatever else is said. */
export const neverDoubted = (fact: string): boolean => thresholds.neverDoubted.includes(fact);

/** A story this long is heard sentence by sentence as well: a danger in its middle counts as much as one alone. */
const STORY = 30;
/** More than this at once tells of nothing in particular. */
const MOST_AT_ONCE = 150;
/** A stretch of a story, in words at least; shorter sentences are heard together. */
const STRETCH = 12;

function stretchesOf(c: Context): [from: number, to: number][] {
  const whole: [number, number] = [0, Math.min(c.tokens.length, MOST_AT_ONCE)];
  if (c.tokens.length <= STORY) return [whole];
  const out: [number, number][] = [whole];
  let from = 0;
  for (let i = 1; i <= c.tokens.length; i++) {
    const ends = i === c.tokens.length || c.sentence[i] !== c.sentence[i - 1];
    const full = i - from >= MOST_AT_ONCE;
    if (!full && (!ends || (i - from < STRETCH && i < c.tokens.length))) continue;
    out.push([from, i]);
    from = i;
  }
  return out;
}
