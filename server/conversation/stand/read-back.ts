import type { Ask, Meaning } from '../../types.ts';
import { shownValue } from '../words/numbers.ts';
import { type Draft, type ToldDraft, waiting } from './notes.ts';
import type { Saying } from './said.ts';
import { shortAsk } from './short-ask.ts';

export const READ_BACK = 'read-back';

/** A correction that would lift a stop is asked back before it counts; taking back the turn that made the stop, too. */
export function readBackAsk(x: Saying): Ask | undefined {
  const { k, s, at } = x;
  const waits = waiting(at.answers, 'read-back');
  if (!waits) return undefined;
  const text =
    waits.lifting === undefined
      ? s.say('read-back-undo')
      : s.say('read-back', {
          what: s.fact(waits.lifting.fact),
          value: shownValue(s, k, waits.lifting.fact, waits.lifting.value, at.facts.units),
        });
  return shortAsk(READ_BACK, text, s.say('read-back-why'), [
    { id: 'yes', label: s.say('read-back-yes'), fact: READ_BACK },
    { id: 'no', label: s.say('read-back-no'), fact: READ_BACK },
  ]);
}

/** Remembers what is read back until it is answered. */
export const readBackNote = ({ fact, value, of, said }: ToldDraft): Draft => ({
  act: 'note',
  note: 'read-back',
  lifting: { fact, value, ...(of !== undefined && { of }) },
  said,
});

/** "Yes" or "no" to a read-back and no more; anything longer is heard as what it says. "Yes, there is no smell" is a yes. */
export function yesOrNo(acts: readonly Meaning[]): 'yes' | 'no' | undefined {
  const rest = acts.filter((a) => a.is !== 'denied');
  const [only] = rest;
  if (rest.length !== 1 || !only) return undefined;
  const word = only.is === 'talk' ? only.what : only.is === 'answer' && only.fact === READ_BACK ? only.value : undefined;
  if (word === 'yes') return 'yes';
  return word === 'no' && acts.length === 1 ? 'no' : undefined;
}
