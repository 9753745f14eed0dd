/** The physics of a dryer: plain functions, units in their names, no clock, no chance. */
export { buildNet, LEAK_S, type Net, type NetBranch, type NetOptions, type Solved, solve, type VoltsRead } from './circuit.ts';
export { type Applied, applyEffects, nameIn, takesHold } from './effects.ts';
