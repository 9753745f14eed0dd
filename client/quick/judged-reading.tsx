import { useEffect, useRef } from 'hono/jsx/dom';
import { Gauge } from '../evidence/gauge.tsx';
import { Mark } from '../mark.tsx';
import { SHAPES } from '../words.ts';
import type { Judged } from './use-judging.ts';

/** The verdict on a reading, with its band and how that came about. Focus comes here with each new one. */
export function JudgedReading({ judged }: { judged: Judged }) {
  const { value, is: reading } = judged;
  const heading = useRef<HTMLElement>(null);
  useEffect(() => heading.current?.focus(), [judged]);
  const { shape, tone } = SHAPES[reading.verdict];
  return (
    <section class={`judged ${tone}`} aria-labelledby="judged">
      <h2 id="judged" tabindex={-1} ref={heading}>
        <Mark is={shape} />
        {reading.shown}: {reading.verdictWords}
      </h2>
      <p class="row-label">{reading.label}</p>
      {reading.expected && (
        <Gauge value={value} shown={reading.shown} band={reading.expected} bandShown={reading.expectedShown ?? ''} />
      )}
      {reading.expectedShown && <p class="expected">Expected {reading.expectedShown}</p>}
      <p>{reading.because}</p>
      {reading.cautions && reading.cautions.length > 0 && (
        <div class="cautions" role="note" aria-label="Caution">
          <p class="caution-head">
            <Mark is="up" /> Caution
          </p>
          {reading.cautions.map((text) => (
            <p>{text}</p>
          ))}
        </div>
      )}
      <details class="because">
        <summary>How the band came about, and sources</summary>
        <ol>
          {reading.how.map((line) => (
            <li>{line}</li>
          ))}
        </ol>
        <ul>
          {reading.sources.map((source) => (
            <li>{source}</li>
          ))}
        </ul>
      </details>
    </section>
  );
}
