import { askedCheck, consult, foldCase, knowledge, machineInHand, putBack, usesPower } from '../../rules/index.ts';
import type { Answer, Condition, Consultation, Value } from '../../rules/types.ts';
import { answerOf } from '../answers.ts';
import { powerSaid } from '../server/words/power-said.ts';
import { toldOf } from '../server/words/told.ts';
import { ABOUT_THE_PERSON, type Answering, preparedFor, type World } from './worlds.ts';

const MOST_TURNS = 90;
const k = knowledge();

/** Every kind of stop that can be told, as the answers that make it hold; those that readings find have a law of their own. */
export const STOPS: { sign: string; told: [fact: string, value: string][] }[] = k.rules.stops.flatMap((r) => {
  const told = r.then.stop === undefined ? [] : answersOf(r.when);
  return r.then.stop === undefined || told.some(([fact]) => k.findings.has(fact)) ? [] : [{ sign: r.then.stop, told }];
});
function answersOf(when: Condition): [string, string][] {
  if ('all' in when) return when.all.flatMap(answersOf);
  if ('any' in when) {
    const ways = when.any.map(answersOf);
    return ways.find((way) => !way.some(([fact]) => k.findings.has(fact))) ?? ways[0]!;
  }
  if ('not' in when) return [];
  return [[when.fact, String(Array.isArray(when.value) ? when.value[0] : when.value)]];
}

interface Walk {
  answers: Answer[];
  /** How many answers were told before each question. */
  places: number[];
  /** What was asked with power, by either witness, and whether both say so. */
  powered: { check: string; touches: boolean; sentence: boolean }[];
  end: Consultation;
  asked: number;
}

/**
 * Leads a case on from some answers to its end; of each check asked it is noted whether it gives or uses power.
 * `held`: what was told of a danger, said alike whenever it is asked.
 */
async function walk(
  world: World,
  dryer: Answering,
  begun: readonly Answer[] = [],
  held: Readonly<Record<string, string>> = {},
): Promise<Walk> {
  const answers = [...begun];
  const places: number[] = [];
  const powered: Walk['powered'] = [];
  let asked = 0;
  for (let turn = 1000; ; turn++) {
    const facts = foldCase(k, { audience: world.audience, families: [world.family], units: 'us' }, answers);
    const end = await consult(preparedFor(k, machineInHand(k, facts)), facts);
    places.push(answers.length);
    if (!end.next || asked >= MOST_TURNS) return { answers, places, powered, end, asked };
    asked++;
    const check = askedCheck(k, end.next);
    const touches = usesPower(check.touches);
    const sentence = powerSaid(toldOf(check, world.audience), 'en').length > 0;
    if (touches || sentence) powered.push({ check: check.id, touches, sentence });
    if (touches && world.audience !== 'technician' && putBack(k, facts, check).length)
      powered.push({ check: `${check.id} with a cover off`, touches, sentence });
    const shown = await dryer.answer(check);
    for (const fact of check.settles) {
      const value = (held[fact] ?? ABOUT_THE_PERSON[fact] ?? shown[fact] ?? 'cannot') as Value;
      const { of, points, state } = end.next;
      const base = { seq: answers.length + 1, turn, fact, check: check.id, said: String(value), by: world.audience };
      const place = { ...(points && { points }), ...(state !== undefined && { state }) };
      if (value === 'cannot' || value === 'will-not-run') answers.push(answerOf({ ...base, act: 'declined' }));
      else answers.push(answerOf({ ...base, ...place, act: of === undefined ? 'tell' : 'repeat', value }));
    }
  }
}

export interface Stopped {
  /** Cases led on after a stop, and questions asked in them. */
  runs: number;
  asked: number;
  /** One line for each question that gives or uses power, by what it touches or by its sentence. */
  wrong: string[];
}

/**
 * One world, with a stop told at every place of its talk (every nth of them, from `from` on), the kinds of stop in turn:
 * from then on nothing that gives the dryer power or uses its power may be asked, of anybody.
 */
export async function stoppedEverywhere(world: World, dryer: () => Answering, from = 0, every = 1): Promise<Stopped> {
  const clean = await walk(world, dryer());
  const out: Stopped = { runs: 0, asked: 0, wrong: [] };
  for (const [i, place] of clean.places.entries()) {
    if ((i + from) % every) continue;
    const { sign, told } = STOPS[(from + i) % STOPS.length]!;
    const begun = clean.answers.slice(0, place);
    for (const [fact, value] of told)
      begun.push({ seq: begun.length + 1, turn: 999, act: 'tell', fact, value, said: value, by: world.audience });
    const after = await walk(world, dryer(), begun, Object.fromEntries(told));
    out.runs++;
    out.asked += after.asked;
    const name = `${world.family}, ${world.audience}, ${world.faults} on ${world.machine}: ${sign} at ${i}`;
    for (const p of after.powered)
      out.wrong.push(`${name}: ${p.check}, ${p.touches ? 'touches' : ''} ${p.sentence ? 'says' : ''}`);
    if (after.end.next) out.wrong.push(`${name}: does not come to an end`);
  }
  return out;
}
