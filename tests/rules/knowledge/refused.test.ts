import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { FILES } from '../../../rules/knowledge/files.ts';
import { knowledge } from '../../../rules/knowledge/index.ts';
import { loadKnowledge } from '../../../rules/knowledge/load.ts';
import type { Knowledge } from '../../../rules/types.ts';
import { type TalkFiles, talkFileProblems } from '../../../server/conversation/check-talk-files.ts';
import talkFacts from '../../../server/conversation/hear/talk-facts.json' with { type: 'json' };
import job from '../../../server/conversation/show/job-fields.json' with { type: 'json' };
import asks from '../../../server/conversation/stand/asks-danger.json' with { type: 'json' };
import { ourWords, rawFiles } from '../../../server/conversation/words/index.ts';
import { loadWords, WordsError } from '../../../server/conversation/words/load.ts';
import type { Language } from '../../../server/languages.ts';
import { lexiconProblems } from '../../../server/understand/check-lexicon.ts';
import { LISTS, type Lists } from '../../../server/understand/check-lists.ts';
import { LANGUAGES } from '../../../server/understand/lexicon/languages.ts';
import type { LexiconFiles } from '../../../server/understand/lexicon/shape.ts';
import { confirmedByNoReading } from '../../tools/audit-confirms.ts';
import { heatsAmiss } from '../../tools/audit-heats.ts';
import { answersOfNoFault, confirmedByNever, unconfirmedFaults, unusedLimits, weightsAmiss } from '../../tools/audit-holes.ts';
import { startProblems } from '../../tools/audit-start.ts';
import { countedHoles } from '../../tools/knowledge.ts';
import { type Item, item, newMachine, parts, problemsOf } from './parts.ts';

/**
 * What would go wrong in silence: put in one by one, each is refused with one sentence that names file, id and field, and what may have
 * been meant. Shapes and the laws between files have their own table in load.test.ts.
 */
const k = knowledge();

describe('the load refuses', () => {
  test('a file in the folder that nobody knows, for every file there is read', () => {
    const folder = join(import.meta.dirname, '../../../rules/knowledge');
    const there = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((path) => path.replaceAll('\\', '/'));
    const files = there.filter((path) => path.endsWith('.json') && !path.startsWith('schemas/'));
    expect([...Object.keys(FILES), 'thermistors.json'].sort()).toEqual(files.sort());
    expect(problemsOf({ ...parts(), 'machine/dial-new.json': {} })).toContain(
      'machine/dial-new.json: is no file of the knowledge',
    );
  });

  test.each<[set: string, rule: string, then: Item, problem: string]>([
    ['stops', 'stop-water', { stopp: 'water' }, 'then: "stopp" is no field here; did you mean "stop"?'],
    ['verdicts', 'over-range', { iss: 'open' }, 'then: "iss" is no field here; did you mean "is"?'],
    ['verdicts', 'over-range', { finds: 'earth_pathh' }, 'then.finds: there is no finding "earth_pathh"'],
    [
      'verdicts',
      'over-range',
      { asks: 'sensor-temperatur' },
      'then.asks: there is no check "sensor-temperatur"; did you mean "sensor-temperature"?',
    ],
    ['permits', 'silenced-never', { permitt: 'no' }, 'then: "permitt" is no field here; did you mean "permit"?'],
    ['order', 'live-last', { rnk: 1 }, 'then: "rnk" is no field here; did you mean "rank"?'],
    [
      'conclusions',
      'one-repair-proved',
      { conclusions: 'confirmed' },
      'then: "conclusions" is no field here; did you mean "conclusion"?',
    ],
    ['referrals', 'own-hands', { knd: 'own-hands' }, 'then: "knd" is no field here; did you mean "kind"?'],
    ['follow-through', 'reopen', { nxt: 'reopen' }, 'then: "nxt" is no field here; did you mean "next"?'],
  ])('a rule of %s (%s) that says %j', (set, rule, then, problem) => {
    const p = parts();
    item(p, `rules/${set}.json`, rule).then = then;
    expect(
      problemsOf(p).some((said) => said.startsWith(`rules/${set}.json, rule "${rule}", ${problem}`)),
      problemsOf(p).join('\n'),
    ).toBe(true);
  });

  test('an answer that is of no outcome', () => {
    const p = parts();
    item(p, 'facts.json', 'cabinet_seen').choices.push('joint-apart');
    expect(problemsOf(p)).toEqual([
      'checks.json, check "look-cabinet", outcomes: none is of the answer "joint-apart" (fact "cabinet_seen")',
    ]);
  });

  test('a machine that nothing is read on, place by place', () => {
    const p = parts();
    newMachine(p, { places: {} });
    const problems = problemsOf(p);
    expect(problems).toContain(
      'checks.json, check "coil-ohms", measure of "coil_ohms", across: "dial-new" has no place "coil"; machines/dial-new.json, places says where it is',
    );
    // One for every reading of the checks it fits that is not of the house.
    expect(problems.length).toBeGreaterThan(30);
    expect(problems.filter((said) => !said.includes('has no place'))).toEqual([]);
  });
});

