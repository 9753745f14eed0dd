import { useState } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { picked } from './answers.ts';

interface Props {
  ask: Ask;
  busy: boolean;
  onAnswer: (answers: AnswerInput[]) => void;
}
const Key = ({ n }: { n: number }) => (
  <span class="key" aria-hidden="true">
    {n <= 9 ? n : ''}
  </span>
);

/** Pick one: every choice is a button, and its number on the keyboard presses it. */
export const PickOne = ({ ask, busy, onAnswer }: Props) => (
  <ol class="choices">
    {ask.choices.map((choice, at) => (
      <li>
        <button
          type="button"
          class="choice"
          data-key={at + 1}
          disabled={busy}
          aria-keyshortcuts={at < 9 ? String(at + 1) : undefined}
          onClick={() => onAnswer(picked(ask, [choice.id]))}
        >
          <Key n={at + 1} />
          <span class="choice-words">{choice.label}</span>
        </button>
      </li>
    ))}
  </ol>
);

/** A longer list stands in two columns where there is room. */
const MANY = 8;

/** Pick any, or none. "None" is a button of its own: an empty list may also mean that nobody looked. */
export function PickMany({ ask, busy, onAnswer }: Props) {
  const [ticked, setTicked] = useState<string[]>([]);
  const none = ask.choices.find((choice) => choice.id === 'none');
  const some = ask.choices.filter((choice) => choice.id !== 'none');
  return (
    <form
      onSubmit={(e: Event) => {
        e.preventDefault();
        if (ticked.length > 0) onAnswer(picked(ask, ticked));
      }}
    >
      <ol class={some.length > MANY ? 'choices many long' : 'choices many'}>
        {some.map((choice, at) => (
          <li>
            <label class="choice">
              <Key n={at + 1} />
              <input
                type="checkbox"
                data-key={at + 1}
                aria-keyshortcuts={at < 9 ? String(at + 1) : undefined}
                checked={ticked.includes(choice.id)}
                onChange={(e: Event) => {
                  const on = (e.target as HTMLInputElement).checked;
                  setTicked((now) => (on ? [...now, choice.id] : now.filter((id) => id !== choice.id)));
                }}
              />
              <span class="choice-words">{choice.label}</span>
            </label>
          </li>
        ))}
      </ol>
      <p class="many-end">
        {none && (
          <button
            type="button"
            class={ticked.length === 0 ? 'main-button' : 'plain-button'}
            data-key={some.length < 9 ? some.length + 1 : undefined}
            disabled={busy || ticked.length > 0}
            onClick={() => onAnswer(picked(ask, ['none']))}
          >
            {some.length < 9 && <Key n={some.length + 1} />}
            {none.label}
          </button>
        )}
        <button type="submit" class={ticked.length > 0 ? 'main-button' : 'plain-button'} disabled={busy || ticked.length === 0}>
          {ticked.length > 0 ? `Enter ${ticked.length} ticked` : 'Enter ticked'}
        </button>
      </p>
    </form>
  );
}
