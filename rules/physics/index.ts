/** The physics of a dryer: plain functions, units in their names, no clock, no chance. */

export * from './conductor.ts';
export { type Applied, applyEffects, nameIn, takesHold } from './effects.ts';
export * from './heating-wire.ts';
export * from './joint.ts';
export * from './meter.ts';
export { buildNet, type Net, type NetBranch, type NetOptions } from './net.ts';
export * from './resistance.ts';
export { LEAK_S, type Solved, solve, type VoltsRead } from './solve.ts';
export * from './supply.ts';
export * from './thermistor.ts';