const SINGLE = 'machines/dial-single-coil.json';
const at = (list: readonly Item[], id: string): Item => list.find((one) => one.id === id);

describe('the load refuses a machine', () => {
  test('no sound copy of one', () => {
    const p = parts();
    newMachine(p);
    expect(problemsOf(p)).toEqual([]);
  });
  test.each<[what: string, breakIt: (p: Item) => void, problem: string]>([
    [
      'that the same answers tell as another',
      (p) => newMachine(p, { knownBy: { control_kind: 'dial', heater_coils: 'one' } }),
      'machines/dial-single-coil.json and machines/dial-new.json, knownBy: the same answers tell both; one fact should have another answer on each',
    ],
    [
      'that nothing tells from the others',
      (p) => newMachine(p, { knownBy: {} }),
      'machines/electronic-relay-thermistor.json and machines/dial-new.json, knownBy: the same answers tell both; one fact should have another answer on each',
    ],
    [
      'known by an answer that says nothing',
      (p) => newMachine(p, { knownBy: { control_kind: 'unsure' } }),
      'machines/dial-new.json, knownBy.control_kind: "unsure" says nothing, so it tells no machine',
    ],
    [
      'with a contact that names no states',
      (p) => delete at(p[SINGLE].branches, 'timer_heat').closedIn,
      'machines/dial-single-coil.json, branches.timer_heat, closedIn: is missing; a contact names the states it is closed in, even where those are all',
    ],
    [
      'built otherwise with a contact that names no states',
      (p) => delete at(p[SINGLE].variants, 'second-limit').add[0].closedIn,
      'machines/dial-single-coil.json, variants.second-limit.add.second_limit, closedIn: is missing; a contact names the states it is closed in, even where those are all',
    ],
    [
      'with one branch twice',
      (p) => p[SINGLE].branches.push(structuredClone(at(p[SINGLE].branches, 'cycling'))),
      'machines/dial-single-coil.json, branches: "cycling" stands there twice; ids are used once',
    ],
    [
      'with one point twice',
      (p) => p[SINGLE].nodes.push(structuredClone(at(p[SINGLE].nodes, 'T1'))),
      'machines/dial-single-coil.json, nodes: "T1" stands there twice; ids are used once',
    ],
    [
      'with a branch of the house',
      (p) => {
        at(p[SINGLE].branches, 'lead_L1_T1').id = 'plugA';
      },
      'machines/dial-single-coil.json, branches: "plugA" stands in supply.json too; ids are used once',
    ],
    [
      'built otherwise with a branch it has',
      (p) => {
        at(p[SINGLE].variants, 'second-limit').add[0].id = 'cycling';
      },
      'machines/dial-single-coil.json, variants.second-limit.add: "cycling" stands in the drawing too; ids are used once',
    ],
    [
      'whose attribute is a slip of the pen',
      (p) => newMachine(p, { attributes: [...p[SINGLE].attributes, 'one-coill'] }),
      'machines/dial-new.json, attributes: nothing fits by "one-coill"; did you mean "one-coil"?',
    ],
    [
      'with a point where nothing ends',
      (p) => p[SINGLE].nodes.push({ id: 'ZZ', name: 'a spare tab', covers: ['rear'] }),
      'machines/dial-single-coil.json, nodes.ZZ: no branch ends there',
    ],
    [
      'with a lead that ends where no cover leads',
      (p) => {
        at(p[SINGLE].nodes, 'T1').covers = [];
      },
      'machines/dial-single-coil.json, nodes.T1, covers: is empty, which is for the inside of a part; "lead_L1_T1" is a lead and ends there. "none" says that nothing comes off for it',
    ],
    [
      'read inside a part',
      (p) => {
        p[SINGLE].places.coil[1] = 'EM';
      },
      'machines/dial-single-coil.json, nodes.EM, covers: is empty, which is for the inside of a part; the place "coil" is read there',
    ],
    [
      'more common than all together',
      (p) => {
        p[SINGLE].prior = 0.4;
      },
      'machines/*.json, prior: they add to 1.1 (dial-single-coil 0.4, dial-two-coil 0.3, electronic-relay-thermistor 0.4); they should add to 1',
    ],
    [
      'that is never there',
      (p) => {
        p[SINGLE].prior = 0;
      },
      'machines/dial-single-coil.json, prior: 0 would never be thought of',
    ],
  ])('%s', (_, breakIt, problem) => {
    const p = parts();
    breakIt(p);
    expect(problemsOf(p)).toContain(problem);
  });
});

