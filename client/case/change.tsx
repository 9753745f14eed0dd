import { useEffect, useRef, useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import type { Line, Unit, Units, Value } from '../types.ts';
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
  useEffect(() => {
    box.current?.querySelector<HTMLElement>('button, input, textarea')?.focus();
  }, []);
  const choices = line.choices ?? (line.fact ? state.seen[line.fact] : undefined);
  const unit = line.unit ?? state.reply?.evidence.find((row) => row.seq === line.seq)?.unit;
  const { busy } = state;
  const id = `change-${line.seq}`;
  const closeIf = async (taken: Promise<boolean>) => {
    if (await taken) onClose();
  };
  const send = (to: Value) => void closeIf(changeTo(talk, line, to));
  const say = (words: string) => void closeIf(talk.say(word('correction-said', { label: line.label, words })));
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
        <AmongChoices choices={choices} busy={busy} onPick={send} onClose={onClose} />
      ) : unit ? (
        <ToNumber id={id} unit={unit} units={units} busy={busy} onNumber={send} onClose={onClose} />
      ) : (
        <InWords id={id} busy={busy} onWords={say} onClose={onClose} />
      )}
    </fieldset>
  );
}

/** "Not sure" is no reading that could be replaced: what is known now is simply told. */
function changeTo(talk: Talk, { act, fact, seq }: Line, value: Value): Promise<boolean> {
  const wasNone = act === 'unsure' || act === 'declined' || act === 'later';
  return wasNone && fact ? talk.answer([{ fact, value }]) : talk.change(seq, value);
}

interface WayProps {
  busy: boolean;
  onClose: () => void;
}
const LeaveIt = ({ onClose }: Pick<WayProps, 'onClose'>) => (
  <button type="button" class="plain-button" onClick={onClose}>
    {word('leave-it')}
  </button>
);
const ChangeEnd = ({ busy, onClose }: WayProps) => (
  <p class="change-end">
    <button type="submit" class="main-button" disabled={busy}>
      {word('change-it')}
    </button>
    <LeaveIt onClose={onClose} />
  </p>
);

interface ChoicesProps extends WayProps {
  choices: readonly { id: string; label: string }[];
  onPick: (id: string) => void;
}
const AmongChoices = ({ choices, busy, onPick, onClose }: ChoicesProps) => (
  <>
    <ol class="choices">
      {choices.map((choice) => (
        <li>
          <button type="button" class="choice" disabled={busy} onClick={() => onPick(choice.id)}>
            <span class="choice-words">{choice.label}</span>
          </button>
        </li>
      ))}
    </ol>
    <LeaveIt onClose={onClose} />
  </>
);

interface NumberProps extends WayProps {
  id: string;
  unit: Unit;
  units: Units;
  onNumber: (value: Value) => void;
}
function ToNumber({ id, unit, units, busy, onNumber, onClose }: NumberProps) {
  const [value, setValue] = useState<Value | undefined>(undefined);
  const [error, setError] = useState('');
  return (
    <form
      noValidate
      onSubmit={(e: Event) => {
        e.preventDefault();
        if (value === undefined) setError(word('number-needed'));
        else onNumber(value);
      }}
    >
      <NumberField id={id} label={word('new-reading')} unit={unit} units={units} onValue={setValue} error={error} />
      <ChangeEnd busy={busy} onClose={onClose} />
    </form>
  );
}

interface WordsProps extends WayProps {
  id: string;
  onWords: (words: string) => void;
}
const InWords = ({ id, busy, onWords, onClose }: WordsProps) => (
  <form
    onSubmit={(e: Event) => {
      e.preventDefault();
      const words = (e.target as HTMLFormElement).querySelector('input')?.value.trim();
      if (words) onWords(words);
    }}
  >
    <label for={id}>{word('what-is-right')}</label>
    <input id={id} class="wide" autocomplete="off" />
    <ChangeEnd busy={busy} onClose={onClose} />
  </form>
);
