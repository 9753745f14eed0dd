import stored from '../../data/cases-stored-flat.json' with { type: 'json' };

/** A stored answer as it was written before answers had several shapes. */
type Body = { seq: number; act: string; [key: string]: unknown };
export interface StoredFlat {
  id: string;
  opened: string;
  audience: string;
  /** The question that was open, and the signs of the stops that stood. */
  open: string | null;
  stops: string[];
  /** What the case showed of its answers: number, act, fact ('' = of none). */
  lines: [seq: number, act: string, fact: string][];
  turns: { rev: number; settings: object; key?: string; asked?: string; bodies: Body[] }[];
}
export const STORED_FLAT = stored.cases as unknown as StoredFlat[];
