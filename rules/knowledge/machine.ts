import { z } from 'zod';
import { branch, node } from './branch.ts';
import { places } from './place.ts';
import { ref } from './ref.ts';
import { basis, kebab, share, text, weight, word } from './words.ts';

/** One way a machine may be built otherwise than drawn. Applied to the circuit of the case alone; the drawing stays. */
export const variant = z.strictObject({
  id: kebab,
  /** As a technician says it: "the high limit sits on the motor side of the coil". */
  title: text,
  /** Branches that end elsewhere: id -> its points. */
  rewire: z.record(ref('branch'), z.tuple([ref('node'), ref('node')])).optional(),
  /** Branches that are not there; `joined` ones leave their two points as one. */
  drop: z.array(ref('branch')).optional(),
  joined: z.array(ref('branch')).optional(),
  add: z.array(branch).optional(),
  nodes: z.array(node).optional(),
  gains: z.array(kebab).optional(),
  loses: z.array(kebab).optional(),
  basis,
});
export type Variant = z.infer<typeof variant>;

export const machine = z.strictObject({
  $schema: z.string().optional(),
  id: kebab,
  title: text,
  attributes: z.array(kebab),
  /** What a person can tell that picks this machine: fact -> answer. */
  knownBy: z.record(ref('fact'), ref('choice')),
  prior: share,
  plate: z.strictObject({ volts: z.number().positive(), heater_w: z.number().positive() }),
  nodes: z.array(node).min(2),
  branches: z.array(branch).min(1),
  lifts: z.array(z.strictObject({ id: word, node: ref('node'), opens: z.array(ref('branch')).min(1), what: text })),
  places,
  /** How a machine in hand may differ from this drawing. */
  variants: z.array(variant).optional(),
  /** Words of the families' branch and node ids that this machine calls something else. */
  aliases: z.strictObject({ branches: z.record(word, ref('branch')), nodes: z.record(word, ref('node')) }).optional(),
  /** family -> fault -> its weight on this machine, in place of the one in faults.json. */
  weights: z.record(ref('family'), z.record(ref('fault'), weight)).optional(),
});
/** As it stands in the file. */
export type MachineFile = z.infer<typeof machine>;
/** A machine as drawn, or redrawn for one case. */
export interface Circuit extends Omit<MachineFile, '$schema' | 'places' | 'weights'> {
  /** Of a redrawn one: the variants it carries, in order. */
  redrawn?: string[];
  /** Of a redrawn one: where the two points of a part went that was moved, "a|b" as drawn -> as it is. */
  moved?: Record<string, [string, string]>;
}
