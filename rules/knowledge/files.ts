import checks from './checks.json' with { type: 'json' };
import covers from './covers.json' with { type: 'json' };
import facts from './facts.json' with { type: 'json' };
import families from './families.json' with { type: 'json' };
import faults from './faults.json' with { type: 'json' };
import findings from './findings.json' with { type: 'json' };
import limits from './limits.json' with { type: 'json' };
import dialSingleCoil from './machines/dial-single-coil.json' with { type: 'json' };
import dialTwoCoil from './machines/dial-two-coil.json' with { type: 'json' };
import electronic from './machines/electronic-relay-thermistor.json' with { type: 'json' };
import meters from './meters.json' with { type: 'json' };
import needs from './needs.json' with { type: 'json' };
import physicsLimits from './physics-limits.json' with { type: 'json' };
import repairs from './repairs.json' with { type: 'json' };
import ruleWords from './rule-words.json' with { type: 'json' };
import conclusions from './rules/conclusions.json' with { type: 'json' };
import followThrough from './rules/follow-through.json' with { type: 'json' };
import order from './rules/order.json' with { type: 'json' };
import permits from './rules/permits.json' with { type: 'json' };
import referrals from './rules/referrals.json' with { type: 'json' };
import ruleStops from './rules/stops.json' with { type: 'json' };
import verdicts from './rules/verdicts.json' with { type: 'json' };
import states from './states.json' with { type: 'json' };
import stopQuestions from './stop-questions.json' with { type: 'json' };
import stops from './stops.json' with { type: 'json' };
import supply from './supply.json' with { type: 'json' };

/** Our own files of knowledge, by their path below this folder. A new machine is one line here. */
export const FILES: Readonly<Record<string, unknown>> = {
  'facts.json': facts,
  'limits.json': limits,
  'physics-limits.json': physicsLimits,
  'faults.json': faults,
  'repairs.json': repairs,
  'checks.json': checks,
  'stops.json': stops,
  'stop-questions.json': stopQuestions,
  'findings.json': findings,
  'families.json': families,
  'needs.json': needs,
  'rule-words.json': ruleWords,
  'states.json': states,
  'covers.json': covers,
  'meters.json': meters,
  'supply.json': supply,
  'machines/dial-single-coil.json': dialSingleCoil,
  'machines/dial-two-coil.json': dialTwoCoil,
  'machines/electronic-relay-thermistor.json': electronic,
  'rules/stops.json': ruleStops,
  'rules/verdicts.json': verdicts,
  'rules/permits.json': permits,
  'rules/order.json': order,
  'rules/conclusions.json': conclusions,
  'rules/referrals.json': referrals,
  'rules/follow-through.json': followThrough,
};
