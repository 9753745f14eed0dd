import type { MachineInHand } from '../../../rules/types.ts';

/** Plate numbers as printed on it. */
export const plateNumbers = (plate: MachineInHand['plate']): string[] =>
  [
    plate.volts !== undefined && `${plate.volts} V`,
    plate.total_w !== undefined && `${plate.total_w} W`,
    plate.heater_w !== undefined && `${plate.heater_w} W`,
    plate.amps !== undefined && `${plate.amps} A`,
  ].filter((text) => text !== false);
