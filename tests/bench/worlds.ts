import { withCoversInFront } from '../../rules/engine/case.ts';
import { endKey } from '../../rules/engine/next-check.ts';
import { coversOf } from '../../rules/engine/table.ts';
import { askedCheck, consult, foldCase, knowledge, machineInHand, prepare } from '../../rules/index.ts';
import type { Answer, Audience, Check, Consultation, Knowledge, MachineInHand, Prepared, Value } from '../../rules/types.ts';
import { answerOf } from '../answers.ts';
import type { Shown } from '../dryer/dryer.ts';

/** Whoever stands before the machine and answers a check: the simulator's dryer or the model's. */
export interface Answering {
  answer(check: Check): Promise<Record<string, Shown | string>>;
}
export interface World {
  machine: string;
  faults: string[];
  audience: Audience;
  family: string;
}
export interface Outcome {
  world: World;
  /** `state` and `covers`: how the machine has to stand and what has to be off for it, whatever was so already. */
  asked: {
    check: string;
    why: string;
    level: number;
    state: string;
    covers: string[];
    answers: Record<string, string>;
    at?: string;
  }[];
  minutes: number;
  consultMs: number[];
  end: Consultation;
  /** Stop signs that stood at any time. */
  stopsSeen: string[];
  /** Technician: the part (or trade of a supply fault) named; others: the true trade is on the list. */
  right: boolean;
  wrongPart: boolean;
  unsafeAsk: boolean;
  missedReferral: boolean;
  stuck: boolean;
}

const kept = new Map<string, Prepared>();
export const preparedFor = (k: Knowledge, hand: MachineInHand): Prepared => {
  const key = JSON.stringify(hand);
  const had = kept.get(key) ?? prepare(k, hand);
  kept.set(key, had);
  return had;
};
/** What the person says of themselves; the dryer cannot know. */
export const ABOUT_THE_PERSON: Record<string, string> = { qualified: 'yes', opt_in: 'no', made_safe: 'yes' };
/** Of the room, and so of a cold machine, °C: the sensors of the drawings read as at this. */
export const ABOUT_THE_ROOM: Record<string, number> = { sensor_temperature: 25 };
const MOST: Record<Audience, number> = { homeowner: 1, agent: 1, technician: 4 };

/** Leads one world to its end through the engine alone, the person answering truthfully what the dryer shows. */
export async function lead(
  world: World,
  dryer: Answering,
  options: {
    maxTurns?: number;
    told?: (check: Check, fact: string, value: Value | 'cannot', nth: number) => Value | 'cannot';
  } = {},
): Promise<Outcome> {
  const k = knowledge();
  const answers: Answer[] = [];
  let turn = 0;
  const asked: Outcome['asked'] = [];
  const consultMs: number[] = [];
  let minutes = 0;
  let end: Consultation | undefined;
  let nth = 0;
  const stopsSeen: string[] = [];
  for (let i = 0; i < (options.maxTurns ?? 90); i++) {
    const facts = foldCase(k, { audience: world.audience, families: [world.family], units: 'us' }, answers);
    const p = preparedFor(k, machineInHand(k, facts));
    const from = performance.now();
    end = await consult(p, facts);
    consultMs.push(performance.now() - from);
    const next = end.next;
    if (end.stops.length) stopsSeen.push(...end.stops.map((s) => s.sign));
    if (!next) break;
    const check = askedCheck(k, next);
    minutes += next.why === 'cause' || next.why === 'proof' ? 0 : next.cost_min;
    turn++;
    const shown = await dryer.answer(check);
    const said: Record<string, string> = {};
    for (const fact of check.settles) {
      const truth = ABOUT_THE_PERSON[fact] ?? ABOUT_THE_ROOM[fact] ?? shown[fact] ?? 'cannot';
      const value = options.told ? options.told(check, fact, truth as Value, nth++) : (truth as Value | 'cannot');
      said[fact] = String(value);
      const base = {
        seq: answers.length + 1,
        turn,
        fact,
        check: check.id,
        said: String(value),
        by: world.audience,
        ...(next.points && { points: next.points }),
        ...(next.state !== undefined && { state: next.state }),
      };
      if (value === 'cannot' || value === 'will-not-run') answers.push(answerOf({ ...base, act: 'declined' }));
      else answers.push(answerOf({ ...base, act: next.of !== undefined ? 'repeat' : 'tell', value }));
    }
    asked.push({
      check: check.id,
      why: next.why,
      level: check.level,
      state: check.state,
      covers: withCoversInFront(k, next.points ? atPoints(p, next.points) : coversOf(p, check)),
      answers: said,
      ...(next.points && { at: `${next.points.join(' to ')} ${next.state ?? ''}` }),
    });
  }
  return { ...score(k, world, asked, minutes, consultMs, end!), stopsSeen };
}

/** A reading found in the circuit is on no list of covers: it needs what lies over its two points. */
const atPoints = (p: Prepared, points: readonly string[]): string[] =>
  (p.circuits[0]?.nodes ?? []).filter((n) => points.includes(n.id)).flatMap((n) => n.covers);

function score(
  k: Knowledge,
  world: World,
  asked: Outcome['asked'],
  minutes: number,
  consultMs: number[],
  end: Consultation,
): Omit<Outcome, 'stopsSeen'> {
  const truth = world.faults.map((id) => k.faults.get(id)!);
  const first = truth[0]!;
  const trade = first.end.trades[0]!;
  const referred = end.referral?.trades ?? [];
  const stopped = end.stops.length > 0;
  const named = end.conclusion?.is === 'confirmed' ? end.conclusion.faults : [];
  const keys = new Set(named.map((f) => endKey(k, [f], true)));
  const trueKeys = new Set(world.faults.map((f) => endKey(k, [f], true)));
  const technician = world.audience === 'technician';
  const right = technician
    ? (named.length > 0 && [...keys].some((x) => trueKeys.has(x))) || (stopped && referred.includes(trade))
    : referred.includes(trade);
  return {
    world,
    asked,
    minutes,
    consultMs,
    end,
    right,
    wrongPart: named.length > 0 && technician && ![...keys].some((x) => trueKeys.has(x)),
    unsafeAsk: asked.some((a) => a.level > MOST[world.audience]),
    missedReferral: (trade === 'electrician' || trade === 'utility') && !referred.includes(trade),
    stuck: !end.conclusion && !stopped,
  };
}
