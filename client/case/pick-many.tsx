import { useState } from 'hono/jsx/dom';
import type { Ask } from '../../server/types.ts';
import { word } from '../say.ts';
import { picked } from './answers.ts';
import { DIGITS, Key, shortcutOf } from './key.tsx';
import { type ListLine, linesOf, type Ticks, tickChoice, tickLine, untold } from './list-lines.ts';
import type { PickProps } from './pick-one.tsx';

/** A longer list stands in two columns where there is room. */
const MANY = 8;

/** Pick any, or none. "None" is a button of its own: an empty list may also mean that nobody looked. */
export function PickMany({ ask, busy, onAnswer }: PickProps) {
  const [ticks, setTicks] = useState<Ticks>({ ticked: [], opened: [] });
  const [asked, setAsked] = useState<string>();
  const lines = linesOf(ask);
  const { ticked } = ticks;
  const onTick = (line: ListLine, on: boolean) => {
    setTicks((now) => tickLine(now, line, on));
    if (line.under) setAsked(undefined);
  };
  const send = (e: Event) => {
    e.preventDefault();
    // A line that was ticked and not told apart is a danger left open: it is asked for, never dropped.
    const open = untold(lines, ticks);
    if (open) setAsked(open.id);
    else if (ticked.length > 0) onAnswer(picked(ask, [...ticked]));
  };
  return (
    <form onSubmit={send}>
      <ol class={lines.length > MANY ? 'choices many long' : 'choices many'}>
        {lines.map((line, at) => (
          <li>
            <LineTick line={line} at={at} ticks={ticks} onTick={(on) => onTick(line, on)} />
            {line.under && ticks.opened.includes(line.id) && (
              <Under
                choices={line.under}
                missing={asked === line.id}
                ticked={ticked}
                onTick={(id, on) => setTicks((now) => tickChoice(now, id, on))}
              />
            )}
          </li>
        ))}
      </ol>
      <End ask={ask} ticks={ticks} lines={lines.length} busy={busy} onNone={() => onAnswer(picked(ask, ['none']))} />
    </form>
  );
}

const isChecked = (e: Event): boolean => (e.target as HTMLInputElement).checked;

interface LineProps {
  line: ListLine;
  /** Its place, counted from 0. */
  at: number;
  ticks: Ticks;
  onTick: (on: boolean) => void;
}
const LineTick = ({ line, at, ticks: { ticked, opened }, onTick }: LineProps) => (
  <label class="choice">
    <Key n={at + 1} />
    <input
      type="checkbox"
      data-key={at + 1}
      aria-keyshortcuts={shortcutOf(at)}
      aria-expanded={line.under && String(opened.includes(line.id))}
      checked={(line.under ? opened : ticked).includes(line.id)}
      onChange={(e: Event) => onTick(isChecked(e))}
    />
    <span class="choice-words">{line.label}</span>
  </label>
);

interface UnderProps {
  choices: Ask['choices'];
  /** It was to be entered with none of them ticked. */
  missing: boolean;
  ticked: readonly string[];
  onTick: (id: string, on: boolean) => void;
}
/** The choices under a line, once it is ticked. */
const Under = ({ choices, missing, ticked, onTick }: UnderProps) => (
  <fieldset class="under">
    <legend>{missing ? <span role="alert">{word('which-missing')}</span> : word('which')}</legend>
    {choices.map((choice) => (
      <label class="choice">
        <input type="checkbox" checked={ticked.includes(choice.id)} onChange={(e: Event) => onTick(choice.id, isChecked(e))} />
        <span class="choice-words">{choice.label}</span>
      </label>
    ))}
  </fieldset>
);

interface EndProps {
  ask: Ask;
  ticks: Ticks;
  /** How many lines stand above. */
  lines: number;
  busy: boolean;
  onNone: () => void;
}
/** The likelier of the two buttons is the heavy one: "none" while nothing is ticked. */
function End({ ask, ticks: { ticked, opened }, lines, busy, onNone }: EndProps) {
  const none = ask.choices.find((choice) => choice.id === 'none');
  const nothing = ticked.length === 0 && opened.length === 0;
  const noneKey = lines < DIGITS ? lines + 1 : 0;
  return (
    <p class="many-end">
      {none && (
        <button
          type="button"
          class={nothing ? 'main-button' : 'plain-button'}
          data-key={noneKey}
          aria-keyshortcuts={String(noneKey)}
          disabled={busy || !nothing}
          onClick={onNone}
        >
          <Key n={noneKey} />
          {none.label}
        </button>
      )}
      <button type="submit" class={nothing ? 'plain-button' : 'main-button'} disabled={busy || nothing}>
        {ticked.length > 0 ? word('enter-n-ticked', { n: ticked.length }) : word('enter-ticked')}
      </button>
    </p>
  );
}
