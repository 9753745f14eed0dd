import { OwnWordsForm, useOwnWords } from './own-words.tsx';
import type { Talk, TalkState } from './talk.ts';

/** One field under a stop: what is asked of it is answered, what is done is ticked. */
export function AskInStop({ talk, state }: { talk: Talk; state: TalkState }) {
  return <OwnWordsForm words={useOwnWords(talk)} label="ask-in-stop" busy={state.busy} inStop />;
}
