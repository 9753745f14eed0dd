import type { Answer, Value } from '../../rules/types.ts';
import type { AnswerInput, Conversation, Refused, Taken } from '../../server/conversation-port.ts';
import { escapeMarkdown } from '../../server/markdown.ts';
import type { Ask, CaseRecord, CaseView, EvidenceRow, Part, Reply, SuspectRow } from '../../server/types.ts';
import { FACTS, GATE, QUESTIONS } from './fake-knowledge.ts';

/** The page's partner while it is tested alone: it folds answers for real and talks in full replies, but reasons about nothing. */
type Told = Omit<Answer, 'seq' | 'turn' | 'by'>;
const DANGERS: Record<string, string[]> = { gas_smell: ['yes'], flame_or_smoke: ['now'], hands_inside: ['yes'], shock: ['yes'] };

export function fakeConversation(): Conversation {
  const taken = (record: CaseRecord, told: Told[], said: Part[] = []): Taken => {
    const turn = Math.max(0, ...record.answers.map((a) => a.turn)) + 1;
    const added = told.map((one, at): Answer => ({ ...one, seq: record.answers.length + at + 1, turn, by: record.audience }));
    const settings = Object.assign({}, record.settings, ...told.map(({ set }) => set));
    const now: CaseRecord = {
      ...record,
      settings,
      audience: settings.audience ?? record.audience,
      answers: [...record.answers, ...added],
    };
    return { added, settings, understood: { acts: [], left: [] }, reply: replyTo(now, said), view: viewOf(now) };
  };
  const answer = async (record: CaseRecord, input: AnswerInput): Promise<Taken | Refused> => {
    const told = fromAnswer(record, input);
    return told ? taken(record, told) : refused('no-such-fact', 'There is no such question.');
  };
  return {
    async open({ audience, units }) {
      const settings = { audience, units: units ?? 'us' };
      const record: CaseRecord = { id: '', rev: 0, opened: '', audience, settings, answers: [] };
      const welcome: Part = { kind: 'say', text: 'Tell me what it does. *One thing at a time* will do.' };
      return { answers: [], settings, reply: replyTo(record, [welcome]), view: viewOf(record) };
    },
    async say(record, text) {
      const told = fromWords(record, text);
      if (told.length > 0) return taken(record, told, [{ kind: 'say', text: `Noted: ${escapeMarkdown(text)}` }]);
      return taken(
        record,
        [],
        [{ kind: 'say', text: 'I could not make anything of that. A number, or one of the choices, would help.' }],
      );
    },
    answer,
    async undo(record) {
      const last = standing(record.answers).at(-1);
      return last
        ? taken(record, [{ act: 'undo', of: last.turn, said: 'undo' }], [{ kind: 'say', text: 'Taken back.' }])
        : refused('nothing-to-undo', 'There is nothing to take back.');
    },
    async change(record, seq, value) {
      const old = standing(record.answers).find((a) => a.seq === seq);
      if (!old?.fact) return refused('no-such-answer', `There is no answer ${seq} to change.`);
      return taken(record, [{ ...told(old.fact, value), act: 'correct', of: seq }], [{ kind: 'say', text: 'Changed.' }]);
    },
    patch: async (record, { qualified: _, ...set }) => taken(record, [{ act: 'set', said: '', set }]),
    look: async (record) => taken(record, []),
    async sheet(record) {
      const rows = standing(record.answers).map(
        (a) => `| ${labelOf(a)} | ${escapeMarkdown(shownOf(a))} | ${escapeMarkdown(a.said)} |`,
      );
      const markdown = `# Job sheet\n\n## What was found\n\n| Point | Answer | Said |\n| --- | --- | --- |\n${rows.join('\n')}\n`;
      return { title: 'Job sheet', json: { answers: standing(record.answers) }, markdown };
    },
    async reading({ check, fact = 'coil', value }) {
      const row = evidenceRow({ seq: 1, turn: 1, by: 'technician', ...told(fact, value) });
      if (!row) return refused('no-such-fact', 'There is no such reading.');
      const { verdict, verdictWords, shown, label, because, sources } = row;
      return {
        check,
        fact,
        label,
        verdict,
        verdictWords,
        shown,
        because,
        sources,
        ...(row.expected && { expected: row.expected, expectedShown: row.expectedShown }),
        how: ['Plate: 240 V, 5600 W.', 'Cold wire reads 3 to 8 % below its hot ohms.', 'The meter adds 1 % and its leads 0.3 Ω.'],
        cautions: ['Plug out, and one lead off the part.'],
      };
    },
    catalogue: () => ({
      version: 'fake',
      families: [{ id: 'no-heat', title: 'Turns, no heat' }],
      machines: [{ id: 'dial-single-coil', title: 'Dial control, one coil' }],
      meters: [{ id: 'handheld', title: 'Handheld, 1 %' }],
      checks: QUESTIONS.filter((q) => q.reads.length > 0).map((q) => ({
        id: q.check,
        label: q.check === 'coil-ohms' ? 'Heater coil, cold' : 'Volts at the terminal block',
        level: 3,
        reads: q.reads.map((r) => ({ fact: r.fact, label: r.label, unit: r.unit, points: { '*': r.pointWords } })),
      })),
    }),
  };
}

