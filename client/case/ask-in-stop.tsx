import { useRef } from 'hono/jsx/dom';
import { word } from '../say.ts';
import type { Talk, TalkState } from './talk.ts';

/** One field under a stop: what is asked of it is answered, what is done is ticked. */
export function AskInStop({ talk, state }: { talk: Talk; state: TalkState }) {
  const field = useRef<HTMLTextAreaElement>(null);
  const say = async () => {
    const text = field.current?.value.trim();
    if (!text || !field.current) return field.current?.focus();
    if ((await talk.say(text)) && field.current?.value.trim() === text) field.current.value = '';
  };
  return (
    <form
      class="own-words in-stop"
      onSubmit={(e: Event) => {
        e.preventDefault();
        void say();
      }}
    >
      <label for="own-words">{word('ask-in-stop')}</label>
      <textarea
        id="own-words"
        ref={field}
        rows={1}
        maxLength={2000}
        autocomplete="off"
        onKeyDown={(e: KeyboardEvent) => {
          if (e.key !== 'Enter' || e.shiftKey || e.isComposing) return;
          e.preventDefault();
          void say();
        }}
      />
      <button type="submit" class="plain-button" disabled={state.busy}>
        {word('send')}
      </button>
    </form>
  );
}
