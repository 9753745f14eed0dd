/** The only door to the rules room. */

export {
  caseSettingsShape,
  factIn,
  hookupShape,
  idShape,
  isTold,
  isUnanswered,
  LONGEST_SAID,
  machineShape,
  noteShape,
  plateShape,
  pointsShape,
  settingsShape,
  takenOf,
  takenShape,
  toldShape,
  unansweredShape,
  undoneShape,
  valueShape,
} from './engine/answer.ts';
export { expectedAsTaken } from './engine/as-taken.ts';
export { inside, onlyOpen } from './engine/bands.ts';
export { foldCase, forMachine, latest, type Opened, standing, withCoversInFront } from './engine/case.ts';
export { consult } from './engine/consult.ts';
export { putBack } from './engine/covers.ts';
export { caseFlat, checkStanding, saysNothing, supplyScale } from './engine/derive.ts';
export { explains } from './engine/explains.ts';
export { fitsCircuit } from './engine/fits.ts';
export { judgeOne, type OneJudged, type OneReading } from './engine/judge-one.ts';
export { lineVolts } from './engine/line.ts';
export { machineInHand } from './engine/machine.ts';
export { outcomeOf, outcomeSeen } from './engine/outcome.ts';
export { prepare, warm } from './engine/prepare.ts';
export { evaluate, factsOf } from './engine/run-rules.ts';
export { temperatureOf } from './engine/temperature.ts';
export { askedCheck } from './engine/two-points.ts';
export { pointsOn } from './engine/variants.ts';
export { orDidYouMean } from './knowledge/closest.ts';
export { type ThermistorCurve, thermistorCurves } from './knowledge/curves.ts';
export { knowledge } from './knowledge/index.ts';
export { limit } from './knowledge/needed-limits.ts';
export { CONCLUSIONS, RULE_SETS, TRUTHS, VERDICTS } from './knowledge/rule.ts';
export { usesPower } from './knowledge/touches.ts';
export { audience as audienceShape, MAY_USE, PRIORITIES, TRADES, unit as unitShape } from './knowledge/words.ts';
export { byTable_c } from './physics/index.ts';
export type * from './types.ts';
