import { readFileSync } from 'node:fs';
import list from './faults.json' with { type: 'json' };

/** A fault a person put into the program: one text of one file exchanged for another. */
export interface HandFault {
  id: string;
  /** What a reader of the change would call it. */
  what: string;
  file: string;
  /** Stands in the file exactly once. */
  find: string;
  put: string;
  /** The test file that caught it when all were last tried; asked first. Absent = nothing did. */
  caughtBy?: string;
}

export const HAND_FAULTS: readonly HandFault[] = list as HandFault[];

/** The text of its file with the fault in. Throws where what it replaces does not stand there exactly once. */
export function withFault(text: string, f: HandFault): string {
  const times = text.split(f.find).length - 1;
  if (times !== 1) throw new Error(`fault "${f.id}": what it replaces stands ${times} times in ${f.file}, not once`);
  return text.replace(f.find, () => f.put);
}

/** Faults whose place is gone: the program was rewritten there, and the fault has to be put in anew. */
export const outdated = (): string[] =>
  HAND_FAULTS.flatMap((f) => {
    try {
      withFault(readFileSync(f.file, 'utf8'), f);
      return [];
    } catch (e) {
      return [(e as Error).message];
    }
  });
