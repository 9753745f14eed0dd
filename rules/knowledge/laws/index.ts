import { attributesMeant } from './attributes-meant.ts';
import { causes } from './causes.ts';
import { closingUp, coversProved } from './closing-up.ts';
import { contactsWithStates } from './contacts-with-states.ts';
import { drawings } from './drawings.ts';
import { effectsThatReach } from './effects-that-reach.ts';
import { findingsCleared } from './findings-cleared.ts';
import { fittingMachines } from './fitting-machines.ts';
import { gates } from './gates.ts';
import { idsOnMachines } from './ids-on-machines.ts';
import { kindsOfFacts } from './kinds-of-facts.ts';
import type { Law } from './law.ts';
import { limitsThatHold } from './limits-that-hold.ts';
import { listsAsked } from './lists-asked.ts';
import { machinesToldApart } from './machines-told-apart.ts';
import { noJumper } from './no-jumper.ts';
import { answersInOutcomes, outcomes } from './outcomes.ts';
import { pointsOnMachines, priorsAddUp } from './points-on-machines.ts';
import { placesOnMachines, placesRead, readings } from './readings.ts';
import { repairsInUse } from './repairs-in-use.ts';
import { rulesForEach, rulesHeard } from './rules-heard.ts';
import { safeToDo } from './safe-to-do.ts';
import { signs } from './signs.ts';
import { answersThatFit, stopsInOrder } from './stops-in-order.ts';

/** What must hold between the files beside that every name stands for something. */
export const LAWS: readonly Law[] = [
  kindsOfFacts,
  limitsThatHold,
  fittingMachines,
  signs,
  effectsThatReach,
  causes,
  repairsInUse,
  closingUp,
  coversProved,
  readings,
  placesOnMachines,
  placesRead,
  safeToDo,
  outcomes,
  answersInOutcomes,
  listsAsked,
  stopsInOrder,
  answersThatFit,
  findingsCleared,
  gates,
  drawings,
  machinesToldApart,
  contactsWithStates,
  idsOnMachines,
  pointsOnMachines,
  priorsAddUp,
  attributesMeant,
  rulesHeard,
  rulesForEach,
  noJumper,
];
