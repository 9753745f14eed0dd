import { z } from 'zod';
import { factId, kebab, text, word } from './words.ts';

/** What a name may stand for elsewhere in the knowledge -> how such a name is written. */
const WRITTEN = {
  fact: factId,
  finding: factId,
  family: kebab,
  fault: kebab,
  repair: kebab,
  check: kebab,
  state: kebab,
  cover: kebab,
  machine: kebab,
  limit: kebab,
  need: kebab,
  caution: kebab,
  act: kebab,
  stop: kebab,
  curve: kebab,
  attribute: kebab,
  system: word,
  place: kebab,
  lift: word,
  class: text,
  // Of the nearest fact or check named around it.
  choice: word,
  outcome: kebab,
  // Of the machine whose file it stands in, or of one that the fault fits.
  branch: word,
  node: word,
} as const;
export type RefKind = keyof typeof WRITTEN;

/** What a shape refers to. `instead`: a word that may stand there and is no name ("any", "healthy"). */
export interface Ref {
  to: RefKind;
  instead?: string;
}
/** Every shape that is the name of something else; find-refs.ts walks by it, and no name goes unread. */
export const REFS = z.registry<Ref>();

/** A name of something that stands elsewhere in the knowledge: the load says where nothing is called so. */
export function ref(to: RefKind, instead?: string): z.ZodString {
  const written = WRITTEN[to];
  if (instead === undefined) return written.clone().register(REFS, { to });
  return (written.safeParse(instead).success ? written : word).clone().register(REFS, { to, instead });
}
