import { useEffect, useState } from 'hono/jsx/dom';
import type { CaseView, Reply } from '../../server/types.ts';
import { CallBar } from '../agent/call-bar.tsx';
import { Prose } from '../markdown.tsx';
import { ConflictPanel } from '../offline/conflict-panel.tsx';
import { Dock } from './dock.tsx';
import { Ledger } from './ledger.tsx';
import { AfterOutcome, Outcomes } from './outcomes.tsx';
import { Question } from './question.tsx';
import type { RecordNow } from './record-now.ts';
import { StopPanel } from './stop-panel.tsx';
import type { Talk, TalkState } from './talk.ts';
import { ToEvidence } from './to-evidence.tsx';
import { UnsentTrouble } from './trouble.tsx';

interface Props {
  talk: Talk;
  state: TalkState;
  reply: Reply;
  view: CaseView;
  now: RecordNow;
  /** What stands over the record of an invented talk. */
  above?: unknown;
}

/** The record from top to bottom: the stop or what was told so far, what it came to, the open question, and the dock. */
export function Column({ talk, state, reply, view, now, above }: Props) {
  const [open, setOpen] = useState(0);
  const [whyFor, setWhyFor] = useState('');
  useEffect(() => setOpen(0), [state.turns]);
  const { stops, lines, outcome, cautions, askKey } = now;
  const { ask, progress } = reply;
  const stopped = stops.length > 0;
  const dockShown = !stopped || ask !== undefined;
  return (
    <div class="column">
      {above}
      {view.audience === 'agent' && <CallBar key={talk.id} id={talk.id} lines={lines} />}
      <ConflictPanel talk={talk} state={state} />
      {stopped && <StopPanel talk={talk} state={state} stops={stops} />}
      <Ledger talk={talk} state={state} lines={lines} open={open} onOpen={setOpen} readOnly={stopped} />
      <Outcomes parts={outcome} turns={ask || stopped ? 0 : state.turns} />
      {!stopped && outcome.length > 0 && <AfterOutcome id={talk.id} />}
      {state.trouble && !dockShown && <UnsentTrouble talk={talk} state={state} text={state.trouble} />}
      {!ask && now.asked.map((part) => <Prose text={part.text} class="said-question" />)}
      {!ask && !stopped && cautions.map((text) => <Prose text={text} class="caution-alone" />)}
      {!stopped && <ToEvidence progress={progress} />}
      {ask && <Question key={askKey} talk={talk} state={state} ask={ask} now={now} units={view.units} />}
      {dockShown && (
        <Dock
          talk={talk}
          state={state}
          ask={ask}
          whyOpen={ask !== undefined && whyFor === askKey}
          onWhy={() => setWhyFor(whyFor === askKey ? '' : askKey)}
        />
      )}
    </div>
  );
}
