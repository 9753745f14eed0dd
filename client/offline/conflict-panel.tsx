import { useState } from 'hono/jsx/dom';
import type { Talk, TalkState } from '../case/talk.ts';
import { word } from '../say.ts';
import type { Unsent } from '../worker/messages.ts';
import { tellWorker } from './device.ts';
import { useDevice } from './use-device.ts';

/**
 * A case that was added to elsewhere while this device had no network. What stands is what the server has; what was entered
 * here is shown beside it, and goes in only if a person says so, as new answers in plain sight.
 */
export function ConflictPanel({ talk, state }: { talk: Talk; state: TalkState }) {
  const conflict = useDevice()?.conflicts.find(({ id }) => id === talk.id);
  const [left, setLeft] = useState<Unsent[] | undefined>(undefined);
  if (!conflict) return null;
  const unsent = left ?? conflict.unsent;
  const settle = () => tellWorker({ ask: 'settled', id: talk.id });
  const enter = async () => {
    for (const [at, { again }] of unsent.entries()) {
      if (!again) continue;
      const taken = 'text' in again ? await talk.say(again.text) : await talk.answer([again.answer]);
      // What was entered is not offered twice; the rest stays here, with the trouble told below.
      if (!taken) return setLeft(unsent.slice(at));
    }
    settle();
  };
  const some = unsent.some(({ again }) => again);
  return (
    <section class="conflict" aria-labelledby="conflict">
      <h2 id="conflict">{word('two-ways')}</h2>
      <p>{word('two-ways-text')}</p>
      <ul>
        {unsent.map(({ lines, again }) =>
          lines.length > 0 ? (
            lines.map((line) => (
              <li>
                {line.label ? (
                  <>
                    {line.label}: <strong class="shown">{line.shown}</strong>
                  </>
                ) : (
                  <q class="said">{line.said}</q>
                )}
                {!again && ` ${word('two-ways-by-hand')}`}
              </li>
            ))
          ) : (
            <li>{word('two-ways-undone')}</li>
          ),
        )}
      </ul>
      <p class="conflict-end">
        {some && (
          <button type="button" class="main-button" disabled={state.busy} onClick={() => void enter()}>
            {word('enter-now')}
          </button>
        )}
        <button type="button" class="plain-button" disabled={state.busy} onClick={settle}>
          {word('leave-out')}
        </button>
      </p>
    </section>
  );
}
