import { useEffect, useRef } from 'hono/jsx/dom';
import type { Ask } from '../../server/types.ts';
import { Prose } from '../markdown.tsx';
import { go } from '../route.ts';
import { word } from '../say.ts';
import type { NoAnswer } from '../types.ts';
import { noAnswer } from './answers.ts';
import type { Talk, TalkState } from './talk.ts';
import { Trouble } from './trouble.tsx';

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
  /** Said as anybody would type it: a button is a short way of writing the same. The words stand in the record, and the sheet is what the person who takes over needs. */
  const person = async () => {
    if (await talk.say(word('person-said'))) go({ at: 'sheet', id: talk.id });
  };
  const without = (act: NoAnswer) => () => ask && void talk.answer(noAnswer(ask, act));
  const idle = !ask || state.busy;
  return (
    <div class="dock">
      {state.trouble && (
        <Trouble text={state.trouble} onSend={state.unsent?.now ? () => void again() : undefined} onClose={talk.quiet} />
      )}
      {whyOpen && ask && (
        <div class="why" role="status">
          <p class="tag">{word('why-this-head')}</p>
          <Prose text={ask.why} />
        </div>
      )}
      <fieldset class="tools" aria-label={word('without-answer')}>
        <button type="button" disabled={idle} onClick={without('unsure')}>
          {word('not-sure')}
        </button>
        <button type="button" disabled={idle} onClick={without('declined')}>
          {word('cannot')}
        </button>
        <button type="button" disabled={idle} onClick={without('later')}>
          {word('not-now')}
        </button>
        <button type="button" disabled={!ask} aria-expanded={whyOpen ? 'true' : 'false'} onClick={onWhy}>
          {word('why-this')}
        </button>
        <button type="button" disabled={state.busy} onClick={() => void talk.say(word('may-use-said'))}>
          {word('may-use')}
        </button>
        <button type="button" disabled={state.busy} onClick={() => void person()}>
          {word('person')}
        </button>
        <button type="button" disabled={state.busy || !state.view?.answers.length} onClick={() => void talk.undo()}>
          {word('take-back')}
        </button>
      </fieldset>
      <form
        class="own-words"
        onSubmit={(e: Event) => {
          e.preventDefault();
          void say();
        }}
      >
        <label for="own-words">{word('own-words')}</label>
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
          {word('send')}
        </button>
      </form>
    </div>
  );
}
