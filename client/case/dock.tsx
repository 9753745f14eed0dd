import { useEffect } from 'hono/jsx/dom';
import type { Ask } from '../../server/types.ts';
import { Prose } from '../markdown.tsx';
import { go } from '../route.ts';
import { word } from '../say.ts';
import type { NoAnswer } from '../types.ts';
import { noAnswer } from './answers.ts';
import { OwnWordsForm, useOwnWords } from './own-words.tsx';
import type { Talk, TalkState } from './talk.ts';
import { UnsentTrouble } from './trouble.tsx';

interface Props {
  talk: Talk;
  state: TalkState;
  ask?: Ask;
  whyOpen: boolean;
  onWhy: () => void;
}

/** What is always at hand, always in the same place: the ways not to answer, the way back, and one's own words. */
export function Dock({ talk, state, ask, whyOpen, onWhy }: Props) {
  const words = useOwnWords(talk);
  useEffect(() => {
    if (talk.draft && words.field.current) words.field.current.value = talk.draft;
    talk.draft = '';
  }, [talk.id]);
  return (
    <div class="dock">
      {state.trouble && <UnsentTrouble talk={talk} state={state} text={state.trouble} onSent={words.clear} />}
      {whyOpen && ask && (
        <div class="why" role="status">
          <p class="tag">{word('why-this-head')}</p>
          <Prose text={ask.why} />
        </div>
      )}
      <DockTools talk={talk} state={state} ask={ask} whyOpen={whyOpen} onWhy={onWhy} />
      <OwnWordsForm words={words} label="own-words" busy={state.busy} />
    </div>
  );
}

const NO_ANSWERS = [
  ['unsure', 'not-sure'],
  ['declined', 'cannot'],
  ['later', 'not-now'],
] as const satisfies [NoAnswer, string][];

function DockTools({ talk, state: { busy, view }, ask, whyOpen, onWhy }: Props) {
  /** Said as anybody would type it: a button is a short way of writing the same. The words stand in the record, and the sheet is what the person who takes over needs. */
  const person = async () => {
    if (await talk.say(word('person-said'))) go({ at: 'sheet', id: talk.id });
  };
  return (
    <fieldset class="tools" aria-label={word('without-answer')}>
      {NO_ANSWERS.map(([act, words]) => (
        <button type="button" disabled={!ask || busy} onClick={() => ask && void talk.answer(noAnswer(ask, act))}>
          {word(words)}
        </button>
      ))}
      <button type="button" disabled={!ask} aria-expanded={whyOpen ? 'true' : 'false'} onClick={onWhy}>
        {word('why-this')}
      </button>
      <button type="button" disabled={busy} onClick={() => void talk.say(word('may-use-said'))}>
        {word('may-use')}
      </button>
      <button type="button" disabled={busy} onClick={() => void person()}>
        {word('person')}
      </button>
      <button type="button" disabled={busy || !view?.answers.length} onClick={() => void talk.undo()}>
        {word('take-back')}
      </button>
    </fieldset>
  );
}
