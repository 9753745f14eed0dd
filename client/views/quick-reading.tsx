import { useEffect } from 'hono/jsx/dom';
import type { CatalogueCheck } from '../../server/conversation-port.ts';
import { JudgedReading } from '../quick/judged-reading.tsx';
import { LastList } from '../quick/last-list.tsx';
import { LineForm } from '../quick/line-form.tsx';
import type { Match } from '../quick/match.ts';
import { PickForm } from '../quick/pick-form.tsx';
import { useJudging } from '../quick/use-judging.ts';
import { type QuickParts, useQuickParts } from '../quick/use-quick-parts.ts';
import { speak } from '../say.ts';

/** One reading judged now, without a case. */
export function QuickReading() {
  const { parts, trouble, fetchAgain } = useQuickParts();
  // What a reading is judged with is a technician's, in English.
  useEffect(() => void speak('en'), []);
  const checks = parts?.catalogue.checks.filter((check) => check.reads.length > 0) ?? [];
  return (
    <main id="record" class={checks.length > 0 ? 'sheet-of-paper quick' : 'sheet-of-paper'} tabindex={-1}>
      <h1>One reading</h1>
      {!parts && <Fetching trouble={trouble} onAgain={fetchAgain} />}
      {parts && checks.length === 0 && <p>There is no check a single reading can be judged for.</p>}
      {parts && checks.length > 0 && <Judge parts={parts} checks={checks} />}
    </main>
  );
}

const Fetching = ({ trouble, onAgain }: { trouble: string; onAgain: () => void }) =>
  trouble ? (
    <p class="trouble" role="alert">
      {trouble}{' '}
      <button type="button" class="plain-button" onClick={onAgain}>
        Try again
      </button>
    </p>
  ) : (
    <p>Fetching the list of checks …</p>
  );

/** The reading told in one line or picked from lists, and what it was judged to be. `checks`: those with a reading; at least one. */
function Judge({ parts: { catalogue, readLine }, checks }: { parts: QuickParts; checks: readonly CatalogueCheck[] }) {
  const judging = useJudging();
  const { trouble, which, judged, last } = judging;
  return (
    <>
      <p class="lead">Judged against what this plate, this meter and the supply allow. No case is opened.</p>
      <LineForm onLine={(text) => judging.judgeLine(text, (line) => readLine(line, catalogue))} />
      {trouble && (
        <p class="field-error" role="alert">
          {trouble}
        </p>
      )}
      {which.length > 0 && <WhichOne of={which} onPick={judging.pick} />}
      {judged && <JudgedReading judged={judged} />}
      {last.length > 0 && <LastList last={last} onClear={judging.clearLast} />}
      <h2 class="or-pick">Or pick the check</h2>
      <PickForm catalogue={catalogue} checks={checks} judging={judging} />
    </>
  );
}

const WhichOne = ({ of, onPick }: { of: readonly Match[]; onPick: (match: Match) => void }) => (
  <fieldset class="which" aria-label="Which one was read?">
    <p>Which one was read?</p>
    {of.map((match) => (
      <button type="button" class="plain-button" onClick={() => onPick(match)}>
        {match.read.label}
      </button>
    ))}
  </fieldset>
);
