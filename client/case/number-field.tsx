import { useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import type { Unit, Units, Value } from '../types.ts';
import { type Typed, type TypedUnit, typedUnits, typedValue } from '../units.ts';

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
  const [typed, setTyped] = useState<Typed>({ text: '', unit: options[0]!.label, over: false });
  const tell = (change: Partial<Typed>) => {
    const now = { ...typed, ...change };
    setTyped(now);
    onValue(typedValue(now, options));
  };
  const described = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ') || undefined;
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
          disabled={typed.over}
          aria-describedby={described}
          aria-invalid={error ? 'true' : undefined}
          value={typed.text}
          onInput={(e: Event) => tell({ text: (e.target as HTMLInputElement).value })}
        />
        <UnitPick label={label} options={options} chosen={typed.unit} onUnit={(unit) => tell({ unit })} />
        {unit === 'Ω' && <OverRange over={typed.over} onOver={(over) => tell({ over })} />}
      </div>
      {error && (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}

interface UnitProps {
  label: string;
  options: readonly TypedUnit[];
  chosen: string;
  onUnit: (label: string) => void;
}
/** A list of units, or the one there is. */
const UnitPick = ({ label, options, chosen, onUnit }: UnitProps) =>
  options.length > 1 ? (
    <select aria-label={word('unit-of', { label })} onChange={(e: Event) => onUnit((e.target as HTMLSelectElement).value)}>
      {options.map((option) => (
        <option value={option.label} selected={option.label === chosen}>
          {option.label}
        </option>
      ))}
    </select>
  ) : (
    <span class="unit">{options[0]!.label}</span>
  );

const OverRange = ({ over, onOver }: { over: boolean; onOver: (over: boolean) => void }) => (
  <label class="tick">
    <input type="checkbox" checked={over} onChange={(e: Event) => onOver((e.target as HTMLInputElement).checked)} />
    {word('over-range')}
  </label>
);
