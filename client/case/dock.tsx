import { useEffect, useRef } from 'hono/jsx/dom';
import type { Ask } from '../../server/types.ts';
import { Prose } from '../markdown.tsx';
import { go } from '../route.ts';
import { noAnswer } from './answers.ts';
import type { Talk, TalkState } from './talk.ts';
import { Trouble } from './trouble.tsx';

/** Said as anybody would type it: a button is a short way of writing the same. */
const MAY_USE = 'May I use it meanwhile?';
const PERSON = 'Stop. I want a person to take over.';

interface Props {
  talk: Talk;
  state: TalkState;
  ask?: Ask;
  whyOpen: boolean;
  onWhy: () => void;
}

/** What is always at hand, always in the same place: the ways not to answer, the way back, and one's own words. */
export function Dock({ talk, state, ask, whyOpen, onWhy }: Props) {
  const field = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    if (talk.draft && field.current) field.current.value = talk.draft;
    talk.draft = '';
  }, [talk.id]);
  // Written meanwhile? Then that stays.
  const clear = (sent: string) => {
    if (field.current?.value.trim() === sent) field.current.value = '';
  };
  const again = async () => {
    const { unsent } = state;
    if ((await unsent?.again()) && unsent?.said) clear(unsent.said);
  };
  const say = async () => {
    const text = field.current?.value.trim();
    if (!text || !field.current) return field.current?.focus();
    if (await talk.say(text)) clear(text);
  };
  /** The words stand in the record, and the sheet is what the person who takes over needs. */
  const person = async () => {
    if (await talk.say(PERSON)) go({ at: 'sheet', id: talk.id });
  };
  const without = (act: 'unsure' | 'declined' | 'later') => () => ask && void talk.answer(noAnswer(ask, act));
  const idle = !ask || state.busy;
  return (
    <div class="dock">
      {state.trouble && (
        <Trouble text={state.trouble} onSend={state.unsent?.now ? () => void again() : undefined} onClose={talk.quiet} />
      )}
      {whyOpen && ask && (
        <div class="why" role="status">
          <p class="tag">Why this</p>
          <Prose text={ask.why} />
        </div>
      )}
      <fieldset class="tools" aria-label="Without an answer, and at any time">
        <button type="button" disabled={idle} onClick={without('unsure')}>
          Not sure
        </button>
        <button type="button" disabled={idle} onClick={without('declined')}>
          Can’t
        </button>
        <button type="button" disabled={idle} onClick={without('later')}>
          Not at it now
        </button>
        <button type="button" disabled={!ask} aria-expanded={whyOpen ? 'true' : 'false'} onClick={onWhy}>
          Why this?
        </button>
        <button type="button" disabled={state.busy} onClick={() => void talk.say(MAY_USE)}>
          May I use it?
        </button>
        <button type="button" disabled={state.busy} onClick={() => void person()}>
          Stop, get a person
        </button>
        <button type="button" disabled={state.busy || !state.view?.answers.length} onClick={() => void talk.undo()}>
          Take back
        </button>
      </fieldset>
      <form
        class="own-words"
        onSubmit={(e: Event) => {
          e.preventDefault();
          void say();
        }}
      >
        <label for="own-words">In your own words</label>
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
        <button type="submit" class="main-button" disabled={state.busy}>
          Send
        </button>
      </form>
    </div>
  );
}
