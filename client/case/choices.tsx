import { useState } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { word } from '../say.ts';
import { picked } from './answers.ts';

interface Props {
  ask: Ask;
  busy: boolean;
  onAnswer: (answers: AnswerInput[]) => void;
}
/** Digits press choices; the last resort of a long list, "none", has 0. */
const DIGITS = 9;
const Key = ({ n }: { n: number }) => (
  <span class="key" aria-hidden="true">
    {n <= DIGITS ? n : ''}
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
          aria-keyshortcuts={at < DIGITS ? String(at + 1) : undefined}
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

interface Line {
  id: string;
  label: string;
  /** Set where several choices stand under this line; they come out when it is ticked. */
  under?: Ask['choices'];
}
/** The lines of a list: a choice by itself, or several under one line, at the place of the first of them. */
function linesOf({ choices, groups = [] }: Ask): Line[] {
  const groupOf = new Map(groups.flatMap((group) => group.of.map((id) => [id, group] as const)));
  return choices
    .filter(({ id }) => id !== 'none')
    .flatMap((choice): Line[] => {
      const group = groupOf.get(choice.id);
      if (!group) return [choice];
      if (group.of[0] !== choice.id) return [];
      return [{ id: group.id, label: group.label, under: choices.filter(({ id }) => group.of.includes(id)) }];
    });
}

/** Pick any, or none. "None" is a button of its own: an empty list may also mean that nobody looked. */
export function PickMany({ ask, busy, onAnswer }: Props) {
  const [ticked, setTicked] = useState<string[]>([]);
  const [opened, setOpened] = useState<string[]>([]);
  const [asked, setAsked] = useState<string>();
  const none = ask.choices.find((choice) => choice.id === 'none');
  const lines = linesOf(ask);
  const put = (now: string[], id: string, on: boolean) => (on ? [...now, id] : now.filter((one) => one !== id));
  const tick = (id: string, on: boolean) => setTicked((now) => put(now, id, on));
  const open = ({ id, under }: Line, on: boolean) => {
    setOpened((now) => put(now, id, on));
    setAsked(undefined);
    if (!on) setTicked((now) => now.filter((one) => !under!.some((choice) => choice.id === one)));
  };
  const unsaid = lines.find(({ id, under }) => opened.includes(id) && !under!.some((choice) => ticked.includes(choice.id)));
  const nothing = ticked.length === 0 && opened.length === 0;
  const noneKey = lines.length < DIGITS ? lines.length + 1 : 0;
  const send = (e: Event) => {
    e.preventDefault();
    // A line that was ticked and not told apart is a danger left open: it is asked for, never dropped.
    if (unsaid) setAsked(unsaid.id);
    else if (ticked.length > 0) onAnswer(picked(ask, ticked));
  };
  return (
    <form onSubmit={send}>
      <ol class={lines.length > MANY ? 'choices many long' : 'choices many'}>
        {lines.map((line, at) => (
          <li>
            <label class="choice">
              <Key n={at + 1} />
              <input
                type="checkbox"
                data-key={at + 1}
                aria-keyshortcuts={at < DIGITS ? String(at + 1) : undefined}
                aria-expanded={line.under && String(opened.includes(line.id))}
                checked={(line.under ? opened : ticked).includes(line.id)}
                onChange={(e: Event) => {
                  const on = (e.target as HTMLInputElement).checked;
                  if (line.under) open(line, on);
                  else tick(line.id, on);
                }}
              />
              <span class="choice-words">{line.label}</span>
            </label>
            {line.under && opened.includes(line.id) && (
              <fieldset class="under">
                <legend>{asked === line.id ? <span role="alert">{word('which-missing')}</span> : word('which')}</legend>
                {line.under.map((choice) => (
                  <label class="choice">
                    <input
                      type="checkbox"
                      checked={ticked.includes(choice.id)}
                      onChange={(e: Event) => tick(choice.id, (e.target as HTMLInputElement).checked)}
                    />
                    <span class="choice-words">{choice.label}</span>
                  </label>
                ))}
              </fieldset>
            )}
          </li>
        ))}
      </ol>
      <p class="many-end">
        {none && (
          <button
            type="button"
            class={nothing ? 'main-button' : 'plain-button'}
            data-key={noneKey}
            aria-keyshortcuts={String(noneKey)}
            disabled={busy || !nothing}
            onClick={() => onAnswer(picked(ask, ['none']))}
          >
            <Key n={noneKey} />
            {none.label}
          </button>
        )}
        <button type="submit" class={nothing ? 'plain-button' : 'main-button'} disabled={busy || nothing}>
          {ticked.length > 0 ? word('enter-n-ticked', { n: ticked.length }) : word('enter-ticked')}
        </button>
      </p>
    </form>
  );
}
