import { useState } from 'hono/jsx/dom';
import type { WrittenBlock } from '../../server/conversation/sheet.ts';
import type { Talk } from '../case/talk.ts';
import { word } from '../say.ts';

/** What people write on the sheet themselves. A field is kept as soon as it is left. */
export function JobForm({ blocks, talk, open = '' }: { blocks: WrittenBlock[]; talk: Talk; open?: string }) {
  const [said, setSaid] = useState('');
  const write = async (id: string, label: string, value: string) => {
    setSaid(word((await talk.fill({ [id]: value })) ? 'kept-field' : 'not-kept-field', { label }));
  };
  return (
    <div class="job-form">
      {blocks.map((block) => (
        <details key={block.id} open={block.id === open || block.fields.some(({ value }) => value)}>
          <summary>{block.title}</summary>
          <div class="job-fields">
            {block.fields.map((field) => {
              const id = `job-${field.id}`;
              const keep = (e: Event) => void write(field.id, field.label, (e.target as HTMLInputElement).value.trim());
              return (
                <div class="field">
                  <label for={id}>{field.label}</label>
                  {field.choices ? (
                    <select id={id} onChange={keep}>
                      <option value="">–</option>
                      {field.choices.map((choice) => (
                        <option value={choice} selected={choice === field.value}>
                          {choice}
                        </option>
                      ))}
                    </select>
                  ) : (
                    <span class="field-row">
                      <input id={id} autocomplete="off" maxLength={400} value={field.value} onChange={keep} />
                      {field.time && (
                        <button
                          type="button"
                          class="plain-button"
                          aria-label={word('now-field', { label: field.label })}
                          onClick={() => {
                            const input = document.getElementById(id) as HTMLInputElement;
                            input.value = timeNow();
                            void write(field.id, field.label, input.value);
                          }}
                        >
                          {word('now')}
                        </button>
                      )}
                    </span>
                  )}
                </div>
              );
            })}
          </div>
        </details>
      ))}
      <p role="status" class="hint">
        {said}
      </p>
    </div>
  );
}

/** Day and time here, to the minute: "2026-03-04 09:05". */
function timeNow(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())} ${two(now.getHours())}:${two(now.getMinutes())}`;
}