const refused = (code: string, message: string): Refused => ({ problem: { code, message } });
const told = (fact: string, value: Value, said = String(value)): Told => {
  const unit = FACTS[fact]?.unit;
  return { act: 'tell', fact, value, said, ...(unit && { unit }) };
};

function standing(answers: readonly Answer[]): Answer[] {
  const undone = new Set(answers.filter((a) => a.act === 'undo').map((a) => a.of));
  const left = answers.filter((a) => a.act !== 'undo' && a.act !== 'set' && !undone.has(a.turn));
  const replaced = new Map(left.filter((a) => a.act === 'correct').map((a) => [a.of, a]));
  return left.filter((a) => a.act !== 'correct').map((a) => ({ ...(replaced.get(a.seq) ?? a), seq: a.seq, turn: a.turn }));
}

function fromAnswer(record: CaseRecord, { fact, value, act = 'tell' }: AnswerInput): Told[] | undefined {
  const list = QUESTIONS.find((q) => q.check === fact);
  if (act !== 'tell') return [{ act, check: fact, said: act, ...(list?.settles[0] && { fact: list.settles[0] }) }];
  if (list?.kind === 'many') {
    const gives = Object.assign(
      {},
      GATE.none,
      ...String(value)
        .split(',')
        .map((id) => GATE[id]),
    );
    const labels = String(value)
      .split(',')
      .map((id) => list.choices.find((choice) => choice.id === id)?.label);
    return Object.entries(gives).map(([one, is]) => told(one, String(is), labels.join(', ')));
  }
  if (!FACTS[fact] || value === undefined) return undefined;
  const before = standing(record.answers).find((a) => a.fact === fact);
  return [before ? { ...told(fact, value), act: 'correct', of: before.seq } : told(fact, value)];
}

function fromWords(record: CaseRecord, text: string): Told[] {
  if (standing(record.answers).length === 0) return [{ act: 'tell', fact: 'complaint', value: 'no-heat', said: text }];
  if (/smell.*gas/i.test(text)) return [told('gas_smell', 'yes', text)];
  if (/electric/i.test(text)) return [told('fuel', 'electric', text)];
  return [];
}

const labelOf = (a: Answer) => FACTS[a.fact ?? '']?.label ?? 'What it does';
function shownOf({ fact = '', value, act, unit }: Answer): string {
  if (act === 'unsure') return 'not sure';
  if (act === 'declined') return 'cannot';
  if (act === 'later') return 'later';
  if (value === 'open') return 'OL';
  if (typeof value === 'number') return `${value} ${unit ?? ''}`.trim();
  if (fact === 'complaint') return 'Turns, no heat';
  return FACTS[fact]?.choices?.find((c) => c.id === value)?.label ?? String(value);
}

function viewOf(record: CaseRecord): CaseView {
  return {
    id: '',
    rev: 0,
    audience: record.audience,
    families: ['no-heat'],
    units: record.settings.units ?? 'us',
    machine: record.settings.machine ?? {},
    answers: standing(record.answers).map((a) => ({
      seq: a.seq,
      turn: a.turn,
      ...(a.fact && { fact: a.fact }),
      label: labelOf(a),
      shown: shownOf(a),
      said: a.said,
      act: a.act,
      ...(FACTS[a.fact ?? '']?.choices && { choices: FACTS[a.fact ?? '']!.choices }),
      ...(a.unit && { unit: a.unit }),
    })),
  };
}

function evidenceRow(a: Answer): EvidenceRow | undefined {
  const fact = FACTS[a.fact ?? ''];
  if (!fact || a.value === undefined) return undefined;
  const row = {
    seq: a.seq,
    fact: a.fact!,
    label: fact.label,
    value: a.value,
    shown: shownOf(a),
    said: a.said,
    standing: 'single' as const,
  };
  if (!fact.good || !fact.unit)
    return { ...row, verdict: 'noted', verdictWords: 'Noted', because: 'As you saw it.', sources: [] };
  const [lo, hi] = fact.good;
  const verdict = a.value === 'open' ? 'open' : Number(a.value) < lo ? 'low' : Number(a.value) > hi ? 'high' : 'good';
  const words = { open: 'Open', low: 'Too low', high: 'Too high', good: 'As it should be' };
  return {
    ...row,
    unit: fact.unit,
    expected: { lo, hi, unit: fact.unit, from: ['plate', 'meter'] },
    expectedShown: `${lo} to ${hi} ${fact.unit}`,
    verdict,
    verdictWords: words[verdict],
    because:
      verdict === 'good'
        ? 'It lies inside the band for this plate and meter.'
        : 'It lies outside the band for this plate and meter.',
    sources: ['ANSI C84.1-2020, Table 1, Range A', 'Computed from the plate: 240 V, 5600 W'],
  };
}

