import { useEffect, useRef, useState } from 'hono/jsx/dom';
import type { WrittenBlock } from '../../server/shapes/sheet.ts';
import type { Talk } from '../case/talk.ts';
import { word } from '../say.ts';

type WrittenField = WrittenBlock['fields'][number];

/** What people write on the sheet themselves. A field is kept as soon as it is left. */
export function JobForm({ blocks, talk, open = '' }: { blocks: WrittenBlock[]; talk: Talk; open?: string }) {
  const [said, setSaid] = useState('');
  const write = async ({ id, label }: WrittenField, value: string) => {
    const kept = await talk.fill({ [id]: value });
    setSaid(word(kept ? 'kept-field' : 'not-kept-field', { label }));
    return kept;
  };
  return (
    <div class="job-form">
      {blocks.map((block) => (
        <details key={block.id} open={block.id === open || block.fields.some(({ value }) => value)}>
          <summary>{block.title}</summary>
          <div class="job-fields">
            {block.fields.map((field) => (
              <div class="field" key={field.id}>
                <label for={`job-${field.id}`}>{field.label}</label>
                {field.choices ? <Choices field={field} onWrite={write} /> : <TextLine field={field} onWrite={write} />}
              </div>
            ))}
          </div>
        </details>
      ))}
      <p role="status" class="hint">
        {said}
      </p>
    </div>
  );
}

interface FieldProps {
  field: WrittenField;
  /** @returns whether it was kept */
  onWrite: (field: WrittenField, value: string) => Promise<boolean>;
}

const Choices = ({ field, onWrite }: FieldProps) => (
  <select id={`job-${field.id}`} onChange={(e: Event) => void onWrite(field, (e.target as HTMLSelectElement).value)}>
    <option value="">–</option>
    {field.choices!.map((choice) => (
      <option value={choice} selected={choice === field.value}>
        {choice}
      </option>
    ))}
  </select>
);

/**
 * One line of text. What comes from the server is not put over what is being written: an answer to the last word may be late, and
 * letters would be lost. A change is not listened for either, for here that would be every single letter.
 */
function TextLine({ field, onWrite }: FieldProps) {
  const input = useRef<HTMLInputElement>(null);
  const sent = useRef(field.value ?? '');
  useEffect(() => {
    if (document.activeElement === input.current) return;
    sent.current = field.value ?? '';
    input.current!.value = sent.current;
  }, [field.value]);
  const keep = async () => {
    const before = sent.current;
    const value = input.current!.value.trim();
    if (value === before) return;
    sent.current = value;
    if (!(await onWrite(field, value)) && sent.current === value) sent.current = before;
  };
  return (
    <span class="field-row">
      <input
        id={`job-${field.id}`}
        autocomplete="off"
        maxLength={400}
        ref={input}
        onBlur={() => void keep()}
        onKeyDown={(e: KeyboardEvent) => {
          if (e.key === 'Enter') void keep();
        }}
      />
      {field.time && (
        <button
          type="button"
          class="plain-button"
          aria-label={word('now-field', { label: field.label })}
          onClick={() => {
            input.current!.value = timeNow();
            void keep();
          }}
        >
          {word('now')}
        </button>
      )}
    </span>
  );
}

/** Day and time here, to the minute: "2026-03-04 09:05". */
function timeNow(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())} ${two(now.getHours())}:${two(now.getMinutes())}`;
}
