import { type WordId, word } from '../say.ts';
import type { Named } from './case-settings.ts';

interface TypedProps {
  name: string;
  id: string;
  label: WordId;
  value: number | undefined;
  hint?: WordId;
}
/** A number to type, empty where none is known. */
export const TypedPair = ({ name, id, label, value, hint }: TypedProps) => (
  <div class="pair">
    <label for={id}>{word(label)}</label>
    <input
      id={id}
      name={name}
      inputmode="decimal"
      size={6}
      autocomplete="off"
      value={String(value ?? '')}
      aria-describedby={hint && `${id}-hint`}
    />
    {hint && (
      <p class="hint" id={`${id}-hint`}>
        {word(hint)}
      </p>
    )}
  </div>
);

interface PickedProps {
  name: string;
  label: WordId;
  value: string;
  of: readonly Named[];
}
/** A list to pick one from, by its name. */
export const PickedPair = ({ name, label, value, of }: PickedProps) => (
  <div class="pair">
    <label for={`case-${name}`}>{word(label)}</label>
    <select id={`case-${name}`} name={name}>
      {of.map(({ id, title }) => (
        <option value={id} selected={id === value}>
          {title}
        </option>
      ))}
    </select>
  </div>
);