function replyTo(record: CaseRecord, said: Part[]): Reply {
  const answers = standing(record.answers);
  const dangers = answers.filter((a) => DANGERS[a.fact ?? '']?.includes(String(a.value)));
  const settled = new Set(answers.map((a) => a.fact));
  const open = QUESTIONS.find((q) => (!q.technician || record.audience === 'technician') && !settled.has(q.settles[0]!));
  const evidence = answers.flatMap((a) => evidenceRow(a) ?? []);
  const suspects = suspectsAfter(answers);
  const live = suspects.filter((s) => s.live).length;
  const base = { evidence, suspects, progress: { suspectsLeft: live, minutesLeft: open ? 14 : 0, checksLeft: open ? 3 : 0 } };
  const consultation: Reply['consultation'] = {
    knowledge: 'fake',
    rev: 0,
    stops: dangers.map((a) => ({ sign: a.fact!, rule: `stop-${a.fact}`, standsUntil: 'made safe', suppresses: [] })),
    silenced: [],
    verdicts: [],
    suspects: [],
    notToldApart: [],
    ahead: { min: base.progress.minutesLeft, checks: base.progress.checksLeft },
    followThrough: [],
    trace: dangers.map((a) => ({ set: 'stops', rule: `stop-${a.fact}`, truth: 'holds', saw: { [a.fact!]: a.value } })),
  };
  if (dangers.length > 0)
    return {
      ...base,
      consultation,
      parts: [
        {
          kind: 'stop',
          text: '**Smell of gas**\n\nTouch no switch, no plug and no phone in here.\n\nGo outside, all of you, and leave the door open.\n\nOutside, call the gas emergency line or the emergency number.',
        },
        { kind: 'stop', text: 'That comes before the dryer. A gas-qualified person has to look before it is used again.' },
      ],
    };
  const again = answers.find((a) => a.fact === 'coil' && a.value === 'open');
  const parts: Part[] = [...said];
  if (!open && record.audience === 'technician')
    parts.push({
      kind: 'conclude',
      text: again
        ? '**The heater coil is open.** Replace it, then look for what wore it out.'
        : '**The coil is sound.** The fault lies elsewhere.',
    });
  if (!open)
    parts.push({
      kind: 'refer',
      text: '**Appliance technician**, within a week. Leave the dryer off until then.\n\nTo carry: heater coil, one-shot cut-off.',
    });
  if (!open) return { ...base, consultation, parts };
  const { settles: _, technician: __, ...ask } = open;
  const shown: Ask = record.audience === 'agent' ? { ...ask, script: `Please have a look for me: ${ask.text}` } : ask;
  parts.push(...ask.cautions.map((text): Part => ({ kind: 'caution', text })), { kind: 'ask', text: ask.text });
  return { ...base, consultation, parts, ask: shown };
}

const LISTED: [id: string, label: string, share: number, goneWith: string][] = [
  ['coil-open', 'Heater coil open', 0.31, 'coil'],
  ['leg-lost', 'One leg of the supply lost', 0.22, 'block_a_b'],
  ['cutoff-open', 'One-shot cut-off blown', 0.19, ''],
  ['limit-open', 'High limit open', 0.1, ''],
  ['motor-contact', 'Heat contact of the motor open', 0.07, ''],
  ['control-contact', 'Heat contact of the control open', 0.06, ''],
  ['block-joint', 'Poor joint at the terminal block', 0.02, 'block_a_b'],
  ['air-only', 'Set to air only', 0.01, 'warmth'],
];
function suspectsAfter(answers: Answer[]): SuspectRow[] {
  const good = (fact: string) => {
    const row = answers.filter((a) => a.fact === fact).map(evidenceRow)[0];
    return row !== undefined && (row.verdict === 'good' || row.verdict === 'noted');
  };
  const rows = LISTED.map(([id, label, share, gone]) => ({ faults: [id], label, share, live: !(gone && good(gone)), gone }));
  const total = rows.filter((r) => r.live).reduce((sum, r) => sum + r.share, 0.02);
  return [
    ...rows.map(({ gone, ...row }) => ({
      ...row,
      share: row.live ? row.share / total : 0,
      for: row.live && answers.some((a) => a.fact === 'warmth') ? ['Air after five minutes on high: as cold as the room'] : [],
      against: row.live ? [] : [`${FACTS[gone]?.label}: as it should be`],
    })),
    { faults: [], label: 'Something not listed', share: 0.02 / total, live: true, for: [], against: [] },
  ];
}
