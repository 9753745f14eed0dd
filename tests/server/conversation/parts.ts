import { factIn, knowledge, prepare } from '../../../rules/index.ts';
import type { Answer, Knowledge } from '../../../rules/types.ts';
import { conversationOf } from '../../../server/conversation/create.ts';
import type { Understand } from '../../../server/conversation/hear/listen.ts';
import general from '../../../server/conversation/words/en/general.json' with { type: 'json' };
import stopAnswers from '../../../server/conversation/words/en/stop-answers.json' with { type: 'json' };
import stops from '../../../server/conversation/words/en/stops.json' with { type: 'json' };
import { loadWords } from '../../../server/conversation/words/load.ts';
import type { Words } from '../../../server/conversation/words/shapes.ts';
import type { AnswerInput, Conversation, Refused, TakenTurn, Turn } from '../../../server/conversation-port.ts';
import type { CaseRecord, Meaning, ExplainedReply as Reply } from '../../../server/types.ts';

export const k: Knowledge = knowledge();

const plainly = (id: string) => id.replaceAll(/[-_]/g, ' ');
const each = <T>(ids: Iterable<string>, words: (id: string) => T) => Object.fromEntries([...ids].map((id) => [id, words(id)]));

/** The general words as they are, and for every check, fact and fault its own id in place of words: what is said can be told from what says it. */
export function wordsFromIds(of: Knowledge = k): Record<string, unknown> {
  return {
    'general.json': general,
    'stop-answers.json': stopAnswers,
    'stops.json': stops,
    'ids.json': {
      checks: each(of.checks.keys(), (id) => ({
        name: plainly(id),
        ask: `Please do ${plainly(id)}.`,
        example: `Say it like an answer to ${plainly(id)}.`,
        why: `It is ${plainly(id)}.`,
        ...(of.checks.get(id)?.groups && { groups: each(Object.keys(of.checks.get(id)!.groups!), plainly) }),
        ...(of.checks.get(id)?.choices && { choices: each(Object.keys(of.checks.get(id)!.choices!), plainly) }),
      })),
      facts: each(of.facts.keys(), (id) => ({
        label: plainly(id),
        ...(of.facts.get(id)?.choices && { choices: each(of.facts.get(id)!.choices!, plainly) }),
      })),
      faults: each(of.faults.keys(), (id) => ({ label: plainly(id) })),
      dangers: each(
        [...of.facts.values()].filter((f) => f.danger?.length).map((f) => f.id),
        (id) => `Is it ${plainly(id)}?`,
      ),
    },
  };
}
export const words: Words = loadWords(wordsFromIds(), k);

/** Understands the sentences of a table, each in one way, and nothing else: what the conversation makes of a meaning is tested here. */
export const understands =
  (table: Record<string, Meaning[]>): Understand =>
  (utterance) => ({ acts: table[utterance] ?? [], left: table[utterance] ? [] : [utterance] });

export const talkOf = (table: Record<string, Meaning[]> = {}, region?: string): Conversation =>
  conversationOf({ k, words, understand: understands(table), region });

export const isRefused = (t: Turn): t is Refused => 'problem' in t;

/** A case in hand: says and answers, keeps the answers like a store would, gives the last reply. */
export class Case {
  record: CaseRecord;
  last!: TakenTurn;
  private constructor(
    readonly talk: Conversation,
    record: CaseRecord,
  ) {
    this.record = record;
  }
  static async open(talk: Conversation, audience: Answer['by'], machine?: CaseRecord['settings']['machine']): Promise<Case> {
    const opened = await talk.open({ audience, ...(machine && { machine }) });
    if ('problem' in opened) throw new Error(opened.problem.message);
    return new Case(talk, {
      id: 'a',
      rev: 1,
      opened: '2000-01-01T00:00:00Z',
      audience,
      settings: opened.settings,
      answers: opened.answers,
    });
  }
  take(turn: Turn): Reply {
    if (isRefused(turn)) throw new Error(`${turn.problem.code}: ${turn.problem.message}`);
    this.last = turn;
    this.record = { ...this.record, rev: this.record.rev + 1, answers: [...this.record.answers, ...turn.added] };
    return turn.reply;
  }
  say = async (text: string) => this.take(await this.talk.say(this.record, text));
  tell = async (fact: string, value?: AnswerInput['value'], more: Partial<AnswerInput> = {}) =>
    this.take(await this.talk.answer(this.record, { fact, ...(value !== undefined && { value }), ...more }));
  undo = async () => this.take(await this.talk.undo(this.record));
  change = async (seq: number, value: string | number) => this.take(await this.talk.change(this.record, seq, value));
  seq = (fact: string): number => this.record.answers.findLast((a) => factIn(a) === fact)!.seq;
  fact = (fact: string) => this.last.reply.evidence.findLast((r) => r.fact === fact)?.value;
}
export const text = (reply: Reply, kind?: string): string =>
  reply.parts
    .filter((p) => kind === undefined || p.kind === kind)
    .map((p) => p.text)
    .join('\n');

/** Answers the gates of a case as somebody would whose dryer shows no danger, until something else is asked. */
export async function throughGates(c: Case, answers: Record<string, string> = {}): Promise<Reply> {
  const usual: Record<string, string> = {
    fuel: 'electric',
    dryer_kind: 'vented',
    slots: 'four',
    signs_of_life: 'runs',
    control_kind: 'dial',
    heater_coils: 'one',
    qualified: 'yes',
    plate_supply: '120-240',
    opt_in: 'no',
    ...answers,
  };
  let reply = c.last?.reply ?? (await c.tell('complaint', 'no-heat'));
  for (let i = 0; i < 20 && reply.consultation.next?.why === 'gate'; i++) {
    const choice = reply.ask!.choices[0]!;
    reply = await c.tell(choice.fact!, reply.ask!.kind === 'many' ? 'none' : (usual[choice.fact!] ?? choice.id));
  }
  return reply;
}

/** Answers whatever is asked as a machine with this fault would, until nothing is asked or the end is there. */
export async function inWorld(c: Case, fault: string, circuit = 'dial-single-coil', most = 60): Promise<Reply> {
  const system = k.supply.systems[0]!.id;
  const p = prepare(k, { circuits: [circuit], plate: {}, hookup: 'four-wire', meter: [...k.meters.keys()][0]!, system });
  const likeliest = (by: Record<string, string> = {}) => Object.entries(by).find(([, w]) => w === 'always' || w === 'usual')?.[0];
  let reply = await throughGates(c);
  for (let i = 0; i < most && reply.ask && !reply.consultation.conclusion; i++) {
    const { ask } = reply;
    if (!ask.reads.length) {
      const { fact = '', id } = ask.choices[0]!;
      const as = likeliest(k.faults.get(fault)!.signs[fact]) ?? likeliest(k.facts.get(fact)?.silent) ?? id;
      reply = await c.tell(fact, ask.kind === 'many' ? 'none' : as, { check: ask.check });
      continue;
    }
    const shown = p.expected(ask.check, [fault])[0];
    if (!shown || shown === 'will-not-run') {
      reply = await c.tell(ask.check, undefined, { act: 'declined' });
      continue;
    }
    for (const r of ask.reads) {
      const e = shown.find((x) => x.fact === r.fact)!;
      reply = await c.tell(r.fact, typeof e.centre === 'number' ? Math.round(e.centre * 10) / 10 : e.centre, {
        check: ask.check,
      });
    }
  }
  return reply;
}
