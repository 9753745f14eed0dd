import { useEffect, useRef, useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import type { Line, Units, Value } from '../types.ts';
import { NumberField } from './number-field.tsx';
import type { Talk, TalkState } from './talk.ts';

interface Props {
  line: Line;
  number: number;
  talk: Talk;
  state: TalkState;
  units: Units;
  onClose: () => void;
}

/** One earlier answer, opened again where it stands: its choices, its number, or plain words where it was told in words. */
export function Change({ line, number, talk, state, units, onClose }: Props) {
  const box = useRef<HTMLElement>(null);
  const [value, setValue] = useState<Value | undefined>(undefined);
  const [error, setError] = useState('');
  const evidence = state.reply?.evidence.find((row) => row.seq === line.seq);
  const choices = line.choices ?? (line.fact ? state.seen[line.fact] : undefined);
  const unit = line.unit ?? evidence?.unit;
  useEffect(() => {
    box.current?.querySelector<HTMLElement>('button, input, textarea')?.focus();
  }, []);
  const id = `change-${line.seq}`;
  const send = async (to: Value) => {
    // "Not sure" is no reading that could be replaced: what is known now is simply told.
    const told = line.act === 'unsure' || line.act === 'declined' || line.act === 'later';
    const taken = told && line.fact ? talk.answer([{ fact: line.fact, value: to }]) : talk.change(line.seq, to);
    if (await taken) onClose();
  };
  const cancel = (
    <button type="button" class="plain-button" onClick={onClose}>
      {word('leave-it')}
    </button>
  );
  return (
    <fieldset
      class="change"
      aria-label={word('change-line', { n: number, label: line.label })}
      ref={box}
      onKeyDown={(e: KeyboardEvent) => {
        if (e.key === 'Escape') onClose();
      }}
    >
      {choices ? (
        <>
          <ol class="choices">
            {choices.map((choice) => (
              <li>
                <button type="button" class="choice" disabled={state.busy} onClick={() => send(choice.id)}>
                  <span class="choice-words">{choice.label}</span>
                </button>
              </li>
            ))}
          </ol>
          {cancel}
        </>
      ) : unit ? (
        <form
          noValidate
          onSubmit={(e: Event) => {
            e.preventDefault();
            if (value === undefined) setError(word('number-needed'));
            else void send(value);
          }}
        >
          <NumberField id={id} label={word('new-reading')} unit={unit} units={units} onValue={setValue} error={error} />
          <p class="change-end">
            <button type="submit" class="main-button" disabled={state.busy}>
              {word('change-it')}
            </button>
            {cancel}
          </p>
        </form>
      ) : (
        <form
          onSubmit={async (e: Event) => {
            e.preventDefault();
            const words = (e.target as HTMLFormElement).querySelector('input')?.value.trim();
            if (words && (await talk.say(word('correction-said', { label: line.label, words })))) onClose();
          }}
        >
          <label for={id}>{word('what-is-right')}</label>
          <input id={id} class="wide" autocomplete="off" />
          <p class="change-end">
            <button type="submit" class="main-button" disabled={state.busy}>
              {word('change-it')}
            </button>
            {cancel}
          </p>
        </form>
      )}
    </fieldset>
  );
}
