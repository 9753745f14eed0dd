import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/knowledge/index.ts';
import { loadKnowledge } from '../../../rules/knowledge/load.ts';
import { NEEDED_LIMITS } from '../../../rules/knowledge/needed-limits.ts';
import { type Item, item, parts, problemsOf } from './parts.ts';

describe('our own knowledge', () => {
  test('is taken without a problem', () => {
    expect(problemsOf(parts())).toEqual([]);
  });

  test('is read once and cannot be changed afterwards', () => {
    const k = knowledge();
    expect(knowledge()).toBe(k);
    const fault = k.faults.get('element-open')!;
    expect(() => (fault.end.parts as string[]).push('spare')).toThrow(TypeError);
    expect(() => k.faults.delete('element-open')).toThrow('the knowledge is frozen');
    expect(() => k.limits.set('x', k.limits.get('v-dead')!)).toThrow('the knowledge is frozen');
  });

  test('its version follows the content, not the order in which files or fields stand', () => {
    const p = parts();
    const reversed = Object.fromEntries(Object.entries(p).reverse());
    expect(loadKnowledge(reversed).version).toBe(knowledge().version);
    item(p, 'limits.json', 'slip-rate').lo = 0.029;
    expect(loadKnowledge(p).version).not.toBe(knowledge().version);
  });

  test('the weights of the family add to 100 on each machine', () => {
    const k = knowledge();
    for (const machine of k.machines.keys()) {
      let sum = 0;
      for (const f of k.faults.values()) sum += f.weight['no-heat']?.[machine] ?? f.weight['no-heat']?.['*'] ?? 0;
      expect(sum, machine).toBeGreaterThan(99.5);
      expect(sum, machine).toBeLessThan(100.5);
    }
  });

  test('a homeowner or caller is never asked for live work, and every live check needs a qualified person', () => {
    for (const c of knowledge().checks.values()) {
      if (c.level === 4) expect(c.needs, c.id).toContain('qualified');
      if (c.level === 2 || c.level === 3)
        expect(c.needs.includes('opt-in') || c.needs.includes('technician-only'), c.id).toBe(true);
      expect(c.level, c.id).toBeLessThan(5);
    }
  });

  test('every dangerous answer of a gate has a choice of its own', () => {
    const k = knowledge();
    for (const id of ['gate-now', 'gate-signs']) {
      const gate = k.checks.get(id)!;
      const given = Object.values(gate.choices!).flatMap((g) => Object.entries(g).map(([f, a]) => `${f}=${a}`));
      for (const f of gate.settles) for (const d of k.facts.get(f)!.danger ?? []) expect(given, id).toContain(`${f}=${d}`);
    }
  });
});

