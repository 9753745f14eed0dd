import { api } from '../api.ts';
import { lastCase } from '../kept.ts';
import { word } from '../say.ts';
import type { Opened } from '../types.ts';
import { fillSheet } from './fill-sheet.ts';
import { fail, type Held, newlyHeld, set, take } from './held.ts';
import type { Talk } from './talk.ts';
import { answerAll, takeAlone, undoTogether } from './turns.ts';

/** A case for the page to hold. @param opened as it was just opened; absent = it is read by `load` */
export function createTalk(id: string, opened?: Opened): Talk {
  const held = newlyHeld(id);
  if (opened) take(held, { opened });
  return {
    id,
    draft: '',
    get: () => held.state,
    subscribe: (listener) => {
      held.listeners.add(listener);
      return () => void held.listeners.delete(listener);
    },
    load: () => load(held),
    say: (text) => takeAlone(held, { what: ['say', text], send: (rev, key) => api.say(id, rev, key, text), said: text }),
    answer: (answers) => answerAll(held, answers),
    undo: () => undoTogether(held),
    change: (seq, value) =>
      takeAlone(held, { what: ['change', seq, value], send: (rev, key) => api.change(id, rev, key, seq, value) }),
    patch: (settings) => takeAlone(held, { what: ['patch', settings], send: (rev, key) => api.patch(id, rev, key, settings) }),
    fill: (job) => fillSheet(held, job),
    quiet: () => set(held, { trouble: undefined, unsent: undefined }),
    online: () => {
      const { unsent } = held.state;
      if (unsent) set(held, { trouble: word('back-online'), unsent: { ...unsent, now: true } });
    },
  };
}

async function load(held: Held): Promise<void> {
  if (held.state.busy) return;
  set(held, { busy: true, trouble: undefined });
  const before = lastCase();
  const now = await api.look(held.id);
  if (!now.ok) return fail(held, now.failure);
  const moved = before?.id === held.id && before.rev !== now.value.case.rev;
  take(held, { opened: now.value }, { busy: false, ...(moved && { trouble: word('moved-on') }) });
}
