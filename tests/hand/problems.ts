import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readShape } from '../../rules/knowledge/read-shapes.ts';
import type { Knowledge } from '../../rules/types.ts';
import { drawingProblems } from './drawing-problems.ts';
import { dryerProblems } from './dryer-problems.ts';
import { expectedProblems } from './expected-problems.ts';
import { namesAmiss } from './names.ts';
import { type DryerFaults, HAND_SHAPES, type Positions } from './shapes.ts';

export type HandFiles = Record<string, unknown>;

/** The hand-written files as they stand, by their paths below tests. */
export const handFiles = (): HandFiles =>
  Object.fromEntries(
    Object.keys(HAND_SHAPES).map((path) => [path, JSON.parse(readFileSync(join(import.meta.dirname, '..', path), 'utf8'))]),
  );

/**
 * Everything in the hand-written files that says nothing, or something else than the knowledge: file, id, key, and what may have been
 * meant. The tests that read a file hold it against this first; `npm run knowledge` tells all of it.
 */
export function handProblems(k: Knowledge, files: HandFiles = handFiles()): string[] {
  const amiss = Object.entries(HAND_SHAPES).flatMap(([path, shape]) => {
    const read = readShape(shape, files[path]);
    const problems = read.problems.length ? read.problems : namesAmiss(k, shape, read.value);
    return problems.map((problem) => `tests/${path}, ${problem}`);
  });
  // What cannot be read cannot be held against anything.
  if (amiss.length) return amiss;
  const positions = files['dryer/netlists/positions.json'] as Positions;
  return [
    ...drawingProblems(k, positions),
    ...dryerProblems(k, files['dryer/faults.json'] as DryerFaults, positions),
    ...expectedProblems(k, files),
  ];
}

/** For the tests that read those files, before anything is made of them. @throws Error with every problem */
export function holdHandFiles(k: Knowledge): void {
  const amiss = handProblems(k);
  if (amiss.length) throw new Error(`the hand-written files of the tests do not hold:\n${amiss.map((p) => `  ${p}`).join('\n')}`);
}
