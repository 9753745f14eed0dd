import { knowledge } from '../../../rules/index.ts';
import type { MachineInHand } from '../../../rules/types.ts';

/** A dial machine with one coil, a cord with four wires, a plate nobody has read, and the first meter there is. */
export const DIAL_IN_HAND: MachineInHand = {
  circuits: ['dial-single-coil'],
  plate: {},
  hookup: 'four-wire',
  meter: [...knowledge().meters.keys()][0]!,
  system: knowledge().supply.systems[0]!.id,
};
