/** The physics of a dryer: plain functions, units in their names, no clock, no chance. */

export { type Applied, applyEffects, takesHold } from './effects.ts';
export * from './heating-wire.ts';
export * from './meter.ts';
export { buildNet, type Net, type NetBranch, type NetOptions } from './net.ts';
export { LEAK_S, type Solved, solve, type VoltsRead } from './solve.ts';
export * from './thermistor.ts';
