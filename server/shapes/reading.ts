import { z } from 'zod';
import { unitSchema } from '../cases/schema.ts';
import { band, verdictWord } from './judged.ts';

const texts = z.array(z.string());

/** One reading judged without a case. */
export const quickReading = z
  .strictObject({
    check: z.string(),
    fact: z.string(),
    label: z.string(),
    verdict: verdictWord,
    verdictWords: z.string(),
    shown: z.string().describe('The reading with its unit: "9.8 Ω".'),
    expected: band.optional(),
    expectedShown: z.string().optional(),
    because: z.string().describe('One or two sentences: why this verdict.'),
    how: texts.describe('How the band came about, one line a step.'),
    sources: texts.describe('Title, edition, table or section.'),
    cautions: texts.optional().describe('Cautions that stand with the check.'),
  })
  .meta({ id: 'QuickReading' });
export type QuickReading = z.infer<typeof quickReading>;

const titled = z.strictObject({ id: z.string(), title: z.string() });
const catalogueCheck = z.strictObject({
  id: z.string(),
  label: z.string(),
  level: z.int(),
  reads: z.array(
    z.strictObject({
      fact: z.string(),
      label: z.string(),
      unit: unitSchema,
      points: z.record(z.string(), z.string()).describe('Machine id or "*" -> the two points, in words.'),
      lowImpedance: z
        .boolean()
        .optional()
        .describe('There only where it matters to the verdict whether the meter is on low impedance: how this check is read.'),
    }),
  ),
});
export type CatalogueCheck = z.infer<typeof catalogueCheck>;

/** What a page needs to offer quick readings, in words. */
export const catalogue = z
  .strictObject({
    version: z.string(),
    families: z.array(titled),
    machines: z
      .array(titled.extend({ variants: z.array(titled) }))
      .describe('`variants`: ways it may be built otherwise than its drawing.'),
    meters: z.array(titled),
    checks: z.array(catalogueCheck),
  })
  .meta({ id: 'Catalogue' });
export type Catalogue = z.infer<typeof catalogue>;
