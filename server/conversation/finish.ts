import { isTold } from '../../rules/index.ts';
import type { Answer, Knowledge } from '../../rules/types.ts';
import type { Turn } from '../conversation-port.ts';
import type { Understood } from '../types.ts';
import type { Context } from './context.ts';
import { hear } from './hear/hear.ts';
import { doorwayOf, listen } from './hear/listen.ts';
import { safeNoMore, safeNoMoreRead } from './hear/no-longer-safe.ts';
import { type Happened, phrase } from './show/phrase.ts';
import { viewOf } from './show/view.ts';
import { stillWaiting } from './stand/danger-ask.ts';
import type { Moment } from './stand/moment.ts';
import { type Draft, numbered, waiting } from './stand/notes.ts';
import type { Standing } from './stand/standing.ts';
import { labelled, type Which } from './stand/which.ts';

export const NOTHING: Understood = { acts: [], left: [] };
export type Bare = Standing['record'];

/** What a turn adds to a case, and what is to be said of it. */
export interface Came {
  drafts: readonly Draft[];
  happened: Omit<Happened, 'added' | 'before' | 'which'>;
  /** A sentence asked back, its options not yet in words. */
  which?: Which | undefined;
  understood?: Understood;
}

/** The end of every turn: number the answers, move to another complaint where one shows, and say it. */
export async function finish(context: Context, record: Bare, before: Moment, came: Came): Promise<Turn> {
  const { k } = context;
  const drafts = [...came.drafts, ...safeNoMore(k, before.at.facts, came.drafts), ...stillWaiting(before, came.drafts)];
  const moved = crossover(k, before.at, numberedFor(record, before, drafts));
  const { added, after } = await afterTurn(context, record, before, drafts, moved?.draft);
  const first = [
    ...(came.happened.first ?? []),
    ...(moved ? [after.s.say('crossover', { family: after.s.family(moved.to) })] : []),
  ];
  if (came.which) after.which = came.which;
  const which = came.which ? labelled(before, came.which) : await whichAgain(context, record, after, added);
  const happened: Happened = { ...came.happened, first, which, added, before: before.at };
  const reply = phrase(after, happened, context);
  return { added, understood: came.understood ?? NOTHING, reply, view: viewOf(after) };
}

const numberedFor = (record: Bare, before: Moment, drafts: readonly Draft[]): Answer[] =>
  numbered(record.answers, drafts, before.at.facts.audience);

/** The case after the turn. A danger that a reading of this very turn shows takes back "made safe": only then it is reasoned out twice. */
async function afterTurn(
  { k, at }: Context,
  record: Bare,
  before: Moment,
  drafts: readonly Draft[],
  moved: Draft | undefined,
): Promise<{ added: Answer[]; after: Moment }> {
  const last = moved ? [moved] : [];
  const all = numberedFor(record, before, [...drafts, ...last]);
  if (!all.length) return { added: all, after: before };
  const after = await at({ ...record, answers: [...record.answers, ...all] });
  const safe = safeNoMoreRead(k, before.at, after.at);
  if (!safe.length) return { added: all, after };
  const added = numberedFor(record, before, [...drafts, ...safe, ...last]);
  return { added, after: await at({ ...record, answers: [...record.answers, ...added] }) };
}

/** Another complaint that an answer of this turn shows the case to be about. */
function crossover(k: Knowledge, before: Standing, added: readonly Answer[]): { draft: Draft; to: string } | undefined {
  const told = added.filter(isTold);
  const set = added.flatMap((a) => (a.act === 'set' && a.set.families ? [a.set.families] : []));
  const families = set.at(-1) ?? before.facts.families;
  for (const id of families)
    for (const { fact, is, to } of k.families.get(id)?.crossovers ?? []) {
      const here = told.filter((a) => a.fact === fact);
      const seen = here.find((a) => a.value === is);
      if (!seen || here.at(-1)?.value !== is) continue;
      const moving = [...new Set(families.map((f) => (f === id ? to : f)))];
      return { draft: { act: 'set', said: seen.said, set: { families: moving } }, to };
    }
  return undefined;
}

/**
 * The options of the sentence that waits for "which": nothing of them is stored. As they were made in this process, else made again
 * from its words.
 */
export async function whichAgain(
  context: Context,
  record: Bare,
  now: Moment,
  added: readonly Answer[] = [],
): Promise<Which | undefined> {
  const waits = waiting(now.at.answers, 'which');
  if (!waits || added.some((a) => a.seq === waits.seq)) return undefined;
  now.which ??= await whichOf(context, record, waits);
  return now.which && { ...labelled(now, now.which), again: true };
}

async function whichOf({ at, understand }: Context, record: Bare, waits: Answer): Promise<Which | undefined> {
  const then = await at({ ...record, answers: record.answers.filter((a) => a.turn < waits.turn) });
  return hear(doorwayOf(then), listen(understand, then, waits.said).acts, waits.said).which;
}
