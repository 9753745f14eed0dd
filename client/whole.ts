import type {
  CaseView,
  Drawing,
  EvidenceRow,
  Reply,
  SentCase,
  SentReply,
  SentView,
  SuspectRow,
  Wiring,
} from '../server/types.ts';
import type { Opened } from './types.ts';

type Line = CaseView['answers'][number];
/** Gets the drawing that a case's readings are asked in; undefined where nobody can be reached. */
export type GetDrawing = (caseId: string) => Promise<Drawing | undefined>;

/** Drawings had already, by their ids: a machine is drawn of the same parts on every turn. */
const drawings = new Map<string, Drawing>();

/** What goes over the line tells nothing twice; here it is put together as the page shows it. Without its drawing a question has no picture. */
export async function wholeCase<Sent extends SentCase>(
  sent: Sent,
  get: GetDrawing,
): Promise<Omit<Sent, 'case' | 'reply'> & Opened> {
  const { ask, evidence, noted, verdicts, sources, suspects, ruledOut, consultation: _, ...rest } = sent.reply;
  const view = wholeView(sent.case);
  const line = new Map(view.answers.map((one) => [one.seq, one]));
  const live = suspects.map((one) => ({ ...one, live: true }));
  const out = ruledOut.map((one) => ({ ...one, faults: [], share: 0, live: false }));
  const rows = evidence.map((row) => judgedRow(row, line.get(row.seq), verdicts, sources));
  const told = noted.map((seq) => notedRow(seq, line.get(seq)));
  const reply: Reply = {
    ...rest,
    evidence: [...rows, ...told].toSorted((a, b) => a.seq - b.seq),
    suspects: [...live, ...out].map(suspectRow),
  };
  if (ask) {
    const { wiring, ...question } = ask;
    const drawn = wiring && (await wholeWiring(wiring, reply.suspects, () => get(sent.case.id)));
    reply.ask = { ...question, ...(drawn && { wiring: drawn }) };
  }
  return { ...sent, case: view, reply };
}

/** The case itself, put together: every answer with what was said and what it can be changed to. */
export function wholeView({ choices: lists, ...view }: SentView): CaseView {
  let before: Line | undefined;
  const answers = view.answers.map(({ choices, ...line }): Line => {
    const said = line.said ?? (before?.turn === line.turn ? before.said : line.shown);
    const list = choices === undefined ? undefined : lists[choices];
    before = { ...line, said, ...(list && { choices: list.map(([id, label]) => ({ id, label })) }) };
    return before;
  });
  return { ...view, answers };
}

const NOT_JUDGED = { verdict: 'noted', verdictWords: '', standing: 'single', because: '', sources: [] } as const;

function notedRow(seq: number, line: Line | undefined): EvidenceRow {
  const { fact = '', label = '', value = '', shown = '', said = '', unit } = line ?? {};
  return { seq, fact, label, value, shown, said, ...(unit && { unit }), ...NOT_JUDGED, sources: [] };
}

function judgedRow(
  row: SentReply['evidence'][number],
  line: Line | undefined,
  words: SentReply['verdicts'],
  sources: readonly string[],
): EvidenceRow {
  const { verdict = 'good', standing = 'single', because, expected, shown, open, meter } = row;
  const told = notedRow(row.seq, line);
  const unit = told.unit ?? '1';
  return {
    ...told,
    verdict,
    verdictWords: words[verdict] ?? '',
    standing,
    because,
    sources: (row.sources ?? [0]).flatMap((at) => sources[at] ?? []),
    ...(expected && { expected: { lo: expected[0], hi: expected[1], unit, from: [], ...(open && { open }) } }),
    ...(shown !== undefined && { expectedShown: shown }),
    ...(meter && { meter: { lo: meter[0], hi: meter[1] } }),
  };
}

type SentSuspect = SentReply['suspects'][number] & { live: boolean };
function suspectRow({ faults, label, share, live, would = {}, ...seqs }: SentSuspect): SuspectRow {
  const speaks = (is: 'for' | 'against') =>
    (seqs[is] ?? []).map((seq) => {
      const shown = would[seq];
      return { seq, is, ...(shown !== undefined && { would: shown }) };
    });
  return { faults, label, share, live, for: [], against: [], speaks: [...speaks('for'), ...speaks('against')] };
}

type SentWiring = NonNullable<NonNullable<SentReply['ask']>['wiring']>;
async function wholeWiring(
  { live, open, carries, suspects, ...rest }: SentWiring,
  rows: readonly SuspectRow[],
  get: () => Promise<Drawing | undefined>,
): Promise<Wiring | undefined> {
  const had = drawings.get(rest.drawing) ?? (await get());
  // The case may have moved on to another machine meanwhile.
  if (had?.id !== rest.drawing) return undefined;
  drawings.set(had.id, had);
  const lies = (branch: string) => (suspects[branch] ?? []).flatMap((at) => rows[at] ?? []);
  return {
    ...rest,
    nodes: had.nodes.map((node) => ({ ...node, live: live.includes(node.id) })),
    branches: had.branches.map((branch) => ({
      ...branch,
      kind: rest.apart?.includes(branch.id) ? 'contact' : branch.kind,
      closed: !open.includes(branch.id),
      carries: carries.includes(branch.id),
      suspects: lies(branch.id).map(({ label, share }) => ({ label, share })),
    })),
  };
}
