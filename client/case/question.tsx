import { type RefObject, useEffect, useRef } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { inline, Prose } from '../markdown.tsx';
import { word } from '../say.ts';
import type { Units } from '../types.ts';
import { WiringPanel } from '../wiring/wiring-panel.tsx';
import { isWriting } from '../writing.ts';
import { Cautions } from './cautions.tsx';
import { PickMany } from './pick-many.tsx';
import { PickOne } from './pick-one.tsx';
import { questionText } from './question-text.ts';
import { ReadingsForm } from './readings-form.tsx';
import type { RecordNow } from './record-now.ts';
import type { Talk, TalkState } from './talk.ts';

interface Props {
  talk: Talk;
  state: TalkState;
  ask: Ask;
  now: RecordNow;
  units: Units;
}

/** The one question open now. Focus comes here after each turn; the number keys answer from anywhere in the record. */
export function Question({ talk, state, ask, now, units }: Props) {
  const heading = useFocusAfterTurns(state.turns);
  const { lines, cautions, againOf } = now;
  const { head, rest, hints, doing } = questionText(ask);
  const onAnswer = (answers: AnswerInput[]) => void talk.answer(answers);
  return (
    <section class="question" aria-labelledby="question">
      <p class="question-line">
        <span class="line-number">{lines.length + 1}</span>
        <span class="tag">{whichQuestion(againOf)}</span>
        <span class="doing">{doing.join(' · ')}</span>
      </p>
      <div class={cautions.length > 0 ? 'question-body with-cautions' : 'question-body'}>
        <div class="question-head">
          {ask.script && (
            <p class="script">
              <span class="tag">{word('read-out')}</span> {ask.script}
            </p>
          )}
          <h2 id="question" tabindex={-1} ref={heading} dangerouslySetInnerHTML={inline(head)} />
        </div>
        {cautions.length > 0 && <Cautions texts={cautions} />}
        <div class="question-rest">
          {rest && <Prose text={rest} />}
          {ask.kind === 'one' && <PickOne ask={ask} busy={state.busy} onAnswer={onAnswer} />}
          {ask.kind === 'many' && <PickMany ask={ask} busy={state.busy} onAnswer={onAnswer} />}
          {ask.kind === 'readings' && (
            <ReadingsForm ask={ask} units={units} hints={hints} busy={state.busy} onAnswer={onAnswer} />
          )}
          {ask.wiring && <WiringPanel wiring={ask.wiring} />}
        </div>
      </div>
    </section>
  );
}

/** A question that starts below this part of the window is not in view. */
const STARTS_BY = 0.5;

/** A new number of turns moves focus to the heading, but from nobody who writes; 0 = the page just opened, focus stays. */
function useFocusAfterTurns(turns: number): RefObject<HTMLElement | null> {
  const heading = useRef<HTMLElement>(null);
  useEffect(() => {
    const box = heading.current?.closest('.question');
    // A case that is opened again shows what is asked, not how it began; a question in view already stays where it is.
    if (turns === 0) {
      if (box && box.getBoundingClientRect().top > innerHeight * STARTS_BY) box.scrollIntoView({ block: 'start' });
      return;
    }
    if (!isWriting()) heading.current?.focus({ preventScroll: true });
    box?.scrollIntoView({ block: 'start' });
  }, [turns]);
  return heading;
}

/** @param againOf number of the line asked once more; 0 = it no longer stands */
function whichQuestion(againOf: number | undefined): string {
  if (againOf === undefined) return word('open-question');
  return againOf > 0 ? word('once-more-line', { n: againOf }) : word('once-more');
}
