import type { SentCase, SentLine, SentReply, SentRow, SentRuledOut, SentSuspect, SentView, SentWiring } from '../shapes/sent.ts';
import type { CaseView, EvidenceRow, ExplainedReply, SuspectRow, Wiring } from '../types.ts';

/** A case as it goes over the line. Id and revision are the store's to give, so they are put in here, wherever they are shown. */
export const sentCase = (id: string, rev: number, view: CaseView, reply: ExplainedReply, explain: boolean): SentCase => ({
  case: sentView({ ...view, id, rev }),
  reply: sentReply({ ...reply, consultation: { ...reply.consultation, rev } }, explain),
});

/** Most answers can be changed to "no" or "yes", and a list answered at once was said once; a number is said as it is shown. */
function sentView(view: CaseView): SentView {
  const lists = new Map<string, [id: string, label: string][]>();
  const place = (choices: NonNullable<CaseView['answers'][number]['choices']>): number => {
    const list = choices.map(({ id, label }): [string, string] => [id, label]);
    const key = JSON.stringify(list);
    if (!lists.has(key)) lists.set(key, list);
    return [...lists.keys()].indexOf(key);
  };
  const answers = view.answers.map(({ said, choices, ...line }, at): SentLine => {
    const before = view.answers[at - 1];
    const likely = before?.turn === line.turn ? before.said : line.shown;
    return { ...line, ...(said !== likely && { said }), ...(choices && { choices: place(choices) }) };
  });
  return { ...view, answers, choices: [...lists.values()] };
}

/** A reply as it goes over the line. `explain`: with all that the rules make of the case. */
function sentReply(whole: ExplainedReply, explain: boolean): SentReply {
  const { ask, evidence, suspects, consultation, ...rest } = whole;
  const judged = evidence.filter(isJudged);
  const sources = [...new Set(judged.flatMap((row) => row.sources))];
  const live = suspects.filter((one) => one.live);
  const { wiring, ...question } = ask ?? {};
  return {
    ...rest,
    ...(ask && { ask: { ...(question as typeof ask), wiring: wiring && sentWiring(wiring, live) } }),
    evidence: judged.map((row) => sentRow(row, sources)),
    noted: evidence.filter((row) => !isJudged(row)).map((row) => row.seq),
    verdicts: Object.fromEntries(judged.map((row) => [row.verdict, row.verdictWords])),
    sources,
    suspects: live.map((one): SentSuspect => ({ ...spoken(one), faults: one.faults, share: short(one.share) })),
    ruledOut: suspects.filter((one) => !one.live).map(spoken),
    ...(explain && { consultation }),
  };
}

const isJudged = (row: EvidenceRow): boolean => row.verdict !== 'noted' || row.expected !== undefined;

/** No meter shows more digits. */
const short = (value: number): number => Number(value.toPrecision(DIGITS));
const DIGITS = 4;
const range = ({ lo, hi }: { lo: number; hi: number }): [number, number] => [short(lo), short(hi)];

function sentRow(row: EvidenceRow, all: readonly string[]): SentRow {
  const { seq, because, verdict, standing, expected, expectedShown, meter } = row;
  const sources = row.sources.map((source) => all.indexOf(source));
  const first = sources.length === 1 && sources[0] === 0;
  return {
    seq,
    because,
    ...(verdict !== 'good' && { verdict }),
    ...(standing !== 'single' && { standing }),
    ...(expected && { expected: range(expected) }),
    ...(expected?.open && { open: true as const }),
    ...(expectedShown !== undefined && { shown: expectedShown }),
    ...(meter && { meter: range(meter) }),
    ...(!first && { sources }),
  };
}

/** What speaks for and against a suspect, by seq. */
function spoken({ label, speaks = [] }: SuspectRow): SentRuledOut {
  const by = (is: 'for' | 'against') => speaks.filter((one) => one.is === is).map((one) => one.seq);
  const [speakFor, against] = [by('for'), by('against')];
  const would = speaks.flatMap((one) => (one.would === undefined ? [] : [[one.seq, one.would] as const]));
  return {
    label,
    ...(speakFor.length > 0 && { for: speakFor }),
    ...(against.length > 0 && { against }),
    ...(would.length > 0 && { would: Object.fromEntries(would) }),
  };
}

function sentWiring({ nodes, branches, ...rest }: Wiring, live: readonly SuspectRow[]): SentWiring {
  const place = new Map(live.map((one, at) => [one.label, at]));
  const marked = branches.filter((b) => b.suspects.length > 0);
  return {
    ...rest,
    live: nodes.filter((n) => n.live).map((n) => n.id),
    open: branches.filter((b) => !b.closed).map((b) => b.id),
    carries: branches.filter((b) => b.carries).map((b) => b.id),
    suspects: Object.fromEntries(marked.map((b) => [b.id, b.suspects.map((one) => place.get(one.label)!)])),
  };
}
