import type { CaseSettings } from '../../rules/types.ts';
import type { CaseRecord } from '../types.ts';
import { readHistory, readRecord } from './read-record.ts';
import type { Append, CaseStore } from './store.ts';

interface Kept {
  opened: string;
  audience: string;
  answers: { seq: number; rev: number; body: string }[];
  turns: { rev: number; settings: string; key?: string; asked?: string }[];
}

/** Kept as text, so that nobody can change a stored case through a reference to it. Gone when the process ends. */
export function memoryStore(): CaseStore {
  const cases = new Map<string, Kept>();

  const add = (kept: Kept, rev: number, answers: Append['answers'], settings: CaseSettings, turn?: Append['turn']) => {
    kept.turns.push({ rev, settings: JSON.stringify(settings), ...turn });
    for (const a of answers) kept.answers.push({ seq: a.seq, rev, body: JSON.stringify(a) });
  };

  return {
    async create(record: CaseRecord) {
      if (cases.has(record.id)) throw new Error('a case with this id exists');
      const kept: Kept = { opened: record.opened, audience: record.audience, answers: [], turns: [] };
      add(kept, record.rev, record.answers, record.settings);
      cases.set(record.id, kept);
    },
    async get(id, rev = Number.POSITIVE_INFINITY) {
      const kept = cases.get(id);
      const turn = kept?.turns.findLast((t) => t.rev <= rev);
      if (!kept || !turn) return undefined;
      const answers = kept.answers.filter((a) => a.rev <= rev);
      return readRecord({ id, opened: kept.opened, audience: kept.audience, rev: turn.rev, settings: turn.settings, answers });
    },
    async append(id, rev, { answers, settings, turn }) {
      const kept = cases.get(id);
      if (!kept) return 'no-such-case';
      if (kept.turns.at(-1)?.rev !== rev || (turn && kept.turns.some((t) => t.key === turn.key))) return 'conflict';
      if (answers.some((a, i) => a.seq !== (kept.answers.at(-1)?.seq ?? 0) + 1 + i))
        throw new Error('answers must be numbered on');
      add(kept, rev + 1, answers, settings, turn);
      return rev + 1;
    },
    async turn(id, key) {
      const turn = cases.get(id)?.turns.find((t) => t.key === key);
      return turn && { rev: turn.rev, asked: turn.asked ?? '' };
    },
    async history(id, after = 0) {
      const kept = cases.get(id);
      const turns = kept?.turns.filter((t) => t.rev > after) ?? [];
      return kept && readHistory({ id, ...kept, turns });
    },
    async close() {},
  };
}
