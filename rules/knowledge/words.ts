import { z } from 'zod';
import { LIKELY } from '../types.ts';
import { TOUCHES, type Touch } from './touches.ts';

/** The small words that the shapes of the knowledge are made of: ids, trades, units, how far something may be used. */
export const kebab = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, { message: 'ids are small letters and digits with hyphens' });
export const factId = z
  .string()
  .regex(/^[a-z0-9]+(_[a-z0-9]+)*$/, { message: 'fact ids are small letters and digits with underscores' });
export const word = z.string().min(1);
export const text = z.string().min(3);
export const audience = z.enum(['homeowner', 'agent', 'technician']);
export const trade = z.enum(['owner', 'appliance', 'electrician', 'utility', 'gas', 'duct', 'emergency', 'landlord', 'maker']);
export const unit = z.enum(['V', 'Ω', 'A', 'W', '°C', 'min', 'Pa', 'm/s', '1']);
export const basis = z.enum(['standard', 'handbook', 'computed', 'common practice', 'from memory']);
export const likelyWord = z.enum(LIKELY);
export const mayUse = z.enum(['yes', 'limited', 'no']);
export const priority = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4)]);
export const touch = z.enum(Object.keys(TOUCHES) as [Touch, ...Touch[]]).describe(
  Object.entries(TOUCHES)
    .map(([id, t]) => `${id}${'power' in t ? ` (${t.power} power)` : ''}: ${t.means}`)
    .join('; '),
);
