import { type RefObject, useEffect, useRef } from 'hono/jsx/dom';
import type { CaseView, EvidenceRow, Progress, Reply } from '../../server/types.ts';
import type { Talk, TalkState } from '../case/talk.ts';
import { CurvesSection } from '../curves/curves-section.tsx';
import { word } from '../say.ts';
import { count } from '../words.ts';
import { MachineForm } from './machine-form.tsx';
import { ReadingRow } from './reading-row.tsx';
import { Suspects } from './suspects.tsx';
import { WhatItLeaves } from './what-it-leaves.tsx';

const DESK = '(min-width: 60rem)';

interface Props {
  talk: Talk;
  state: TalkState;
  reply: Reply;
  view: CaseView;
}

/** What is known so far, and what it leaves. Beside the record on a desk, folded below it on a phone. */
export function Evidence({ talk, state, reply, view }: Props) {
  const { evidence, suspects, ask } = reply;
  return (
    <details id="evidence" class="evidence" ref={useOpenOnDesk()}>
      <summary>
        <h2>{word('evidence')}</h2>
        <span class="summary-count">{count(evidence.length, 'entry', 'entries')}</span>
      </summary>
      <ProgressCounts progress={reply.progress} />
      <Readings evidence={evidence} />
      <Suspects suspects={suspects} evidence={evidence} asked={ask?.check ?? ''} />
      <WhatItLeaves outlook={reply.outlook} />
      <CurvesSection curves={reply.curves} units={view.units} />
      <MachineForm talk={talk} busy={state.busy} view={view} />
    </details>
  );
}

/** Open where there is room beside the record, and whenever a window becomes wide enough. */
function useOpenOnDesk(): RefObject<HTMLDetailsElement | null> {
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
  return panel;
}

/** What is left, in three numbers. */
function ProgressCounts({ progress: { suspectsLeft, checksLeft, minutesLeft } }: { progress: Progress }) {
  const checks = Math.ceil(checksLeft);
  return (
    <dl class="progress">
      <div>
        <dd>{suspectsLeft}</dd>
        <dt>{word(suspectsLeft === 1 ? 'suspect-left' : 'suspects-left')}</dt>
      </div>
      <div>
        <dd>{checks}</dd>
        <dt>{word(checks === 1 ? 'check-ahead' : 'checks-ahead')}</dt>
      </div>
      <div>
        <dd>{checks > 0 ? Math.max(1, Math.round(minutesLeft)) : 0}</dd>
        <dt>{word(checks > 0 ? 'min-left-about' : 'min-left')}</dt>
      </div>
    </dl>
  );
}

/** Newest first: the reading just given is the one looked for. What was only noted is folded below. */
function Readings({ evidence }: { evidence: EvidenceRow[] }) {
  const judged = evidence.filter((row) => row.verdict !== 'noted' || row.expected).toReversed();
  const noted = evidence.filter((row) => !judged.includes(row));
  return (
    <section aria-labelledby="readings">
      <h3 id="readings">{word('readings')}</h3>
      {judged.length === 0 && <p class="nothing">{word('no-reading')}</p>}
      <ul class="rows">
        {judged.map((row) => (
          <ReadingRow key={row.seq} row={row} />
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
  );
}
