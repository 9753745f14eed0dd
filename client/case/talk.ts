import type { AnswerInput } from '../../server/conversation-port.ts';
import type { CaseView, Part, Reply } from '../../server/types.ts';
import { api, type Failure, newTurnKey, type Result, type Settings } from '../api.ts';
import { keep, lastCase } from '../kept.ts';
import { word } from '../say.ts';
import type { Opened, TurnTaken, Value } from '../types.ts';
import { shownOf, troubleWords } from '../words.ts';
import { inPlace } from './group.ts';

/** What was said in between, kept under the answer after which it stands. Typed words are data and shown as text. */
export interface Note {
  said?: string;
  parts: Part[];
}
export interface TalkState {
  id: string;
  view?: CaseView;
  reply?: Reply;
  /** Seq of the last answer then standing (0 = before the first) -> what was said. */
  notes: Record<number, Note[]>;
  /** Choices seen in this page's life: fact -> what may be picked. */
  seen: Record<string, { id: string; label: string }[]>;
  /** What the case came to, and who comes next: said once, and shown as long as it holds. */
  outcome: Part[];
  busy: boolean;
  trouble?: string;
  /** What a broken line kept back can be sent again; `now`: the line is there again. */
  unsent?: { again: () => Promise<boolean>; said?: string; now: boolean };
  gone: boolean;
  /** Goes up with every reply of a turn, so that focus can follow. */
  turns: number;
}

/**
 * One case as the page holds it. A turn either changes the state and answers true, or leaves what was typed to the
 * caller and answers false with `trouble` set.
 */
export type Talk = ReturnType<typeof createTalk>;

