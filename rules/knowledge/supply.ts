import { z } from 'zod';
import { branch, node } from './branch.ts';
import { places } from './place.ts';
import { ref } from './ref.ts';
import { text, word } from './words.ts';

const pairs = z.array(z.tuple([ref('node'), ref('node')]));
/** Fact -> the answers that tell it. */
const knownBy = z.record(ref('fact'), z.array(ref('choice')).min(1));
const phasor = z.tuple([z.number(), z.number()]);

/** The house behind the receptacle, the same for every machine. */
export const supply = z.strictObject({
  $schema: z.string().optional(),
  reference: ref('node'),
  /** The node of the cabinet metal, on every machine. */
  cabinet: ref('node'),
  /** Where the two legs are fed: the motor's leg first. */
  sources: z.tuple([ref('node'), ref('node')]),
  /** Ω of a short wire laid from one terminal to another, from memory: 2 mΩ. */
  wire_ohm: z.number().positive(),
  nodes: z.array(node).min(2),
  branches: z.array(branch).min(1),
  /** Those of the house, the cord and the block: the same on every machine. */
  places,
  /** Phasors in V rms and degrees at the service transformer, of the two `sources`; neutral is `reference`. */
  systems: z.array(z.strictObject({ id: word, va: phasor, vb: phasor, note: text.optional() })).min(1),
  /** Pairs of points that read leg to leg. */
  legPairs: pairs,
  /** Pairs of points that read the motor's leg against neutral: at rest they give the scale of the supply. */
  scalePairs: pairs,
  /** The first stands where nobody has told. */
  hookups: z.array(
    z.strictObject({
      id: z.enum(['three-wire', 'four-wire']),
      drop: z.array(ref('branch')),
      add: z.array(branch),
      /** fact -> the answers that tell this hook-up. */
      knownBy: knownBy.optional(),
    }),
  ),
  /**
   * Wired straight in, without a plug: the contacts of `shut` are always closed, and where a plug would be out the breaker is off
   * and those of `off` are open. `knownBy`: fact -> the answers that tell it.
   */
  wiredIn: z.strictObject({
    knownBy,
    shut: z.array(ref('branch')).min(1),
    off: z.array(ref('branch')).min(1),
  }),
});
/** As it stands in the file. */
export type SupplyFile = z.infer<typeof supply>;
export type SupplyModel = Omit<SupplyFile, '$schema' | 'places'>;
