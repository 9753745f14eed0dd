import { FILES } from './files.ts';
import { loadKnowledge } from './load.ts';
import type { Knowledge } from './types.ts';

let kept: Knowledge | undefined;

/**
 * The knowledge that comes with the program, read and cross-checked once; frozen.
 * @throws KnowledgeError with every problem of every file
 */
export function knowledge(): Knowledge {
  kept ??= loadKnowledge(FILES);
  return kept;
}