/** What is broken, how, and the one sentence that must come of it. */
const BROKEN: [name: string, breakIt: (p: Record<string, unknown>) => void, problem: string][] = [
  [
    'a misspelt field',
    (p) => {
      item(p, 'faults.json', 'element-open').efects = [];
    },
    'faults.json, fault "element-open", "efects" is no field here; did you mean "effects"?',
  ],
  [
    'a missing field',
    (p) => {
      delete item(p, 'faults.json', 'element-open').side;
    },
    'faults.json, fault "element-open", side: is missing; it should be one of supply, machine, duct, use',
  ],
  [
    'a word for a number',
    (p) => {
      item(p, 'limits.json', 'v-dead').hi = 'ten';
    },
    'limits.json, limit "v-dead", hi: "ten" should be a number',
  ],
  [
    'a number out of a short list',
    (p) => {
      item(p, 'faults.json', 'element-open').end.priority = 7;
    },
    'faults.json, fault "element-open", end.priority: 7 is not one of 0, 1, 2, 3, 4',
  ],
  [
    'a word not among its words',
    (p) => {
      item(p, 'faults.json', 'vent-duct-restricted').signs.hood_air.weak = 'often';
    },
    'faults.json, fault "vent-duct-restricted", signs.hood_air.weak: "often" is not one of always, usual, maybe, rare, never',
  ],
  [
    'a leaf deep in one kind of effect',
    (p) => {
      item(p, 'faults.json', 'element-open').effects[0].ohm = 'broken';
    },
    'faults.json, fault "element-open", effects[0].ohm: "broken" does not fit; it should be a number or one of open, closed',
  ],
  [
    'a branch that a wired-in machine does not have',
    (p) => {
      (p['supply.json'] as Item).wiredIn.off[0] = 'brX';
    },
    'supply.json, wiredIn.off[0]: there is no branch "brX"; did you mean "brA"?',
  ],
  [
    'an act nobody knows',
    (p) => {
      item(p, 'stops.json', 'fire-now').sayNow.default[1].does = ['outt'];
    },
    'stops.json, stop "fire-now", sayNow.default[1].does[0]: there is no act "outt"; did you mean "out"?',
  ],
  [
    'an answer for a stop that is not there',
    (p) => {
      item(p, 'stop-questions.json', 'unplug').answers[1].when.stops = ['plug-scorch'];
    },
    'stop-questions.json, question "unplug", answers.hot.when.stops[0]: there is no stop "plug-scorch"; did you mean "plug-scorched"?',
  ],
  [
    'an answer after the one that always fits',
    (p) => {
      item(p, 'stop-questions.json', 'why').answers.push({ id: 'else' });
    },
    'stop-questions.json, question "why", answer "because": fits always, so nothing after it is ever said; the answer that fits always comes last',
  ],
  [
    'a question that may find no answer',
    (p) => {
      item(p, 'stop-questions.json', 'unplug').answers.pop();
    },
    'stop-questions.json, question "unplug", answer "breaker-first": is the last and does not fit always; the last one has neither "when" nor "touches"',
  ],
  [
    'an id in the wrong hand',
    (p) => {
      item(p, 'repairs.json', 'renew-knob').id = 'Renew_Knob';
    },
    'repairs.json, repair "Renew_Knob", id: "Renew_Knob" is not written as an id; ids are small letters and digits with hyphens',
  ],
  [
    'a number without a source',
    (p) => {
      item(p, 'limits.json', 'v-dead').source = '';
    },
    'limits.json, limit "v-dead", source: "" is too short to say anything',
  ],
  [
    'a file that is not there',
    (p) => {
      delete p['stops.json'];
    },
    'stops.json: is missing; every part of the knowledge needs its file',
  ],
  [
    'a file nobody knows',
    (p) => {
      p['fault.json'] = {};
    },
    'fault.json: is no file of the knowledge; did you mean "faults.json"?',
  ],
  [
    'an id used twice',
    (p) => {
      const f = p['repairs.json'] as Item;
      f.repairs.push(f.repairs[0]);
    },
    'repairs.json, repair "close-breaker-once": stands there twice, as repair 1 and repair 85; ids are used once',
  ],
  [
    'a fact that does not exist',
    (p) => {
      item(p, 'faults.json', 'lint-filter-clogged').signs.hood_ar = { weak: 'usual' };
    },
    'faults.json, fault "lint-filter-clogged", signs.hood_ar: there is no fact "hood_ar"; did you mean "hood_air"?',
  ],
  [
    'an answer the fact does not have',
    (p) => {
      item(p, 'faults.json', 'lint-filter-clogged').signs.hood_air.feeble = 'usual';
    },
    'faults.json, fault "lint-filter-clogged", signs.hood_air.feeble: "feeble" is not one of strong, weak, none, cannot-see (fact "hood_air")',
  ],
  [
    'a sign from an answer that says nothing',
    (p) => {
      item(p, 'faults.json', 'lint-filter-clogged').signs.hood_air['cannot-see'] = 'usual';
    },
    'faults.json, fault "lint-filter-clogged", signs.hood_air: "cannot-see" says nothing, so it cannot be a sign',
  ],
  [
    'a repair that does not exist',
    (p) => {
      item(p, 'faults.json', 'timer-knob-slipping').end.repair = 'renew-knobs';
    },
    'faults.json, fault "timer-knob-slipping", end.repair: there is no repair "renew-knobs"; did you mean "renew-knob"?',
  ],
  [
    'a repair no fault ends with',
    (p) => {
      (p['repairs.json'] as Item).repairs.push({ id: 'polish-drum', text: 'Polish the drum.', proofs: ['proof-airflow'] });
    },
    'repairs.json, repair "polish-drum": no fault ends with it',
  ],
  [
    'a proof that is no proof',
    (p) => {
      item(p, 'repairs.json', 'renew-knob').proofs = ['run-5-min'];
    },
    'repairs.json, repair "renew-knob", proofs: "run-5-min" is a check of kind "worth", not "proof"',
  ],
  [
    'a cause that does not exist',
    (p) => {
      item(p, 'faults.json', 'thermal-cutoff-open').causes[0].fault = 'vent-duct-restrict';
    },
    'faults.json, fault "thermal-cutoff-open", causes[0].fault: there is no fault "vent-duct-restrict"; did you mean "vent-duct-restricted"?',
  ],
  [
    'a branch no machine has',
    (p) => {
      item(p, 'faults.json', 'thermal-cutoff-open').effects[0].branch = 'cutof';
    },
    'faults.json, fault "thermal-cutoff-open", effects[0].branch: there is no branch "cutof"; did you mean "cutoff"?',
  ],
  [
    'effects that reach nothing on a machine the fault fits',
    (p) => {
      item(p, 'faults.json', 'temp-selector-open').fits = ['dial'];
    },
    'faults.json, fault "temp-selector-open", effects: none of them touches anything on "dial-single-coil", which the fault fits; does machines/dial-single-coil.json, aliases lack a name of theirs?',
  ],
  [
    'a weight for a machine the fault does not fit',
    (p) => {
      (p['machines/dial-single-coil.json'] as Item).weights['no-heat']['bias-heater-open'] = 1;
    },
    'machines/dial-single-coil.json, weights.no-heat.bias-heater-open: the fault does not fit this machine',
  ],
  [
    'an attribute no machine has',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').fits = ['one-coils'];
    },
    'checks.json, check "coil-ohms", fits[0]: there is no machine attribute "one-coils"; did you mean "one-coil"?',
  ],
  [
    'a point that is no node',
    (p) => {
      (p['machines/dial-two-coil.json'] as Item).places['coil-1'][0] = 'HCC';
    },
    'machines/dial-two-coil.json, places.coil-1[0]: there is no node "HCC"; did you mean "HC"?',
  ],
  [
    'a place that is nowhere',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').measure.reads[0].across = 'coli';
    },
    'checks.json, check "coil-ohms", measure.reads[0].across: there is no place "coli"; did you mean "coil"?',
  ],
  [
    'a place that one machine does not have',
    (p) => {
      delete (p['machines/dial-two-coil.json'] as Item).places['cut-off'];
    },
    'checks.json, check "limit-and-cutoff-ohms", measure of "cut_off_ohms", across: "dial-two-coil" has no place "cut-off"; machines/dial-two-coil.json, places says where it is',
  ],
  [
    'a place that nothing reads across',
    (p) => {
      const { places } = p['machines/electronic-relay-thermistor.json'] as Item;
      places.thermister = places.thermistor;
    },
    'machines/electronic-relay-thermistor.json, places.thermister: no check that fits reads across it; did you mean "thermistor"?',
  ],
  [
    'a clamp round a place without a wire',
    (p) => {
      (p['supply.json'] as Item).places['cord-other-leg'] = ['PLB', 'L1'];
    },
    'checks.json, check "clamp-other-leg-heat", measure of "heater_amps", across: a clamp goes round one wire, and "cord-other-leg" on "dial-two-coil" has 0',
  ],
  [
    'a lead that one machine does not lift',
    (p) => {
      const m = p['machines/dial-two-coil.json'] as Item;
      m.lifts = m.lifts.filter((lift: Item) => lift.id !== 'bond-strap');
    },
    'checks.json, check "insulation-ohms", measure.lift: "dial-two-coil" has no lead "bond-strap" that lifts',
  ],
  [
    'a class without a limit',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').measure.reads[0].classes.open = 'ohm-opn';
    },
    'checks.json, check "coil-ohms", measure.reads[0].classes.open: there is no limit "ohm-opn"; did you mean "ohm-open"?',
  ],
  [
    'an outcome that names no class',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').outcomes[0].when.coil_ohms = ['fine'];
    },
    'checks.json, check "coil-ohms", outcome "good": "fine" is no class of "coil_ohms"; the classes are good, open and odd',
  ],
  [
    'one fact measured by two checks',
    (p) => {
      const c = structuredClone(item(p, 'checks.json', 'coil-ohms'));
      c.id = 'coil-ohms-again';
      (p['checks.json'] as Item).checks.push(c);
    },
    'checks.json, check "coil-ohms-again", measure of "coil_ohms": check "coil-ohms" measures it too; points and state must be told from the fact',
  ],
  [
    'a fault confirmed that does not exist',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').confirms[0].fault = 'element-opn';
    },
    'checks.json, check "coil-ohms", confirms[0].fault: there is no fault "element-opn"; did you mean "element-open"?',
  ],
  [
    'a link to an outcome that does not exist',
    (p) => {
      item(p, 'checks.json', 'limit-and-cutoff-ohms').confirms[1].after[0].outcome = 'alike';
    },
    'checks.json, check "limit-and-cutoff-ohms", confirms[1].after[0].outcome: there is no outcome of "compare-stamps" "alike"',
  ],
  [
    'a state that does not exist',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').state = 'unpluged-off';
    },
    'checks.json, check "coil-ohms", state: there is no state "unpluged-off"; did you mean "unplugged-off"?',
  ],
  [
    'a cover that does not exist',
    (p) => {
      item(p, 'checks.json', 'coil-ohms').covers = ['reer'];
    },
    'checks.json, check "coil-ohms", covers[0]: there is no cover "reer"; did you mean "rear"?',
  ],
  [
    'a live check anybody might be asked',
    (p) => {
      item(p, 'checks.json', 'coil-volts').needs = [];
    },
    'checks.json, check "coil-volts", needs: a live reading needs "qualified"',
  ],
  [
    'a need that does not exist',
    (p) => {
      item(p, 'checks.json', 'coil-volts').needs = ['qualified', 'electrc'];
    },
    'checks.json, check "coil-volts", needs[1]: there is no need "electrc"; did you mean "electric"?',
  ],
  [
    'a gate whose "none" leaves a danger open',
    (p) => {
      delete item(p, 'checks.json', 'gate-now').choices.none.gas_smell;
    },
    'checks.json, check "gate-now", choice "none": says nothing about "gas_smell"',
  ],
  [
    'a number in a stop that nobody gives',
    (p) => {
      item(p, 'stops.json', 'fire-now').sayNow.default[2].text = 'Call {fireBrigade} from outside.';
    },
    'stops.json, stop "fire-now", sayNow: there is no number "fireBrigade"',
  ],
  [
    'a stop no rule recognises',
    (p) => {
      const r = p['rules/stops.json'] as Item;
      r.rules = r.rules.filter((x: Item) => x.then.stop !== 'charred-lint');
    },
    'stops.json, stop "charred-lint": no rule says when it holds',
  ],
  [
    'a family that does not exist',
    (p) => {
      item(p, 'families.json', 'no-heat').crossovers[0].to = 'hums';
    },
    'families.json, family "no-heat", crossovers[0].to: there is no family "hums"',
  ],
  [
    'an operator the engine does not know',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').when.all[0].operator = 'equals';
    },
    'rules/stops.json, rule "stop-water", when.all[0].operator: "equals" is not one of equal, notEqual, in, notIn, lessThan, lessThanInclusive, greaterThan, greaterThanInclusive; did you mean "equal"?',
  ],
  [
    'a rule on a fact nobody gives',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').when.all[0].fact = 'water_sen';
    },
    'rules/stops.json, rule "stop-water", condition on "water_sen": a rule over a case sees no such fact; did you mean "water_seen"?',
  ],
  [
    'a rule that compares with an answer the fact does not have',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').when.all[0].value = 'wet';
    },
    'rules/stops.json, rule "stop-water", condition on "water_seen": "wet" is not one of no, yes',
  ],
  [
    'a number compared with a word',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').when.all[0] = { fact: 'coil_ohms', operator: 'equal', value: 'open' };
    },
    'rules/stops.json, rule "stop-water", condition on "coil_ohms": is a number and cannot be compared with "open"',
  ],
  [
    'a word compared by size',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').when.all[0] = { fact: 'water_seen', operator: 'greaterThan', value: 1 };
    },
    'rules/stops.json, rule "stop-water", condition on "water_seen": is a word; "greaterThan" compares numbers',
  ],
  [
    'a rule without the example that is unknown',
    (p) => {
      const r = item(p, 'rules/stops.json', 'stop-water');
      r.examples = r.examples.filter((e: Item) => e.truth !== 'unknown');
    },
    'rules/stops.json, rule "stop-water", examples: none of them is unknown; a rule shows all three',
  ],
  [
    'a permit nobody reads',
    (p) => {
      item(p, 'rules/permits.json', 'silenced-never').then = { permitt: 'no' };
    },
    'rules/permits.json, rule "silenced-never", then: "permitt" is no field here; did you mean "permit"?',
  ],
  [
    'a permit that is neither yes nor no',
    (p) => {
      item(p, 'rules/permits.json', 'needs-not-met').then.permit = 'nope';
    },
    'rules/permits.json, rule "needs-not-met", then.permit: "nope" is not one of yes, no; did you mean "no"?',
  ],
  [
    'a need nobody has',
    (p) => {
      item(p, 'rules/permits.json', 'need-electric').then.meets = 'electrik';
    },
    'rules/permits.json, rule "need-electric", then.meets: there is no need "electrik"; did you mean "electric"?',
  ],
  [
    'a stop nobody knows',
    (p) => {
      item(p, 'rules/stops.json', 'stop-water').then.stop = 'watter';
    },
    'rules/stops.json, rule "stop-water", then.stop: there is no stop "watter"; did you mean "water"?',
  ],
  [
    'a stop rule that says two things at once',
    (p) => {
      item(p, 'rules/stops.json', 'stop-fire-now').then.silence = ['run'];
    },
    'rules/stops.json, rule "stop-fire-now", then: "silence" does not go with what stands beside it',
  ],
  [
    'a silence of a thing that nothing touches',
    (p) => {
      item(p, 'rules/stops.json', 'gas-not-cleared').then.silence[0] = 'swich';
    },
    'rules/stops.json, rule "gas-not-cleared", then.silence[0]: "swich" is not one of touch-machine, stay-near, switch, panel, breaker-off, breaker-on, plug-out, plug-in, run, live, phone-here, flame; did you mean "switch"?',
  ],
  [
    'a silence as one sentence',
    (p) => {
      item(p, 'rules/stops.json', 'gas-not-cleared').then.silence = 'switch run';
    },
    'rules/stops.json, rule "gas-not-cleared", then.silence: "switch run" should be a list',
  ],
  [
    'a stop lifted in a way nobody knows',
    (p) => {
      item(p, 'rules/stops.json', 'made-safe-lifts').then.lifts = 'made save';
    },
    'rules/stops.json, rule "made-safe-lifts", then.lifts: "made save" is not one of made safe; did you mean "made safe"?',
  ],
  [
    'a release asked by a check that is not there',
    (p) => {
      item(p, 'rules/stops.json', 'made-safe-lifts').then.asks = 'ask-made-save';
    },
    'rules/stops.json, rule "made-safe-lifts", then.asks: there is no check "ask-made-save"; did you mean "ask-made-safe"?',
  ],
  [
    'a verdict nobody knows',
    (p) => {
      item(p, 'rules/verdicts.json', 'over-range').then.is = 'opn';
    },
    'rules/verdicts.json, rule "over-range", then.is: "opn" is not one of good, low, high, open, closed, close call, floating, burning, needs a temperature, ask again, noted; did you mean "open"?',
  ],
  [
    'an order class nobody reads',
    (p) => {
      item(p, 'rules/order.json', 'live-last').then = { rnk: 1 };
    },
    'rules/order.json, rule "live-last", then: "rnk" is no field here; did you mean "rank"?',
  ],
  [
    'a rule over items at which nobody hears it',
    (p) => {
      item(p, 'rules/order.json', 'gates-first').over = 'case';
    },
    'rules/order.json, rule "gates-first", over: "rank" is asked over each check; over "case" nobody hears it',
  ],
  [
    'an end nobody knows',
    (p) => {
      item(p, 'rules/conclusions.json', 'one-repair-proved').then.conclusion = 'confirmd';
    },
    'rules/conclusions.json, rule "one-repair-proved", then.conclusion: "confirmd" is not one of confirmed, cleared, no more to learn, not explained; did you mean "confirmed"?',
  ],
  [
    'a trade nobody has',
    (p) => {
      item(p, 'rules/conclusions.json', 'beyond-gas').then.trade = 'gass';
    },
    'rules/conclusions.json, rule "beyond-gas", then.trade: "gass" is not one of owner, appliance, electrician, utility, gas, duct, emergency, landlord, maker; did you mean "gas"?',
  ],
  [
    'a referral of no kind',
    (p) => {
      item(p, 'rules/referrals.json', 'own-hands').then = { kinds: 'own-hands' };
    },
    'rules/referrals.json, rule "own-hands", then: "kinds" is no field here; did you mean "kind"?',
  ],
  [
    'a next step nobody takes',
    (p) => {
      item(p, 'rules/follow-through.json', 'reopen').then.next = 're-open';
    },
    'rules/follow-through.json, rule "reopen", then.next: "re-open" is not one of cause, repair, proof, reopen, close-out; did you mean "reopen"?',
  ],
  [
    'a check that touches something unknown',
    (p) => {
      item(p, 'checks.json', 'clear-lock').touches[2] = 'runn';
    },
    'checks.json, check "clear-lock", touches[2]: "runn" is not one of touch-machine, stay-near, switch, panel, breaker-off, breaker-on, plug-out, plug-in, run, live, phone-here, flame; did you mean "run"?',
  ],
  [
    'a "no" until something nobody can meet',
    (p) => {
      item(p, 'rules/permits.json', 'dead-before-power').then.until = 'insulation-clear';
    },
    'rules/permits.json, rule "dead-before-power", then.until: there is no need "insulation-clear"; did you mean "insulation-cleared"?',
  ],
  [
    'a check that clears nothing',
    (p) => {
      item(p, 'checks.json', 'insulation-ohms').clears = 'insulation-cleard';
    },
    'checks.json, check "insulation-ohms", clears: there is no need "insulation-cleard"; did you mean "insulation-cleared"?',
  ],
  [
    'a family of the case that is misspelt',
    (p) => {
      item(p, 'rules/permits.json', 'need-dead-first').when.any[1].fact = 'family_shok';
    },
    'rules/permits.json, rule "need-dead-first", condition on "family_shok": a rule over a case sees no such fact; did you mean "family_shock"?',
  ],
  [
    'an outcome of a check that it does not have',
    (p) => {
      item(p, 'rules/permits.json', 'need-insulation-cleared').when.all[0].value = 'cleared';
    },
    'rules/permits.json, rule "need-insulation-cleared", condition on "seen_insulation_ohms": "cleared" is not one of motor-string-to-case, line-side-leaks, motor-string-leaks, line-side-to-case, clear',
  ],
  [
    'a need asked after that is misspelt',
    (p) => {
      item(p, 'rules/permits.json', 'no-power-while-wet').when.all[1].fact = 'met_wet_insid';
    },
    'rules/permits.json, rule "no-power-while-wet", condition on "met_wet_insid": a rule over a check sees no such fact; did you mean "met_wet_inside"?',
  ],
  [
    'a run with a cover off that must be on',
    (p) => {
      item(p, 'checks.json', 'lean-door').covers = ['rear'];
    },
    'checks.json, check "lean-door", covers.*: "rear" must be on while this is done, for it uses power',
  ],
  [
    'a live reading with the drum out',
    (p) => {
      item(p, 'checks.json', 'sag-at-start').covers.push('front-drum');
    },
    'checks.json, check "sag-at-start", covers.*: "front-drum" must be on while this is done, for it uses power',
  ],
  [
    'a cover told off that no dryer has',
    (p) => {
      item(p, 'facts.json', 'covers_now').covers['back-off'] = ['raer'];
    },
    'facts.json, fact "covers_now", covers.back-off[0]: there is no cover "raer"; did you mean "rear"?',
  ],
  [
    'a jumper in an instruction',
    (p) => {
      item(p, 'repairs.json', 'renew-cutoff-and-limit').text = 'Put a jumper across the cut-off and try.';
    },
    'repairs.json, "renew-cutoff-and-limit": "jumper" speaks of taking a safety part out of circuit; no text may, for nobody',
  ],
];

