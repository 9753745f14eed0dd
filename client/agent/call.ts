import type { Line } from '../types.ts';

/** "3:07", and from an hour on "1:03:07". */
export function clock(ms: number): string {
  const s = Math.max(0, Math.floor(ms / 1000));
  const two = (n: number) => String(n).padStart(2, '0');
  const [h, min] = [Math.floor(s / 3600), Math.floor(s / 60) % 60];
  return h > 0 ? `${h}:${two(min)}:${two(s % 60)}` : `${min}:${two(s % 60)}`;
}

/** What was typed as the caller said it, each once, in order. A pressed button is nobody's words. */
export function callersWords(lines: readonly Line[]): string[] {
  const bare = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const words = lines.filter(
    ({ said, shown }) => /\s/.test(said.trim()) && !bare(shown).includes(bare(said)) && !said.includes(';'),
  );
  return [...new Set(words.map(({ said }) => said))];
}