describe('the load refuses a repair that closes nothing up', () => {
  const said = (breakIt: (p: Item) => void): readonly string[] => {
    const p = parts();
    breakIt(p);
    return problemsOf(p);
  };
  test.each<[what: string, breakIt: (p: Item) => void, problem: string]>([
    [
      'behind a cover that its check takes off',
      (p) => {
        const blower = item(p, 'repairs.json', 'renew-blower-wheel');
        blower.proofs = blower.proofs.filter((id: string) => id !== 'proof-strap');
      },
      'repairs.json, repair "renew-blower-wheel", proofs: "proof-strap" is missing; "hold-wheel" finds "blower-wheel-loose" with the cover "front-drum" off, which asks for it (covers.json, closing). Or notBehind says why nobody works behind it',
    ],
    [
      'and says it is not behind a cover, though none came off',
      (p) => {
        item(p, 'repairs.json', 'choose-heat').notBehind = 'A knob is turned.';
      },
      'repairs.json, repair "choose-heat", notBehind: it owes no cover a proof, so there is nothing to except',
    ],
    [
      'for its cover asks for no proof',
      (p) => {
        delete item(p, 'covers.json', 'rear').closing;
      },
      'covers.json, cover "rear", closing: is missing; what is proved once it is on again',
    ],
    [
      'for its cover asks for what is no proof',
      (p) => {
        item(p, 'covers.json', 'rear').closing = ['look-tabs'];
      },
      'covers.json, cover "rear", closing: "look-tabs" is a check of kind "worth", not "proof"',
    ],
  ])('%s', (_, breakIt, problem) => {
    expect(said(breakIt)).toEqual([problem]);
  });
});

const broken = (breakIt: (p: Record<string, Item>) => void): Knowledge => {
  const p = parts() as Record<string, Item>;
  breakIt(p);
  return loadKnowledge(p);
};

