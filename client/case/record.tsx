import type { CaseView, Reply } from '../../server/types.ts';
import { SheetSoFar } from '../agent/sheet-so-far.tsx';
import { Evidence } from '../evidence/evidence.tsx';
import { word } from '../say.ts';
import { Column } from './column.tsx';
import { useAnswerKeys } from './keys.ts';
import { recordNow } from './record-now.ts';
import type { Talk, TalkState } from './talk.ts';
import { Trouble } from './trouble.tsx';
import { useSpeak } from './use-speak.ts';
import { useTalk } from './use-talk.ts';

/** A case: the record with its open question, and the evidence beside it. */
export function Record({ id, above }: { id: string; above?: unknown }) {
  const [talk, state] = useTalk(id);
  useSpeak(state.view);
  useAnswerKeys();
  const { reply, view } = state;
  if (!reply || !view) return whileFetching(talk, state);
  const now = recordNow(reply, view, state.outcome);
  const stopped = now.stops.length > 0;
  return (
    <main
      id="record"
      class={stopped ? 'case stopped' : 'case'}
      tabindex={-1}
      aria-busy={state.busy ? 'true' : 'false'}
      data-rev={view.rev}
    >
      <h1 class="unseen">{word('case-number', { id: id.slice(0, 6) })}</h1>
      <Column talk={talk} state={state} reply={reply} view={view} now={now} above={above} />
      {(!stopped || view.audience === 'agent') && (
        <Beside talk={talk} state={state} reply={reply} view={view} stopped={stopped} />
      )}
    </main>
  );
}

/** Not a component: the page's main element stays the same one when the case comes, and keeps the focus it has. */
const whileFetching = (talk: Talk, state: TalkState) => (
  <main id="record" class="sheet-of-paper" tabindex={-1}>
    <h1>{word('case')}</h1>
    {state.trouble ? (
      <Trouble text={state.trouble} onTry={state.gone ? undefined : () => void talk.load()} />
    ) : (
      <p>{word('fetching-case')}</p>
    )}
  </main>
);

interface BesideProps {
  talk: Talk;
  state: TalkState;
  reply: Reply;
  view: CaseView;
  stopped: boolean;
}
/** Beside the record: for an agent the sheet as it fills, and the evidence while no stop stands. */
const Beside = ({ talk, state, reply, view, stopped }: BesideProps) => (
  <div class="beside">
    {view.audience === 'agent' && <SheetSoFar key={`${talk.id}-sheet`} talk={talk} rev={view.rev} />}
    {!stopped && <Evidence key={talk.id} talk={talk} state={state} reply={reply} view={view} />}
  </div>
);
