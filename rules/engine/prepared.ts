import type { Band, Circuit, Knowledge } from '../types.ts';
import type { MachineInHand } from './machine.ts';

/** What the meter is set to read: V, Ω or A. */
export type MeterSetting = 'volts' | 'ohms' | 'amps';

/** What one check would show under one suspect: a band per fact, or null where it is not read on this machine. */
export interface Expected {
  fact: string;
  /** Nominal reading: plate values, nominal supply, no meter error. */
  centre: number | 'open';
  /** Over rating corners, supply range (or measured supply), meter and leads. */
  band: Band;
}
export interface Prepared {
  knowledge: Knowledge;
  machine: MachineInHand;
  /** Fitting circuits; the first is the likeliest. */
  circuits: Circuit[];
  /**
   * Expected readings of a check under a set of faults ([] = healthy), one list per circuit those faults fit.
   * 'will-not-run' where the state needs a turning motor and it would not turn.
   * `scale` multiplies the nominal supply by a measured ratio; absent = the whole service range.
   */
  expected(check: string, faults: readonly string[], scale?: number): (Expected[] | 'will-not-run')[];
  /** The same for any two points in any state; amps are those in `branch`. */
  between(
    what: MeterSetting,
    points: readonly [string, string],
    state: string,
    faults: readonly string[],
    how?: {
      lowImpedance?: boolean;
      lifted?: string;
      scale?: number;
      branch?: string;
      machine?: string;
      /** Nobody told how warm it was: whatever a sensor shows in any room. */
      anyTemperature?: boolean;
    },
  ): (Expected | 'will-not-run' | 'not-here')[];
}
