import { useEffect } from 'hono/jsx/dom';
import type { Catalogue } from '../../server/conversation-port.ts';
import { JudgedReading } from '../quick/judged-reading.tsx';
import { LastList } from '../quick/last-list.tsx';
import { LineForm } from '../quick/line-form.tsx';
import { PickForm } from '../quick/pick-form.tsx';
import type { Match } from '../quick/read-line.ts';
import { useCatalogue } from '../quick/use-catalogue.ts';
import { useJudging } from '../quick/use-judging.ts';
import { speak } from '../say.ts';

/** One reading judged now, without a case. */
export function QuickReading() {
  const { catalogue, trouble, fetchAgain } = useCatalogue();
  // What a reading is judged with is a technician's, in English.
  useEffect(() => void speak('en'), []);
  if (catalogue) return <WithCatalogue catalogue={catalogue} />;
  return (
    <main id="record" class="sheet-of-paper" tabindex={-1}>
      <h1>One reading</h1>
      {trouble ? (
        <p class="trouble" role="alert">
          {trouble}{' '}
          <button type="button" class="plain-button" onClick={fetchAgain}>
            Try again
          </button>
        </p>
      ) : (
        <p>Fetching the list of checks …</p>
      )}
    </main>
  );
}

function WithCatalogue({ catalogue }: { catalogue: Catalogue }) {
  const judging = useJudging();
  const checks = catalogue.checks.filter((check) => check.reads.length > 0);
  if (checks.length === 0)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>One reading</h1>
        <p>There is no check a single reading can be judged for.</p>
      </main>
    );
  const { trouble, which, judged, last } = judging;
  return (
    <main id="record" class="sheet-of-paper quick" tabindex={-1}>
      <h1>One reading</h1>
      <p class="lead">Judged against what this plate, this meter and the supply allow. No case is opened.</p>
      <LineForm onLine={(text) => judging.judgeLine(text, catalogue)} />
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
    </main>
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
