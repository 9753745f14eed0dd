import { type RefObject, useRef } from 'hono/jsx/dom';
import { onEnter } from '../enter-key.ts';
import { type WordId, word } from '../say.ts';
import type { Talk } from './talk.ts';

interface OwnWords {
  field: RefObject<HTMLTextAreaElement | null>;
  /** Says what is in the field. */
  say: () => Promise<void>;
  /** What was sent goes from the field. Written meanwhile? Then that stays. */
  clear: (sent: string) => void;
}
export function useOwnWords(talk: Talk): OwnWords {
  const field = useRef<HTMLTextAreaElement>(null);
  const clear = (sent: string) => {
    if (field.current?.value.trim() === sent) field.current.value = '';
  };
  const say = async () => {
    const text = field.current?.value.trim();
    if (!text || !field.current) return field.current?.focus();
    if (await talk.say(text)) clear(text);
  };
  return { field, say, clear };
}

interface Props {
  words: OwnWords;
  label: WordId;
  busy: boolean;
  /** Under a stop it is the lesser way: what is to be done comes first. */
  inStop?: boolean;
}
/** The field for one's own words; Enter sends them. */
export const OwnWordsForm = ({ words: { field, say }, label, busy, inStop }: Props) => (
  <form
    class={inStop ? 'own-words in-stop' : 'own-words'}
    onSubmit={(e: Event) => {
      e.preventDefault();
      void say();
    }}
  >
    <label for="own-words">{word(label)}</label>
    <textarea id="own-words" ref={field} rows={1} maxLength={2000} autocomplete="off" onKeyDown={onEnter(() => void say())} />
    <button type="submit" class={inStop ? 'plain-button' : 'main-button'} disabled={busy}>
      {word('send')}
    </button>
  </form>
);
