import { z } from 'zod';
import { ref } from './ref.ts';
import { kebab } from './words.ts';

const points = z.tuple([ref('node'), ref('node')]);

/** Where two leads go, first the red one; with the covers to take off for it, where they are not those of its two points. */
export const place = z.union([points, z.strictObject({ points, covers: z.array(ref('cover')).min(1) })]);
export type Place = z.infer<typeof place>;

/** Name of a place -> where it is. Checks say what they read across by these names. */
export const places = z.record(kebab, place);
export type Places = z.infer<typeof places>;

export const pointsOf = (at: Place): [string, string] => (Array.isArray(at) ? at : at.points);
