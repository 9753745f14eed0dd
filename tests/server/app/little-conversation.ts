import { factIn, isTold, isUnanswered } from '../../../rules/index.ts';
import type { Answer, Unit, Value } from '../../../rules/types.ts';
import { type Draft, numbered } from '../../../server/conversation/stand/notes.ts';
import type { Conversation, Problem, Turn } from '../../../server/conversation-port.ts';
import { escapeMarkdown } from '../../../server/markdown.ts';
import type { JobSheet } from '../../../server/shapes/sheet.ts';
import type { CaseRecord, CaseView, EvidenceRow, ExplainedReply as Reply } from '../../../server/types.ts';
import { answerOf, type Flat } from '../../answers.ts';

/**
 * A conversation small enough to see through, so that the routes are tested without the real one's knowledge. It folds
 * answers for real: what stands is what was told, less what was undone, with corrections in place.
 */
const FACTS: Record<string, { unit: Unit; lo: number; hi: number; good: [number, number] }> = {
  coil_ohm: { unit: 'Ω', lo: 0, hi: 10_000, good: [8, 12] },
  outlet_v: { unit: 'V', lo: 0, hi: 600, good: [228, 252] },
};

export function littleConversation(): Conversation {
  return {
    async open({ audience, units, machine }) {
      const settings = { audience, ...(units && { units }), ...(machine && { machine }) };
      const record = { id: '', rev: 0, opened: '', audience, settings, answers: [] };
      return { answers: [], settings, reply: replyTo(record, 'What did you measure?'), view: viewOf(record) };
    },
    async say(record, text) {
      if (text === 'break') throw new Error('the little conversation broke');
      const found = /(coil|outlet)\D*(-?\d+(?:\.\d+)?)/.exec(text);
      if (!found) return taken(record, undefined, `Not understood: ${escapeMarkdown(text)}`);
      return tell(record, {
        fact: found[1] === 'coil' ? 'coil_ohm' : 'outlet_v',
        value: Number(found[2]),
        said: text,
      });
    },
    answer: async (record, given) => tell(record, { ...given, said: `${given.fact} ${given.value ?? given.act ?? 'tell'}` }),
    async undo(record) {
      const last = lines(record.answers).at(-1);
      return last
        ? taken(record, { act: 'undo', said: 'undo' }, 'Taken back.')
        : refused('nothing-to-undo', 'There is nothing to undo.');
    },
    async change(record, seq, value) {
      const old = lines(record.answers).find((a) => a.seq === seq);
      if (!old) return refused('no-such-answer', `There is no answer ${seq} to change.`);
      return tell(record, { act: 'correct', of: seq, fact: old.fact, value, said: `change ${seq}` });
    },
    async patch(record, { qualified, ...set }) {
      if (qualified && record.audience !== 'technician') return refused('not-a-technician', 'Only a technician can state this.');
      return { ...taken(record, { act: 'set', set, said: 'settings' }, 'Noted.'), settings: { ...record.settings, ...set } };
    },
    look: async (record) => taken(record, undefined, 'What did you measure?'),
    async sheet(record) {
      const rows = lines(record.answers).map((a) => `- ${a.fact}: ${a.value} (said: ${escapeMarkdown(a.said)})`);
      return {
        title: 'Job sheet',
        json: sheetWith(lines(record.answers)),
        markdown: `# Job sheet\n\n${rows.join('\n')}\n`,
      };
    },
    async reading({ check, value, unit }) {
      const fact = check.replace('-', '_');
      const problem = possible(fact, value, unit);
      if (problem) return { problem };
      const { good, unit: own } = FACTS[fact]!;
      return {
        check,
        fact,
        label: check,
        verdict: verdict(fact, value),
        verdictWords: 'as said',
        shown: `${value} ${own}`,
        expected: { lo: good[0], hi: good[1], unit: own, from: ['plate'] },
        because: 'It lies where it lies.',
        how: ['typed in here'],
        sources: ['this test'],
      };
    },
    drawing: async () => ({ id: 'little', nodes: [], branches: [] }),
    warm: async () => {},
    catalogue: () => ({
      version: 'little',
      families: [{ id: 'no-heat', title: 'No heat' }],
      machines: [],
      meters: [],
      checks: Object.entries(FACTS).map(([fact, f]) => ({
        id: fact.replace('_', '-'),
        label: fact,
        level: 3,
        reads: [{ fact, label: fact, unit: f.unit, points: { '*': 'across it' } }],
      })),
    }),
  };
}

const sheetWith = (answers: readonly Line[]): JobSheet => ({
  title: 'Job sheet',
  opened: '',
  job: [],
  safety: { stops: [], everStopped: [], clear: [], note: '' },
  complaint: { families: [], said: answers.map((a) => a.said) },
  machine: { kinds: [], plate: {}, hookup: '', meter: '', coverNote: '' },
  readings: [],
  measured: [],
  skipped: [],
  result: { faults: [], suspects: [], words: [] },
  ruledOut: [],
  causes: [],
  proofs: [],
  closeOut: [],
});

