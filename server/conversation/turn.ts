import type { Conversation, Opened, OpenInput, PatchInput, Refused, Turn } from '../conversation-port.ts';
import type { CaseRecord } from '../types.ts';
import { answer } from './answer.ts';
import { type Context, contextOf, refused, type TurnDeps } from './context.ts';
import { finish, NOTHING, whichAgain } from './finish.ts';
import { change } from './hear/door.ts';
import { doorwayOf } from './hear/listen.ts';
import { say } from './say.ts';
import { entered, undo } from './settle.ts';
import { phrase } from './show/phrase.ts';
import { viewOf } from './show/view.ts';
import type { Moment } from './stand/moment.ts';
import type { Draft } from './stand/notes.ts';
import { machineProblem } from './stand/plate.ts';
import { newest } from './stand/standing.ts';

export type Turns = Pick<Conversation, 'open' | 'say' | 'answer' | 'undo' | 'change' | 'patch' | 'look'> & {
  /** The case as it stands, for what is written of it beside the talk. */
  stood(record: CaseRecord): Promise<Moment>;
};

/** One turn of a case, as a pure function: record and words in, new answers and reply out. Stores nothing. */
export function turns(deps: TurnDeps): Turns {
  const context = contextOf(deps);
  return {
    open: (input) => open(context, input),
    say: (record, text) => say(context, record, text),
    answer: (record, input) => answer(context, record, input),
    undo: (record) => undo(context, record),
    change: async (record, seq, value) => {
      const before = await context.at(record);
      return entered(context, record, before, change(doorwayOf(before), seq, value));
    },
    patch: (record, input) => patch(context, record, input),
    look: (record) => look(context, record),
    stood: context.at,
  };
}

async function open(context: Context, { audience, units, machine, language }: OpenInput): Promise<Opened | Refused> {
  const bad = machine && machineProblem(context.k, machine);
  if (bad) return refused(await context.at({ audience, settings: language ? { language } : {}, answers: [] }), bad);
  const settings = { audience, ...(units && { units }), ...(machine && { machine }), ...(language && { language }) };
  const opened = await context.at({ audience, settings, answers: [] });
  return { answers: [], settings, reply: phrase(opened, { added: [] }, context), view: viewOf(opened) };
}

async function look(context: Context, record: CaseRecord): Promise<Turn> {
  const now = await context.at(record);
  const which = await whichAgain(context, record, now);
  return { added: [], understood: NOTHING, reply: phrase(now, { added: [], which }, context), view: viewOf(now) };
}

/** Who is talking, the units, the machine in hand, what is written on the job sheet. */
async function patch(context: Context, was: CaseRecord, { qualified, job, language, ...set }: PatchInput): Promise<Turn> {
  const record = language ? { ...was, settings: { ...was.settings, language } } : was;
  const before = await context.at(record);
  const { facts } = before.at;
  const bad =
    set.machine && machineProblem(context.k, { ...set.machine, plate: { ...facts.machine.plate, ...set.machine.plate } });
  if (bad) return refused(before, bad);
  if (qualified !== undefined && (set.audience ?? facts.audience) !== 'technician')
    return refused(before, { code: 'not-yours', put: { fact: 'qualified' } });
  const drafts: Draft[] = Object.keys(set).length ? [{ act: 'set', said: '', set }] : [];
  if (qualified !== undefined) drafts.push(statedQualified(before, qualified));
  const turn = await finish(context, record, before, { drafts, happened: { beforeAsk: before.open } });
  if ('problem' in turn || (!job && !language)) return turn;
  // Neither is an answer: it changes nothing that is reasoned about, and taking back an answer leaves it as it is.
  return { ...turn, settings: job ? withJob(record, job) : record.settings };
}

function statedQualified({ at }: Moment, qualified: boolean): Draft {
  const told = newest(at.facts, 'qualified');
  const value = qualified ? 'yes' : 'no';
  return { act: told ? 'correct' : 'tell', fact: 'qualified', value, said: '', ...(told && { of: told.seq }) };
}

/** An empty text clears a field. */
function withJob({ settings }: CaseRecord, job: Record<string, string>): CaseRecord['settings'] {
  const written = Object.entries({ ...settings.job, ...job }).filter(([, text]) => text.trim());
  return { ...settings, job: Object.fromEntries(written) };
}
