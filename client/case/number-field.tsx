import { useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import type { Unit, Units, Value } from '../types.ts';
import { readNumber, typedUnits } from '../units.ts';

interface Props {
  id: string;
  label: string;
  /** Where the leads go, in words. */
  hint?: string;
  unit: Unit;
  units: Units;
  /** Told after every key: the value in `unit`, undefined while it is none. */
  onValue: (value: Value | undefined) => void;
  error?: string;
}

/** A reading: number and unit. What the meter shows for over range may be typed or ticked. */
export function NumberField({ id, label, hint, unit, units, onValue, error }: Props) {
  const options = typedUnits(unit, units);
  const [typed, setTyped] = useState('');
  const [chosen, setChosen] = useState(options[0]!.label);
  const [over, setOver] = useState(false);
  const tell = (text: string, label: string, isOver: boolean) => {
    const value = isOver ? 'open' : readNumber(text);
    const into = options.find((option) => option.label === label)?.into;
    onValue(typeof value === 'number' && into ? into(value) : value);
  };
  return (
    <div class="reading-field">
      <label for={id}>{label}</label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div class="reading-row">
        <input
          id={id}
          name={id}
          inputmode="decimal"
          autocomplete="off"
          size={8}
          disabled={over}
          aria-describedby={[hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ') || undefined}
          aria-invalid={error ? 'true' : undefined}
          value={typed}
          onInput={(e: Event) => {
            const text = (e.target as HTMLInputElement).value;
            setTyped(text);
            tell(text, chosen, over);
          }}
        />
        {options.length > 1 ? (
          <select
            aria-label={word('unit-of', { label })}
            onChange={(e: Event) => {
              const label = (e.target as HTMLSelectElement).value;
              setChosen(label);
              tell(typed, label, over);
            }}
          >
            {options.map((option) => (
              <option value={option.label} selected={option.label === chosen}>
                {option.label}
              </option>
            ))}
          </select>
        ) : (
          <span class="unit">{options[0]!.label}</span>
        )}
        {unit === 'Ω' && (
          <label class="tick">
            <input
              type="checkbox"
              checked={over}
              onChange={(e: Event) => {
                const isOver = (e.target as HTMLInputElement).checked;
                setOver(isOver);
                tell(typed, chosen, isOver);
              }}
            />
            {word('over-range')}
          </label>
        )}
      </div>
      {error && (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}
