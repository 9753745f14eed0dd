import type { JobBlock } from '../../shapes/sheet.ts';
import fields from './job-fields.json' with { type: 'json' };

export const JOB_BLOCKS = fields.blocks as JobBlock[];
export const JOB_FIELDS: readonly string[] = JOB_BLOCKS.flatMap((block) => block.fields.map(({ id }) => id));
/** Told in the talk as one of its choices; the rest of the plate is numbers. */
export const PLATE_FACT = fields.plateFact;