/** Answers not taken back; here settings stay. */
function standing(answers: readonly Answer[]): Answer[] {
  let kept: Answer[] = [];
  for (const a of answers) {
    if (isTold(a) || isUnanswered(a)) kept.push(a);
    const last = kept.at(-1)?.turn;
    if (a.act === 'undo') kept = kept.filter((x) => x.turn !== last);
  }
  return kept;
}

/** What was told and still stands, or was not answered: corrections in the place of what they correct. */
function lines(answers: readonly Answer[]): Line[] {
  const kept = standing(answers).flatMap((a): Line[] => {
    const fact = factIn(a);
    if (fact === undefined) return [];
    const { seq, turn, said } = a;
    return isTold(a)
      ? [{ seq, turn, said, act: a.act, fact, value: a.value, of: a.of }]
      : isUnanswered(a)
        ? [{ seq, turn, said, act: a.act, fact }]
        : [];
  });
  const replaced = new Set(kept.filter((a) => a.act === 'correct').map((a) => a.of));
  return kept.filter((a) => !replaced.has(a.seq));
}
type Line = Flat & { seq: number; turn: number; fact: string; act: NonNullable<Flat['act']>; said: string };

const refused = (code: string, message: string): { problem: Problem } => ({ problem: { code, message } });

function possible(fact: string, value: Value | undefined, unit?: Unit): Problem | undefined {
  const known = FACTS[fact];
  if (!known) return { code: 'no-such-fact', message: `${fact} is not known.` };
  if (unit && unit !== known.unit) return { code: 'wrong-unit', message: `${fact} is in ${known.unit}.` };
  if (typeof value !== 'number' || (value >= known.lo && value <= known.hi)) return undefined;
  return {
    code: 'not-possible',
    message: `${value} ${known.unit} is not possible. It lies between ${known.lo} and ${known.hi}.`,
    fact,
  };
}
const verdict = (fact: string, value: Value | undefined) => {
  const [lo, hi] = FACTS[fact]!.good;
  if (typeof value !== 'number') return value === 'open' ? ('open' as const) : ('noted' as const);
  return value < lo ? ('low' as const) : value > hi ? ('high' as const) : ('good' as const);
};

function tell(record: CaseRecord, { said, ...told }: Flat & { fact: string; said: string }): Turn {
  const problem = possible(told.fact, told.value, told.unit);
  const { seq: _, turn: __, by: ___, ...draft } = answerOf({ ...told, said, seq: 1, by: record.audience });
  return problem ? { problem } : taken(record, draft, 'Noted.');
}

function taken(record: CaseRecord, draft: Draft | undefined, words: string): Exclude<Turn, { problem: Problem }> {
  const added = numbered(record.answers, draft ? [draft] : [], record.audience);
  const after = { ...record, answers: [...record.answers, ...added] };
  return {
    added,
    understood: { acts: [], left: added.length > 0 ? [] : ['all of it'] },
    reply: replyTo(after, words),
    view: viewOf(after),
  };
}

const viewOf = ({ id, rev, audience, settings, answers }: CaseRecord): CaseView => {
  const set = Object.assign({}, settings, ...answers.map((a) => (a.act === 'set' ? a.set : {})));
  return {
    id,
    rev,
    audience: set.audience ?? audience,
    families: set.families ?? [],
    units: set.units ?? 'us',
    machine: set.machine ?? {},
    answers: lines(answers).map((a) => ({
      seq: a.seq,
      turn: a.turn,
      fact: a.fact,
      label: a.fact,
      shown: String(a.value ?? a.act),
      said: a.said,
      act: a.act,
    })),
  };
};

function replyTo(record: CaseRecord, text: string): Reply {
  const evidence = lines(record.answers)
    .filter((a) => a.value !== undefined)
    .map(
      (a): EvidenceRow => ({
        seq: a.seq,
        fact: a.fact,
        label: a.fact,
        value: a.value!,
        shown: String(a.value),
        said: a.said,
        verdict: verdict(a.fact, a.value),
        verdictWords: 'as said',
        standing: 'single',
        because: 'It lies where it lies.',
        sources: [],
      }),
    );
  return {
    parts: [{ kind: 'say', text }],
    evidence,
    suspects: [],
    progress: { suspectsLeft: 0, minutesLeft: 0, checksLeft: 0 },
    consultation: {
      knowledge: 'little',
      rev: record.rev,
      stops: [],
      madeSafe: [],
      found: [],
      silenced: [],
      verdicts: evidence.map((e) => ({ seq: e.seq, is: e.verdict, standing: 'single', rule: 'little', sources: [] })),
      suspects: [],
      notToldApart: [],
      ahead: { min: 0, checks: 0 },
      followThrough: [],
      trace: [],
    },
  };
}
