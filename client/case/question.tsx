import { useEffect, useRef } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { Mark } from '../mark.tsx';
import { inline, Prose } from '../markdown.tsx';
import { word } from '../say.ts';
import type { Units } from '../types.ts';
import { WiringPanel } from '../wiring/wiring-panel.tsx';
import { minutes } from '../words.ts';
import { PickMany, PickOne } from './choices.tsx';
import { headAndRest, withoutReads } from './question-text.ts';
import { ReadingsForm } from './readings-form.tsx';

interface Props {
  ask: Ask;
  number: number;
  cautions: string[];
  units: Units;
  busy: boolean;
  /** Line number of the answer asked again. */
  againOf?: number;
  /** A new value moves focus here; 0 = the page just opened, focus stays. */
  turns: number;
  onAnswer: (answers: AnswerInput[]) => void;
}

/** A question that starts below this part of the window is not in view. */
const STARTS_BY = 0.5;

/** The one question open now. Focus comes here after each turn; the number keys answer from anywhere in the record. */
export function Question({ ask, number, cautions, units, busy, againOf, turns, onAnswer }: Props) {
  const heading = useRef<HTMLElement>(null);
  useEffect(() => {
    const box = heading.current?.closest('.question');
    // A case that is opened again shows what is asked, not how it began; a question in view already stays where it is.
    if (turns === 0) {
      if (box && box.getBoundingClientRect().top > innerHeight * STARTS_BY) box.scrollIntoView({ block: 'start' });
      return;
    }
    heading.current?.focus({ preventScroll: true });
    box?.scrollIntoView({ block: 'start' });
  }, [turns]);
  const { text, hints } = withoutReads(
    ask.text,
    ask.reads.map((read) => read.label),
  );
  const [head, rest] = headAndRest(text);
  // What the question says itself is not said a second time above it.
  const says = (words: string) => ask.text.toLowerCase().includes(words.toLowerCase());
  const covers = ask.covers.filter((cover) => !says(cover));
  const doing = [
    ask.min > 0 && minutes(ask.min),
    !says(ask.stateWords) && ask.stateWords,
    covers.length > 0 && word('off-covers', { covers: covers.join(', ') }),
  ];
  return (
    <section class="question" aria-labelledby="question">
      <p class="question-line">
        <span class="line-number">{number}</span>
        <span class="tag">
          {ask.of === undefined ? word('open-question') : againOf ? word('once-more-line', { n: againOf }) : word('once-more')}
        </span>
        <span class="doing">{doing.filter(Boolean).join(' · ')}</span>
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
        {cautions.length > 0 && (
          <div class="cautions" role="note" aria-label={word('caution')}>
            <p class="caution-head">
              <Mark is="up" /> {word('caution')}
            </p>
            {cautions.map((text) => (
              <Prose text={text} />
            ))}
          </div>
        )}
        <div class="question-rest">
          {rest && <Prose text={rest} />}
          {ask.kind === 'one' && <PickOne ask={ask} busy={busy} onAnswer={onAnswer} />}
          {ask.kind === 'many' && <PickMany ask={ask} busy={busy} onAnswer={onAnswer} />}
          {ask.kind === 'readings' && <ReadingsForm ask={ask} units={units} hints={hints} busy={busy} onAnswer={onAnswer} />}
          {ask.wiring && <WiringPanel wiring={ask.wiring} />}
        </div>
      </div>
    </section>
  );
}