export function createTalk(id: string, opened?: Opened) {
  let state: TalkState = { id, notes: {}, seen: {}, outcome: [], busy: false, gone: false, turns: 0 };
  const listeners = new Set<() => void>();
  /** The sheet's field that is on its way. */
  let filling: Promise<boolean> = Promise.resolve(true);
  // The same request after a failure goes out under the same key: if the first one did arrive, nothing is added twice.
  let pending: { what: string; key: string } | undefined;
  /** How many turns the last thing done here was: the readings of one visit are entered together, and taken back together. */
  let together = 1;

  const set = (change: Partial<TalkState>) => {
    state = { ...state, ...change };
    for (const listener of listeners) listener();
  };

  function take({ case: seen, reply }: Opened, said: string | undefined, before: CaseView | undefined): Partial<TalkState> {
    const view = { ...seen, answers: inPlace(before?.answers ?? [], seen.answers) };
    keep('case', { id: view.id, rev: view.rev });
    const last = newest(view);
    const parts = reply.parts.filter((part) => (part.kind === 'say' || part.kind === 'explain') && !echoes(part, view));
    // Words that became an answer stand in the record already.
    const unplaced = said !== undefined && last <= newest(before) ? said : undefined;
    const note: Note = { parts, ...(unplaced !== undefined && { said: unplaced }) };
    const earlier = unplaced === undefined ? [] : (state.notes[last] ?? []);
    const notes =
      parts.length > 0 || unplaced !== undefined ? { ...state.notes, [last]: [...earlier, note].slice(-4) } : state.notes;
    const end = reply.parts.filter((part) => part.kind === 'conclude' || part.kind === 'refer');
    const outcome = end.length > 0 || !reply.consultation.conclusion ? end : state.outcome;
    return { view, reply, notes, outcome, seen: { ...state.seen, ...choicesOf(reply) }, gone: false };
  }

  async function turn(
    what: unknown,
    send: (rev: number, key: string) => Promise<Result<TurnTaken>>,
    said?: string,
  ): Promise<boolean> {
    const before = state.view;
    if (!before || state.busy) return false;
    const asText = JSON.stringify(what);
    const key = pending?.what === asText ? pending.key : newTurnKey();
    pending = { what: asText, key };
    set({ busy: true, trouble: undefined, unsent: undefined });
    // What is being written on the sheet goes first: both count on the revision before.
    await filling;
    const result = await send(state.view?.rev ?? before.rev, key);
    if (result.ok) {
      pending = undefined;
      set({ ...take(result.value, said, before), busy: false, turns: state.turns + 1 });
      return true;
    }
    if (result.failure.is !== 'offline') pending = undefined;
    await fail(result.failure);
    if (result.failure.is === 'offline')
      set({ unsent: { again: () => turn(what, send, said), ...(said && { said }), now: false } });
    return false;
  }

  async function alone(sent: Promise<boolean>): Promise<boolean> {
    const taken = await sent;
    if (taken) together = 1;
    return taken;
  }

  /** Writes on the job sheet. No turn of the talk: nothing is asked anew, and focus stays in the field. */
  async function fill(job: Record<string, string>, again = true): Promise<boolean> {
    if (!state.view) return false;
    const result = await api.patch(id, state.view.rev, newTurnKey(), { job });
    if (!result.ok && result.failure.is === 'stale' && again) {
      const now = await api.look(id);
      if (now.ok) set(take(now.value, undefined, state.view));
      return now.ok && fill(job, false);
    }
    if (!result.ok) return false;
    set({ view: { ...state.view, rev: result.value.case.rev } });
    keep('case', { id, rev: result.value.case.rev });
    return true;
  }

  async function fail(failure: Failure): Promise<void> {
    const trouble = troubleWords(failure);
    if (failure.is === 'stale') {
      const now = await api.look(state.id);
      if (now.ok) return set({ ...take(now.value, undefined, state.view), busy: false, trouble });
    }
    set({ busy: false, trouble, gone: failure.is === 'gone' });
  }

  if (opened) state = { ...state, ...take(opened, undefined, undefined) };
  return {
    id,
    /** Words a failed first turn left behind; the field starts with them. */
    draft: '',
    get: () => state,
    subscribe: (listener: () => void) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    /** Reads the case anew, e.g. after a reload. */
    load: async () => {
      if (state.busy) return;
      set({ busy: true, trouble: undefined });
      const before = lastCase();
      const now = await api.look(id);
      if (!now.ok) return fail(now.failure);
      const moved = before?.id === id && before.rev !== now.value.case.rev;
      set({
        ...take(now.value, undefined, undefined),
        busy: false,
        ...(moved && { trouble: word('moved-on') }),
      });
    },
    say: (text: string) => alone(turn(['say', text], (rev, key) => api.say(id, rev, key, text), text)),
    /** One visit can give several answers; they go one after the other, each on the revision the one before left. */
    answer: async (answers: AnswerInput[]) => {
      const sendAll = async ([first, ...rest]: AnswerInput[]): Promise<boolean> => {
        if (!first) return true;
        const taken = await turn(['answer', first], (rev, key) => api.answer(id, rev, key, first));
        if (taken) {
          together = answers.length - rest.length;
          return sendAll(rest);
        }
        if (state.unsent) set({ unsent: { ...state.unsent, again: () => sendAll([first, ...rest]) } });
        return false;
      };
      return sendAll(answers);
    },
    undo: async () => {
      do if (!(await turn(['undo'], (rev, key) => api.undo(id, rev, key)))) return false;
      while (--together > 0);
      together = 1;
      return true;
    },
    change: (seq: number, value: Value) =>
      alone(turn(['change', seq, value], (rev, key) => api.change(id, rev, key, seq, value))),
    patch: (settings: Settings) => alone(turn(['patch', settings], (rev, key) => api.patch(id, rev, key, settings))),
    fill: (job: Record<string, string>): Promise<boolean> => {
      filling = filling.then(() => fill(job));
      return filling;
    },
    quiet: () => set({ trouble: undefined, unsent: undefined }),
    /** The line is there again: what was kept back is offered, never sent unasked. */
    online: () => {
      if (state.unsent) set({ trouble: word('back-online'), unsent: { ...state.unsent, now: true } });
    },
  };
}

const newest = (view: CaseView | undefined) => Math.max(0, ...(view?.answers ?? []).map((line) => line.seq));

/** The reply says back what it took; the line itself does that here. */
const echoes = ({ text }: Part, { answers }: CaseView) =>
  answers.some((line) =>
    [`${line.label}: ${shownOf(line)}.`, `${line.said}: noted.`].some((echo) => echo.toLowerCase() === text.trim().toLowerCase()),
  );

function choicesOf({ ask }: Reply): TalkState['seen'] {
  if (ask?.kind !== 'one') return {};
  const fact = ask.choices[0]?.fact;
  return fact && ask.choices.every((choice) => choice.fact === fact) ? { [fact]: ask.choices } : {};
}
