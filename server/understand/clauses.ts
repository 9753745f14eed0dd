import { isSentenceEnd } from './patterns.ts';
import type { Text, Token } from './tokens.ts';

/**
 * The number of the clause each token stands in. What is said of the past, of a neighbour or of what might be colours
 * its own clause alone: "like it used to, and there's smoke" tells of smoke.
 * A clause ends with a sentence, a line, a comma, a dash between spaces, or before a word that begins another ("and", "but", "so").
 * @param joins the words of the language that begin a clause
 */
export function clausesOf(text: Text, joins: ReadonlySet<string>): number[] {
  const { tokens, typed } = text;
  const out: number[] = [];
  let n = 0;
  tokens.forEach((t, i) => {
    const before = tokens[i - 1];
    if (before && (ends(before, t, typed) || (joins.has(t.text) && !isList(tokens, i)))) n++;
    out.push(n);
  });
  return out;
}

function ends(before: Token, t: Token, typed: string): boolean {
  if (isSentenceEnd(before) || (before.kind === 'mark' && [',', ':', '(', ')'].includes(before.text))) return true;
  if (before.kind === 'mark' && before.text === '-' && !before.glued) return true;
  return before.end <= t.start && typed.slice(before.end, t.start).includes('\n');
}

/** "Smoke and flames", "dizzy and sick": one word joined to one is no clause of its own. */
const isList = (tokens: readonly Token[], i: number): boolean => {
  const after = tokens[i + 2];
  return tokens[i + 1]?.kind === 'word' && (after === undefined || isSentenceEnd(after));
};
