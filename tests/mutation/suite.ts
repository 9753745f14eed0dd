import { FILES } from '../../rules/knowledge/files.ts';
import { KnowledgeError, loadKnowledge } from '../../rules/knowledge/load.ts';
import type { Knowledge } from '../../rules/types.ts';
import { wrongExamples } from '../tools/audit-holes.ts';
import { EXPECTATIONS } from './expectations.ts';

/** Found by these expectations and not yet put right in the knowledge: named here, so that nothing else hides behind it. */
export const OPEN: readonly string[] = [];

/**
 * What a change of the knowledge has to get past: the loader's own checks, the examples written beside the rules, and the expectations
 * stated outside the knowledge. Says by what it was caught, in one line, or nothing.
 */
export async function caughtBy(parts: Readonly<Record<string, unknown>>): Promise<string | undefined> {
  let k: Knowledge;
  try {
    k = loadKnowledge(parts);
  } catch (error) {
    if (error instanceof KnowledgeError) return `loader: ${error.problems[0]}`;
    throw error;
  }
  // What is read from files that stand as they are has been met already.
  const changed = Object.keys(FILES).filter((file) => parts[file] !== FILES[file]);
  const touched = (files: readonly string[]) =>
    changed.some((c) => files.some((f) => c === f || (f.endsWith('/') && c.startsWith(f))));
  if (touched(['rules/'])) {
    const [wrong] = await wrongExamples(k);
    if (wrong) return `example: ${wrong}`;
  }
  for (const { name, reads, unmet } of EXPECTATIONS) {
    if (!touched(reads)) continue;
    const first = (await unmet(k)).find((u) => !OPEN.includes(u));
    if (first) return `${name}: ${first}`;
  }
  return undefined;
}

/** Every expectation the knowledge as it stands does not meet, but for the open ones. */
export async function unmetNow(): Promise<string[]> {
  const k = loadKnowledge(FILES);
  const out = (await wrongExamples(k)).map((w) => `example: ${w}`);
  for (const { name, unmet } of EXPECTATIONS)
    out.push(...(await unmet(k)).filter((u) => !OPEN.includes(u)).map((u) => `${name}: ${u}`));
  return out;
}
