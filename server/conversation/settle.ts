import type { Note } from '../../rules/types.ts';
import type { Refused, Turn } from '../conversation-port.ts';
import { type Context, refused } from './context.ts';
import { type Bare, finish } from './finish.ts';
import type { Entered } from './hear/door.ts';
import { carriesStop, tellsDanger } from './stand/dangers.ts';
import type { Moment } from './stand/moment.ts';
import { type Draft, note, takenAs, turnsToUndo } from './stand/notes.ts';
import { readBackNote } from './stand/read-back.ts';

type ReadBack = Extract<Note, { note: 'read-back' }>;
type Lifting = NonNullable<ReadBack['lifting']>;

/** What came through the door as a turn: refused, read back first, or taken. */
export function entered(context: Context, record: Bare, before: Moment, e: Entered): Promise<Turn> | Refused {
  const beforeAsk = before.open;
  if ('wrong' in e) return refused(before, e.wrong);
  if (e.liftsStop) return finish(context, record, before, { drafts: [readBackNote(e.liftsStop)], happened: { beforeAsk } });
  const first = e.drafts.length ? [] : [before.s.say('kept-already')];
  return finish(context, record, before, { drafts: e.drafts, happened: { beforeAsk, first } });
}

/** "Yes" or "no" to a read-back: the correction counts, or all stays as it was. */
export async function settle(
  context: Context,
  record: Bare,
  before: Moment,
  waits: ReadBack,
  is: 'yes' | 'no',
  said: string,
): Promise<Turn> {
  if (is === 'no') return allStays(context, record, before, said, before.readBack);
  if (!waits.lifting) return takeBack(context, record, before, said);
  const drafts = [corrected(before, waits.lifting, waits.said)];
  return finish(context, record, before, { drafts, happened: { beforeAsk: before.readBack } });
}

/** What waited is no longer asked. */
export function allStays(
  context: Context,
  record: Bare,
  before: Moment,
  said: string,
  beforeAsk: Moment['open'] = before.open,
): Promise<Turn> {
  const first = [before.s.say('read-back-kept')];
  return finish(context, record, before, { drafts: [note('settled', said)], happened: { beforeAsk, first } });
}

/** The correction that was read back. A reading put right was still taken where and how it was taken. */
function corrected({ k, at }: Moment, { fact, value, of }: Lifting, said: string): Draft {
  if (of === undefined) return { act: 'tell', fact, value, said };
  const old = at.facts.readings.find((r) => r.seq === of);
  const measured = old && k.facts.get(old.fact)?.kind === 'quantity';
  return { act: 'correct', fact, value, said, of, ...(measured && takenAs(old)) };
}

/** Takes back the last turn that told something; while it makes a stop, that is read back first. */
export async function undo(context: Context, record: Bare, said = 'undo'): Promise<Turn> {
  const before = await context.at(record);
  const { turns, told } = turnsToUndo(before.at.answers);
  if (!turns) return refused(before, { code: 'nothing-to-undo', put: {} });
  const stops = told.some((a) => tellsDanger(context.k, a) || carriesStop(before.at, a.seq));
  if (!stops || !before.at.c.stops.length) return takeBack(context, record, before, said);
  return finish(context, record, before, { drafts: [note('read-back', said)], happened: { beforeAsk: before.open } });
}

function takeBack(context: Context, record: Bare, before: Moment, said: string): Promise<Turn> {
  const { turns } = turnsToUndo(before.at.answers);
  const drafts = Array.from({ length: turns }, (): Draft => ({ act: 'undo', said }));
  return finish(context, record, before, {
    drafts,
    happened: { beforeAsk: before.open, first: [before.s.talk('undone')] },
  });
}
