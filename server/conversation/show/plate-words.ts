import type { MachineInHand } from '../../../rules/types.ts';
import { shownNumber } from '../words/numbers.ts';

/** Plate numbers as printed on it. */
export const plateNumbers = (plate: MachineInHand['plate']): string[] =>
  [
    plate.volts !== undefined && `${plate.volts} V`,
    plate.total_w !== undefined && `${plate.total_w} W`,
    plate.heater_w !== undefined && `${plate.heater_w} W`,
    plate.amps !== undefined && `${plate.amps} A`,
  ].filter((text) => text !== false);

/** Plate numbers as a reply shows them, rounded like every other number. */
export const plateShown = ({ volts, total_w, heater_w, amps }: MachineInHand['plate'], units: 'us' | 'metric'): string =>
  [
    volts && shownNumber(volts, 'V', units),
    total_w && shownNumber(total_w, 'W', units),
    heater_w && shownNumber(heater_w, 'W', units),
    amps && shownNumber(amps, 'A', units),
  ]
    .filter(Boolean)
    .join(', ');
