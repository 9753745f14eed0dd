import { z } from 'zod';
import { TOUCHES, type Touch } from './touches.ts';

// zod would try whether it may compile its checks; under the page's policy that try is an error in somebody's console.
z.config({ jitless: true });

/** The small words that the shapes of the knowledge are made of: ids, trades, units, how far something may be used. */
export const kebab = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, { message: 'ids are small letters and digits with hyphens' });
export const factId = z
  .string()
  .regex(/^[a-z0-9]+(_[a-z0-9]+)*$/, { message: 'fact ids are small letters and digits with underscores' });
export const word = z.string().min(1);
export const text = z.string().min(3);
export const share = z.number().min(0).max(1);
/** How often a fault is behind a complaint, against the others that fit. */
export const weight = z.number().min(0).max(100);

export const audience = z.enum(['homeowner', 'agent', 'technician']);
export type Audience = z.infer<typeof audience>;
/** 0 asking and looking, 1 settings and outside, 2 and 3 dead work behind covers, 4 live readings, 5 never. */
export const level = z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(5)]);
export type Level = z.infer<typeof level>;
export const trade = z.enum(['owner', 'appliance', 'electrician', 'utility', 'gas', 'duct', 'emergency', 'landlord', 'maker']);
export const TRADES = trade.options;
export type Trade = z.infer<typeof trade>;
export const unit = z.enum(['V', 'Ω', 'A', 'W', '°C', 'min', 'Pa', 'm/s', '1']);
export type Unit = z.infer<typeof unit>;
export const basis = z.enum(['standard', 'handbook', 'computed', 'common practice', 'from memory']);
export type Basis = z.infer<typeof basis>;
/** Words for how likely a sign is, likeliest first; their numbers stand once, in limits.json (`likely`). */
export const LIKELY = ['always', 'usual', 'maybe', 'rare', 'never'] as const;
export const likelyWord = z.enum(LIKELY);
export type Likely = z.infer<typeof likelyWord>;
export const mayUse = z.enum(['yes', 'limited', 'no']);
export const MAY_USE = mayUse.options;
export type MayUse = z.infer<typeof mayUse>;
export const PRIORITIES = [0, 1, 2, 3, 4] as const;
export const priority = z.literal(PRIORITIES);
export type Priority = z.infer<typeof priority>;
export const touch = z.enum(Object.keys(TOUCHES) as [Touch, ...Touch[]]).describe(
  Object.entries(TOUCHES)
    .map(([id, t]) => `${id}${'power' in t ? ` (${t.power} power)` : ''}: ${t.means}`)
    .join('; '),
);
