import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { picked } from './answers.ts';
import { Key, shortcutOf } from './key.tsx';

export interface PickProps {
  ask: Ask;
  busy: boolean;
  onAnswer: (answers: AnswerInput[]) => void;
}

/** Pick one: every choice is a button, and its number on the keyboard presses it. */
export const PickOne = ({ ask, busy, onAnswer }: PickProps) => (
  <ol class="choices">
    {ask.choices.map((choice, at) => (
      <li>
        <button
          type="button"
          class="choice"
          data-key={at + 1}
          disabled={busy}
          aria-keyshortcuts={shortcutOf(at)}
          onClick={() => onAnswer(picked(ask, [choice.id]))}
        >
          <Key n={at + 1} />
          <span class="choice-words">{choice.label}</span>
        </button>
      </li>
    ))}
  </ol>
);