describe('the audit refuses', () => {
  test('a fault that no check of a machine it fits can show', () => {
    const made = broken((p) => {
      const fault = structuredClone(item(p, 'faults.json', 'bias-heater-open'));
      p['faults.json'].faults.push({ ...fault, id: 'bias-heater-weak' });
    });
    expect(unconfirmedFaults(made)).toEqual(['fault "bias-heater-weak" on "dial-two-coil": no check confirms it']);
  });

  test('a confirmation by an answer the fault never gives', () => {
    expect(confirmedByNever(k)).toEqual([]);
    const made = broken((p) => {
      item(p, 'checks.json', 'sag-at-start').confirms[0].outcome = 'small';
    });
    expect(confirmedByNever(made)).toEqual([
      'checks.json, check "sag-at-start", confirms "supply-low-voltage": with it "sag_at_start" is never small',
    ]);
  });

  test('a machine that stays cold in a state that calls for heat, or heats in one that does not', () => {
    expect(heatsAmiss(k)).toEqual([]);
    const relay = (change: (closedIn: string[]) => string[]) =>
      broken((p) => {
        const branch = at(p['machines/electronic-relay-thermistor.json'].branches, 'heater_relay');
        branch.closedIn = change(branch.closedIn);
      });
    expect(heatsAmiss(relay((states) => states.filter((state) => state !== 'run-low')))).toContain(
      'machines/electronic-relay-thermistor.json, closedIn: in state "run-low", which runs and calls for heat, the heater carries no current',
    );
    expect(heatsAmiss(relay((states) => [...states, 'run-noheat']))).toContain(
      'machines/electronic-relay-thermistor.json, variants.limit-on-motor-side, closedIn: in state "run-noheat", which calls for no heat, the heater carries current',
    );
  });

  test('a reading that cannot show the fault it confirms, for it is read at the wrong points', () => {
    expect(confirmedByNoReading(k)).toEqual([]);
    const made = broken((p) => {
      p['machines/dial-single-coil.json'].places['line-side-lead'] = ['E2', 'MH'];
    });
    expect(confirmedByNoReading(made)).toContain(
      'checks.json, check "motor-switch-lead-ohms", confirms "motor-switch-lead-burnt": on "dial-single-coil" the check "motor-switch-lead-ohms" shows "both-sound" with it, not "line-side-open"; are the points of machines/dial-single-coil.json, places and its closedIn right?',
    );
  });

  test('a choice that no fault of that machine has', () => {
    expect(answersOfNoFault(k)).toEqual([]);
    const made = broken((p) => {
      const fact = item(p, 'facts.json', 'tabs_seen');
      fact.choices.push('burnt-block');
      item(p, 'checks.json', 'look-tabs').outcomes.push({ id: 'burnt-block', when: { tabs_seen: ['burnt-block'] } });
      fact.onlyOn['burnt-block'] = ['electronic'];
    });
    expect(answersOfNoFault(made)).toEqual([
      'facts.json, fact "tabs_seen", choice "burnt-block": no fault of "electronic-relay-thermistor" has it',
    ]);
  });

  test.each<[what: string, fault: string, family: string, weight: number, problems: string[]]>([
    [
      'of a family',
      'belt-worn',
      'noise',
      40,
      ['faults.json, weight.noise: they add to 137.00; they should add to 100 ("belt-worn" has 40)'],
    ],
    [
      'of the cold dryer, on every machine',
      'motor-start-circuit',
      'no-heat',
      3,
      ['faults.json, weight.no-heat: they add to 103.00; they should add to 100 ("motor-start-circuit" has 3)'],
    ],
  ])('weights %s that do not add to a hundred', (_, fault, family, weight, problems) => {
    expect(weightsAmiss(k)).toEqual([]);
    const made = broken((p) => {
      item(p, 'faults.json', fault).weight[family] = weight;
    });
    expect(weightsAmiss(made)).toEqual(problems);
  });

  test("a machine's own weights that do not add to a hundred", () => {
    const made = broken((p) => {
      p['machines/dial-two-coil.json'].weights['no-heat']['element-coil-1-open'] += 30;
    });
    expect(weightsAmiss(made)).toHaveLength(1);
    expect(weightsAmiss(made)[0]).toMatch(
      /^machines\/dial-two-coil\.json, weights\.no-heat: with those of faults\.json they add to 1(29|30)\.\d\d; they should add to 100 \("element-coil-1-open" has/,
    );
  });

  test('an answer that condemns a fault and is none of its signs, at the fault', () => {
    const made = broken((p) => {
      const fact = item(p, 'facts.json', 'cabinet_seen');
      fact.choices.push('joint-apart');
      const check = item(p, 'checks.json', 'look-cabinet');
      check.outcomes.push({ id: 'joint-apart', when: { cabinet_seen: ['joint-apart'] } });
      check.confirms.push({ fault: 'harness-open', outcome: 'joint-apart' });
    });
    expect(answersOfNoFault(made)).toContain(
      'faults.json, fault "harness-open", signs.cabinet_seen: does not name "joint-apart", by which check "look-cabinet" confirms it',
    );
  });

  test('and counts what it finds', () => {
    expect(['', 'a', 'ab'].map((found) => countedHoles([...found]))).toEqual(['no holes', '1 hole:', '2 holes:']);
  });

  test('a limit that nothing reads', () => {
    const made = broken((p) => {
      p['limits.json'].limits.push({ ...item(p, 'limits.json', 'v-dead'), id: 'v-deaf' });
    });
    expect(unusedLimits(made)).toEqual(['limit "v-deaf": nothing uses it']);
  });
});

/** What the words of a language say against a knowledge. */
const wordsAgainst = (made: Knowledge, language: Language) => wordsOf(rawFiles(language), made, language);
function wordsOf(files: Record<string, unknown>, made: Knowledge, language: Language): readonly string[] {
  const [first] = ourWords(k);
  try {
    loadWords(files, made, language === 'en' ? undefined : { language, first: first! });
    return [];
  } catch (error) {
    if (error instanceof WordsError) return error.problems;
    throw error;
  }
}

/** A technician's name in the first language. */
const LABEL = (ourWords(k)[0]!.faults['belt-worn']!.label as { technician: string }).technician;

describe('the start refuses, and the audit with it', () => {
  test.each<Language>(['en', 'es'])('a fault without words in %s', (language) => {
    const made = broken((p) => {
      p['faults.json'].faults.push({ ...structuredClone(item(p, 'faults.json', 'element-open')), id: 'element-sags' });
    });
    expect(wordsAgainst(made, language)).toEqual([`${language}/faults.json, fault "element-sags": has no words`]);
  });

  test.each<[what: string, breakIt: (p: Record<string, Item>) => void, problem: string]>([
    [
      'a check',
      (p) =>
        p['checks.json'].checks.push({ ...structuredClone(item(p, 'checks.json', 'rock-feet')), id: 'rock-feat', confirms: [] }),
      'en/checks.json, check "rock-feat": has no words',
    ],
    [
      'a stop',
      (p) => {
        item(p, 'stops.json', 'water').id = 'waters';
        item(p, 'rules/stops.json', 'stop-water').then.stop = 'waters';
      },
      'en/stops.json, stop "water": nothing is called so; did you mean "waters"?',
    ],
    [
      'a family',
      (p) => {
        item(p, 'families.json', 'no-heat').title = 'It stays cold';
      },
      'es/names.json, name "It stays cold" (families.json, family "no-heat", title): has no words',
    ],
    [
      'a machine',
      (p) => {
        p['machines/dial-two-coil.json'].title = 'A dial and two coils';
      },
      'es/names.json, name "A dial and two coils" (machines/dial-two-coil.json, title): has no words',
    ],
  ])('%s that the words do not know', (_, breakIt, problem) => {
    const made = broken(breakIt);
    expect(wordsAgainst(made, problem.slice(0, 2) as Language)).toContain(problem);
  });

  test.each<[what: string, language: Language, breakIt: (f: Item) => void, problem: string]>([
    [
      'a label a homeowner would borrow',
      'en',
      (f) => delete f('faults').faults['belt-worn'].label.homeowner,
      'en/faults.json, fault "belt-worn", label: has no words for a homeowner',
    ],
    [
      'the name of another fault',
      'en',
      (f) => {
        f('faults').faults['belt-worn'].label.technician = f('faults').faults['idler-worn'].label.technician;
      },
      'as of "belt-worn"; each needs a name of its own',
    ],
    [
      'the name of another fault, in Spanish',
      'es',
      (f) => {
        f('faults').faults['belt-worn'].label = f('faults').faults['idler-worn'].label;
      },
      'as of "belt-worn"; each needs a name of its own',
    ],
    [
      'the name of another answer',
      'es',
      (f) => {
        f('facts').facts.fuel.choices.electric = 'Gas';
      },
      'es/facts.json, fact "fuel", choice "gas": a homeowner hears "Gas", as of "electric"; each needs a name of its own',
    ],
    [
      'an English name in Spanish',
      'es',
      (f) => {
        f('faults').faults['belt-worn'].label = LABEL;
      },
      `es/faults.json, faults.belt-worn.label: "${LABEL}" is left in English`,
    ],
    [
      'an English part in Spanish',
      'es',
      (f) => {
        f('names').names['drum belt'] = 'drum belt';
      },
      'es/names.json, names.drum belt: "drum belt" is left in English',
    ],
  ])('%s', (_, language, breakIt, problem) => {
    const files = structuredClone(rawFiles(language));
    breakIt((name: string) => files[`./${language}/${name}.json`]);
    const said = wordsOf(files, k, language);
    expect(
      said.some((p) => p.includes(problem)),
      said.join('\n'),
    ).toBe(true);
  });

  test('a part that was misspelt, where it was misspelt', () => {
    const made = broken((p) => {
      item(p, 'faults.json', 'belt-worn').end.parts = ['drum bellt'];
    });
    expect(wordsAgainst(made, 'es')).toContain(
      'es/names.json, name "drum bellt" (faults.json, fault "belt-worn", end.parts): has no words; did you mean "drum belt"?',
    );
  });

  test('nothing as it stands', () => expect(startProblems(k)).toEqual([]));
});

type Tag = 'en' | 'es';
const spoilt = (tag: Tag, breakIt: (f: LexiconFiles) => void): string[] => {
  const copy = structuredClone(LANGUAGES[tag]!);
  breakIt(copy);
  return lexiconProblems(k, { [tag]: copy });
};
const lists = (breakIt: (l: Lists) => void): string[] => {
  const copy = structuredClone(LISTS);
  breakIt(copy);
  return lexiconProblems(k, LANGUAGES, copy);
};
const talk = (breakIt: (f: TalkFiles) => void): string[] => {
  const copy = structuredClone({ asks, talkFacts, job }) as unknown as TalkFiles;
  breakIt(copy);
  return talkFileProblems(k, copy);
};
const entryOf = (f: LexiconFiles, file: 'talk', of: string): Item => f[file].entries.find((e) => e.of === of);

describe('what people may say leads to what is there', () => {
  test.each<[what: string, problems: string[], problem: string]>([
    [
      'a question of a stop',
      spoilt('en', (f) => {
        entryOf(f, 'talk', 'how-breaker').of = 'how-braker';
      }),
      'of: there is no question of a stop "how-braker"; did you mean "how-breaker"?',
    ],
    [
      'an act done',
      spoilt('es', (f) => {
        entryOf(f, 'talk', 'main-off').of = 'main-of';
      }),
      'of: there is no act "main-of"; did you mean "main-off"?',
    ],
    [
      'a part without words',
      spoilt('es', (f) => {
        delete f.points.parts.thermistor;
      }),
      'server/understand/lexicon/es/points.json: parts: no words for "thermistor"',
    ],
    [
      'words for a part that is not there',
      spoilt('en', (f) => {
        f.points.parts.thermistr = ['ntc'];
      }),
      'server/understand/lexicon/en/points.json: parts: server/understand/lexicon/parts.json has no part "thermistr"; did you mean "thermistor"?',
    ],
    [
      'a branch of a part',
      lists((l) => {
        l.parts.chains['cut-off'] = ['cutof'];
      }),
      'server/understand/lexicon/parts.json: cut-off: no machine has a branch "cutof"',
    ],
    [
      'a state a part is read in',
      lists((l) => {
        l.parts.readIn.V = ['run-hig'];
      }),
      'lexicon/parts.json: there is no state "run-hig"; did you mean "run-high"?',
    ],
    [
      'a part that is read dead alone',
      lists((l) => {
        l.parts.notLive = ['thermister'];
      }),
      'lexicon/parts.json, notLive: there is no part "thermister"; did you mean "thermistor"?',
    ],
    [
      'a state that is said',
      lists((l) => {
        l.kinds.saidState['r.idle'] = 'idle-of';
      }),
      'lexicon/kinds.json: there is no state "idle-of"; did you mean "idle-off"?',
    ],
    [
      'the least of a fact',
      lists((l) => {
        l.kinds.leastSaid.smell_kind = 'burnin';
      }),
      'lexicon/kinds.json, leastSaid: "burnin" is no answer of "smell_kind"; did you mean "burning"?',
    ],
    [
      'a state between two points',
      lists((l) => {
        l.pointsSaid.states.V![0]![0] = 'runhigh';
      }),
      'lexicon/en/points-said.json, states: there is no state "runhigh"; did you mean "run-high"?',
    ],
    [
      'a kind of danger the heads hear',
      lists((l) => {
        l.head.kinds.gas = { gas_smel: 'yes' };
      }),
      'head/kinds.json, kind "gas": there is no fact "gas_smel"; did you mean "gas_smell"?',
    ],
    [
      'a kind no head hears',
      lists((l) => {
        l.head.kinds.gass = { gas_smell: 'yes' };
      }),
      'head/kinds.json, kind "gass": no head of weights.json hears it; npm run train',
    ],
    [
      'a head of no kind',
      lists((l) => {
        delete l.head.kinds.gas;
      }),
      'head/weights.json, which: there is no kind of kinds.json "gas"',
    ],
    [
      'a danger never doubted',
      lists((l) => {
        l.head.neverDoubted[0] = 'person_dwn';
      }),
      'head/thresholds.json, neverDoubted: there is no fact "person_dwn"; did you mean "person_down"?',
    ],
    [
      'a concept a language lacks',
      lists((l) => {
        delete l.concepts.es!['gas-name'];
      }),
      'head/weights.json, a concept of lexicon/es/concepts.json: there is no concept "gas-name"',
    ],
    [
      'what a yes to one danger tells',
      talk((f) => {
        f.asks.yes.smell_kind = ['burning', 'none'];
      }),
      'conversation/stand/asks-danger.json, yes.smell_kind: "none" is no danger; they are',
    ],
    [
      'a danger to people',
      talk((f) => {
        f.asks.people[0] = 'person_held';
      }),
      'conversation/stand/asks-danger.json, people: there is no fact "person_held"',
    ],
    [
      'what talk tells',
      talk((f) => {
        f.talkFacts.saysOf.qualified = { fact: 'qualifid', value: 'yes' };
      }),
      'conversation/hear/talk-facts.json, saysOf.qualified: there is no fact "qualifid"; did you mean "qualified"?',
    ],
    [
      'what an answer tells beside',
      talk((f) => {
        f.talkFacts.saysToo.drum_turns = { yes: { signs_of_life: 'run' } };
      }),
      'conversation/hear/talk-facts.json, saysToo.drum_turns.yes: "run" is no answer of "signs_of_life"; did you mean "runs"?',
    ],
    [
      'the fact of the plate',
      talk((f) => {
        f.job.plateFact = 'plate_suply';
      }),
      'conversation/show/job-fields.json, plateFact: there is no fact "plate_suply"; did you mean "plate_supply"?',
    ],
  ])('%s', (_, problems, problem) => {
    expect(
      problems.some((said) => said.includes(problem)),
      problems.join('\n'),
    ).toBe(true);
  });
});
