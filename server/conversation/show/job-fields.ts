import fields from './job-fields.json' with { type: 'json' };

/** One thing a person writes on the job sheet by hand. It is carried along and reasoned about by nobody. */
export interface JobField {
  id: string;
  label: string;
  /** What is usually written there. */
  choices?: string[];
  /** A time of day. */
  time?: boolean;
}
export interface JobBlock {
  id: string;
  title: string;
  /** before the visit, or after it by whoever was there. */
  phase: 'before' | 'after';
  fields: JobField[];
}
export const JOB_BLOCKS = fields.blocks as JobBlock[];
export const JOB_FIELDS: readonly string[] = JOB_BLOCKS.flatMap((block) => block.fields.map(({ id }) => id));
/** Told in the talk as one of its choices; the rest of the plate is numbers. */
export const PLATE_FACT = fields.plateFact;
/** Longest thing written in one field, in characters. */
export const LONGEST_FIELD = 400;
