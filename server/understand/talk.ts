import type { Meaning, Talk } from '../types.ts';
import { type Context, denied, evidence } from './context.ts';

/** Turns about the talk itself, in the order said; each kind once, the longest phrase of it. */
export function findTalk(c: Context): Extract<Meaning, { is: 'talk' }>[] {
  const best = new Map<string, { from: number; to: number; of?: string }>();
  for (const h of c.hits) {
    if (h.of.kind !== 'talk') continue;
    const what = h.of.entry.talk ?? '';
    if ((what === 'done' || what === 'qualified' || what === 'made-safe') && denied(c, h)) continue;
    const old = best.get(what);
    if (!old || h.to - h.from > old.to - old.from || (h.of.entry.of && !old.of))
      best.set(what, { from: h.from, to: h.to, of: h.of.entry.of });
  }
  if (best.has('off-topic')) best.delete('what-is-that');
  // "I don't know what that is" asks what it is
  const [what, unsure] = [best.get('what-is-that'), best.get('unsure')];
  if (what && unsure && what.to > unsure.to && what.from <= unsure.from + 2) best.delete('unsure');
  return [...best]
    .sort((a, b) => a[1].from - b[1].from)
    .map(([what, s]) => ({ is: 'talk', what: what as Talk, ...(s.of ? { of: s.of } : {}), evidence: evidence(c, s) }));
}

/** Which other language this seems to be, as a BCP 47 tag. */
export function otherLanguage(c: Context): string | undefined {
  const letters = c.tokens
    .filter((t) => t.kind === 'word')
    .map((t) => t.text)
    .join('');
  const scripts: [RegExp, string][] = [
    [/\p{Script=Arabic}/gu, 'ar'],
    [/[\p{Script=Hiragana}\p{Script=Katakana}]/gu, 'ja'],
    [/\p{Script=Hangul}/gu, 'ko'],
    [/\p{Script=Han}/gu, 'zh'],
    [/\p{Script=Cyrillic}/gu, 'ru'],
    [/\p{Script=Hebrew}/gu, 'he'],
    [/\p{Script=Devanagari}/gu, 'hi'],
    [/\p{Script=Thai}/gu, 'th'],
    [/\p{Script=Greek}/gu, 'el'],
  ];
  for (const [script, tag] of scripts) {
    const n = letters.match(script)?.length ?? 0;
    if (n > 3 && n * 2 > letters.length) return tag;
    if (tag === 'ja' && n > 1) return tag;
    if (tag === 'zh' && n > 2) return tag;
  }
  let best: { tag: string; n: number } | undefined;
  for (const [tag, list] of Object.entries(c.lexicon.data.other)) {
    const n = new Set(c.tokens.filter((t) => list.includes(t.text)).map((t) => t.text)).size;
    if (n >= 2 && n > (best?.n ?? 0)) best = { tag, n };
  }
  return best?.tag;
}
