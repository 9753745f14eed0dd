import { z } from 'zod';
import { band } from './judged.ts';

const thermistorCurve = z.strictObject({
  id: z.string(),
  r25_ohm: z.number(),
  beta_k: z.number(),
  rows: z.array(z.tuple([z.number(), z.number()])).describe('°C, Ω'),
  source: z.string(),
  basis: z.string(),
});

/** What the curves beside the readings are drawn from; each is there only where the open question or a reading concerns it. */
export const curves = z
  .strictObject({
    thermistor: z
      .strictObject({
        fact: z.string(),
        label: z.string(),
        curves: z.array(thermistorCurve).describe('Examples of the kind: go by the maker’s sheet.'),
        reading: z
          .strictObject({ ohm: z.number(), at_c: z.array(z.number().nullable()) })
          .optional()
          .describe('The newest number read, and the °C it means on each curve (null = beyond the table).'),
      })
      .optional(),
    supply: z
      .array(
        z.strictObject({
          label: z.string(),
          idle_v: z.number().optional(),
          load_v: z.number().optional(),
          least_v: z.number().optional().describe('A sound supply stays above this under load.'),
        }),
      )
      .optional()
      .describe('At rest and with the heat on, each pair of points that was read or is asked.'),
    heat: z
      .strictObject({
        plate: z
          .strictObject({ volts_v: z.number(), watts_w: z.number(), known: z.boolean() })
          .describe('The heater alone, at this voltage.'),
        reading: z.strictObject({ label: z.string(), volts_v: z.number(), watts_w: z.number() }).optional(),
        expected: band.optional(),
      })
      .optional(),
  })
  .meta({ id: 'Curves', description: 'What the curves beside the readings are drawn from.' });
export type Curves = z.infer<typeof curves>;
