import { useEffect, useRef } from 'hono/jsx/dom';
import type { CaseView, EvidenceRow, Reply } from '../../server/types.ts';
import type { Talk, TalkState } from '../case/talk.ts';
import { CurvesSection } from '../curves/curves-section.tsx';
import { Mark } from '../mark.tsx';
import { word } from '../say.ts';
import { count, SHAPES, sentence } from '../words.ts';
import { brief, Gauge } from './gauge.tsx';
import { MachineForm } from './machine-form.tsx';
import { Suspects } from './suspects.tsx';
import { WhatItLeaves } from './what-it-leaves.tsx';

const DESK = '(min-width: 60rem)';

/** What is known so far, and what it leaves. Beside the record on a desk, folded below it on a phone. */
export function Evidence({ talk, state, reply, view }: { talk: Talk; state: TalkState; reply: Reply; view: CaseView }) {
  const panel = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    const desk = matchMedia(DESK);
    const fit = () => {
      if (panel.current) panel.current.open = desk.matches;
    };
    fit();
    desk.addEventListener('change', fit);
    return () => desk.removeEventListener('change', fit);
  }, []);
  const { suspectsLeft, minutesLeft } = reply.progress;
  const checksLeft = Math.ceil(reply.progress.checksLeft);
  // Newest first: the reading just given is the one looked for.
  const judged = reply.evidence.filter((row) => row.verdict !== 'noted' || row.expected).toReversed();
  const noted = reply.evidence.filter((row) => !judged.includes(row));
  return (
    <details id="evidence" class="evidence" ref={panel}>
      <summary>
        <h2>{word('evidence')}</h2>
        <span class="summary-count">{count(reply.evidence.length, 'entry', 'entries')}</span>
      </summary>
      <dl class="progress">
        <div>
          <dd>{suspectsLeft}</dd>
          <dt>{word(suspectsLeft === 1 ? 'suspect-left' : 'suspects-left')}</dt>
        </div>
        <div>
          <dd>{checksLeft}</dd>
          <dt>{word(checksLeft === 1 ? 'check-ahead' : 'checks-ahead')}</dt>
        </div>
        <div>
          <dd>{checksLeft > 0 ? Math.max(1, Math.round(minutesLeft)) : 0}</dd>
          <dt>{word(checksLeft > 0 ? 'min-left-about' : 'min-left')}</dt>
        </div>
      </dl>
      <section aria-labelledby="readings">
        <h3 id="readings">{word('readings')}</h3>
        {judged.length === 0 && <p class="nothing">{word('no-reading')}</p>}
        <ul class="rows">
          {judged.map((row) => (
            <Judged key={row.seq} row={row} />
          ))}
        </ul>
        {noted.length > 0 && (
          <details class="noted">
            <summary>{word('also-noted', { n: noted.length })}</summary>
            <dl>
              {noted.map((row) => (
                <div>
                  <dt>{row.label}</dt>
                  <dd>{row.shown}</dd>
                </div>
              ))}
            </dl>
          </details>
        )}
      </section>
      <Suspects suspects={reply.suspects} evidence={reply.evidence} asked={reply.ask?.check ?? ''} />
      <WhatItLeaves outlook={reply.outlook} />
      <CurvesSection curves={reply.curves} units={view.units} />
      <MachineForm talk={talk} busy={state.busy} view={view} />
    </details>
  );
}

const STANDING = { single: undefined, agreed: 'read-twice', doubted: 'in-doubt' } as const;

const Judged = ({ row }: { row: EvidenceRow }) => {
  const { shape, tone } = SHAPES[row.verdict];
  const standing = STANDING[row.standing];
  return (
    <li class={`row ${tone}`}>
      <details class="opens">
        <summary>
          <span class="row-label">{row.label}</span>
          <span class="row-shown">{row.shown}</span>
          <span class="row-verdict">
            <span class="verdict">
              <Mark is={shape} />
              {sentence(row.verdictWords)}
            </span>
            {row.expected && (
              <Gauge
                value={row.value}
                shown={row.shown}
                band={row.expected}
                bandShown={row.expectedShown ?? ''}
                meter={row.meter}
              />
            )}
            {row.expectedShown && (
              <span class="expected">
                <span class="unseen">{word('expected')} </span>
                {row.expectedShown}
              </span>
            )}
          </span>
          {standing && <span class="standing">{word(standing)}</span>}
        </summary>
        <div class="because">
          <p>{row.because}</p>
          {row.meter && row.unit && (
            <p class="hint">{word('meter-off', { lo: brief(row.meter.lo), hi: brief(row.meter.hi), unit: row.unit })}</p>
          )}
          {row.sources.length > 0 && (
            <ul>
              {row.sources.map((source) => (
                <li>{source}</li>
              ))}
            </ul>
          )}
        </div>
      </details>
    </li>
  );
};
