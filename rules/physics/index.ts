/** The physics of a dryer: plain functions, units in their names, no clock, no chance. */
export { buildNet, LEAK_S, type Net, type NetBranch, type NetOptions, type Solved, solve, type VoltsRead } from './circuit.ts';
export * from './conductor.ts';
export { type Applied, applyEffects, nameIn, takesHold } from './effects.ts';
export * from './heating-wire.ts';
export * from './joint.ts';
export * from './meter.ts';
export * from './resistance.ts';
export * from './supply.ts';
export * from './thermistor.ts';
