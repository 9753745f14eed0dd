import type { MachineInHand } from '../rules/types.ts';
import { keep, kept } from './kept.ts';

/** The meter a technician carries from case to case: kept on the device, told to each new case. No id = the usual one. */
export type OwnMeter = Partial<Pick<MachineInHand, 'meter' | 'leads_ohm'>>;
const isOwnMeter = (value: unknown): value is OwnMeter =>
  typeof value === 'object' &&
  value !== null &&
  ['string', 'undefined'].includes(typeof (value as OwnMeter).meter) &&
  ['number', 'undefined'].includes(typeof (value as OwnMeter).leads_ohm);

/** @returns undefined when none was told yet */
export function ownMeter(): OwnMeter | undefined {
  const own = kept('meter', isOwnMeter);
  return own?.meter === undefined && own?.leads_ohm === undefined ? undefined : own;
}
export const keepMeter = (own: OwnMeter): void => keep('meter', own);
