import type { Band, VerdictWord } from '../types.ts';

/** What one reading of the case is, held against what this machine should show. `seq` is that of the reading. */
export interface Verdict {
  seq: number;
  is: VerdictWord;
  healthy?: Band;
  /** Class of the reading among its check's classes, e.g. "dead", "full". */
  class?: string;
  standing: 'single' | 'agreed' | 'doubted';
  rule: string;
  sources: string[];
}