test('the limits that must be there are those the code reads', () => {
  const rooms = ['rules/engine', 'rules/physics', 'server'].map((room) => join(import.meta.dirname, '../../..', room));
  const code = rooms.map((room) =>
    readdirSync(room, { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.ts'))
      .map((path) => readFileSync(join(room, path), 'utf8'))
      .join(),
  );
  expect(NEEDED_LIMITS.filter((id) => !code.some((text) => text.includes(`'${id}'`)))).toEqual([]);
});

test.each(NEEDED_LIMITS)('no knowledge without the limit %s', (id) => {
  const p = parts();
  for (const file of ['limits.json', 'physics-limits.json']) {
    const held = p[file] as { limits: Item[] };
    held.limits = held.limits.filter((limit) => limit.id !== id);
  }
  expect(problemsOf(p)).toContain(`limits.json, limit "${id}": is missing; the engine reads it`);
});

describe('the loader says what is wrong and what would be right', () => {
  test.each(BROKEN)('%s', (_, breakIt, problem) => {
    const p = parts();
    breakIt(p);
    const problems = problemsOf(p);
    expect(problems).toContain(problem);
  });

  test('breaking one thing in each of many files reports all of them at once', () => {
    const p = parts();
    // Those that empty whole files or lists would hide what depends on them.
    const apart = BROKEN.filter(([name]) => !['a file that is not there', 'an id in the wrong hand'].includes(name));
    const once = new Map<string, (typeof BROKEN)[number]>();
    for (const b of apart) once.set(b[2].split(/[,:]/).slice(0, 2).join(), b);
    for (const [, breakIt] of once.values()) breakIt(p);
    const problems = problemsOf(p);
    expect(once.size).toBeGreaterThan(20);
    for (const [, , problem] of once.values()) expect(problems).toContain(problem);
  });
});
