import type { Speaker } from '../words/speaker.ts';

/** Things that get an answer wherever they come up (gloves, bridging a safety part): found by their words, each once; accents count for nothing. */
export function topicsIn(s: Speaker, text: string): string[] {
  const words = ` ${text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')} `;
  return s.words.general.topics.filter((t) => t.match.some((m) => words.includes(` ${m} `))).map((t) => s.to(t.says));
}
