import type { CatalogueCheck, ReadingInput } from '../../server/conversation-port.ts';

/** A reading of a check. */
export interface Match {
  check: CatalogueCheck;
  read: CatalogueCheck['reads'][number];
}
/** All of a reading but what was read: that is picked, or found by the words. */
export type Rest = Omit<ReadingInput, 'check' | 'fact'>;

/** What one line says: a reading that can be judged, several it could be, or what is missing. */
export type LineRead =
  | { is: 'reading'; input: ReadingInput }
  | { is: 'which'; of: Match[]; rest: Rest }
  | { is: 'lost'; missing: 'value' | 'place' };

export const inputOf = ({ check, read }: Match, rest: Rest): ReadingInput => ({
  check: check.id,
  fact: read.fact,
  unit: read.unit,
  ...rest,
});
