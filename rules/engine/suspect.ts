/** A fault, or several at once, as the readings of a case leave it. Numbers are seqs of readings; shares of all suspects add to 1. */
export interface Suspect {
  /** [] = "something not listed". */
  faults: string[];
  share: number;
  /** Readings it cannot explain. */
  misreads: number;
  live: boolean;
  for: number[];
  against: number[];
  confirmedBy: number[];
}
