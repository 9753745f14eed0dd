import { useEffect, useRef, useState } from 'hono/jsx/dom';
import type { Part } from '../../server/types.ts';
import { CallBar } from '../agent/call-bar.tsx';
import { SheetSoFar } from '../agent/sheet-so-far.tsx';
import { Evidence } from '../evidence/evidence.tsx';
import { Prose } from '../markdown.tsx';
import { ConflictPanel } from '../offline/conflict-panel.tsx';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { count, minutes, shownOf } from '../words.ts';
import { Dock } from './dock.tsx';
import { useAnswerKeys } from './keys.ts';
import { Ledger } from './ledger.tsx';
import { Question } from './question.tsx';
import { StopPanel } from './stop-panel.tsx';
import { Trouble } from './trouble.tsx';
import { useSpeak } from './use-speak.ts';
import { useTalk } from './use-talk.ts';

/** A case: the record with its open question, and the evidence beside it. */
export function Record({ id, above }: { id: string; above?: unknown }) {
  const [talk, state] = useTalk(id);
  useSpeak(state.view);
  const [open, setOpen] = useState(0);
  const [whyFor, setWhyFor] = useState('');
  useAnswerKeys();
  useEffect(() => setOpen(0), [state.turns]);
  const { reply, view } = state;
  if (!reply || !view)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>{word('case')}</h1>
        {state.trouble ? (
          <Trouble text={state.trouble} onTry={state.gone ? undefined : () => void talk.load()} />
        ) : (
          <p>{word('fetching-case')}</p>
        )}
      </main>
    );
  const { ask } = reply;
  const of = (...kinds: Part['kind'][]) => reply.parts.filter((part) => kinds.includes(part.kind));
  const stops = of('stop');
  const lines = view.answers.map((line) => ({ ...line, shown: shownOf(line) }));
  const outcome = stops.length > 0 ? of('conclude', 'refer') : state.outcome;
  const cautions = [...new Set([...of('caution').map((part) => part.text), ...(ask?.cautions ?? [])])];
  // The same question stays the same form, with what is half typed in it, while something else is talked about.
  const askKey = ask ? [ask.check, ask.of, ...ask.reads.map((read) => read.fact), ask.choices.length].join('/') : '';
  const number = lines.length + 1;
  const dockShown = stops.length === 0 || ask !== undefined;
  const dock = (
    <Dock
      talk={talk}
      state={state}
      ask={ask}
      whyOpen={whyFor === askKey && ask !== undefined}
      onWhy={() => setWhyFor(whyFor === askKey ? '' : askKey)}
    />
  );
  return (
    <main
      id="record"
      class={stops.length > 0 ? 'case stopped' : 'case'}
      tabindex={-1}
      aria-busy={state.busy ? 'true' : 'false'}
      data-rev={view.rev}
    >
      <h1 class="unseen">{word('case-number', { id: id.slice(0, 6) })}</h1>
      <div class="column">
        {above}
        {view.audience === 'agent' && <CallBar key={id} id={id} lines={lines} />}
        <ConflictPanel talk={talk} state={state} />
        {stops.length > 0 && <StopPanel talk={talk} state={state} stops={stops} />}
        <Ledger talk={talk} state={state} lines={lines} open={open} onOpen={setOpen} readOnly={stops.length > 0} />
        <Outcomes parts={outcome} turns={ask || stops.length > 0 ? 0 : state.turns} />
        {stops.length === 0 && outcome.length > 0 && (
          <p class="outcome-sheet">
            <a href={hashOf({ at: 'sheet', id })}>{word('sheet-for-case')}</a>
            <a href={hashOf({ at: 'start' })}>{word('another-case')}</a>
          </p>
        )}
        {state.trouble && !dockShown && (
          <Trouble
            text={state.trouble}
            onSend={state.unsent?.now ? () => void state.unsent?.again() : undefined}
            onClose={talk.quiet}
          />
        )}
        {!ask && of('ask').map((part) => <Prose text={part.text} class="said-question" />)}
        {!ask && stops.length === 0 && cautions.map((text) => <Prose text={text} class="caution-alone" />)}
        {stops.length === 0 && (
          <p class="to-evidence">
            <button type="button" class="text-button" onClick={toEvidence}>
              {word('left-after', { what: count(reply.progress.suspectsLeft, 'suspect', 'suspects-n') })}
              {reply.progress.checksLeft > 0 && word('to-go', { minutes: minutes(reply.progress.minutesLeft) })}
            </button>
          </p>
        )}
        {ask && (
          <Question
            key={askKey}
            ask={ask}
            number={number}
            cautions={cautions}
            units={view.units}
            busy={state.busy}
            againOf={ask.of === undefined ? undefined : lines.findIndex((line) => line.seq === ask.of) + 1}
            turns={state.turns}
            onAnswer={(answers) => void talk.answer(answers)}
          />
        )}
        {dockShown && dock}
      </div>
      {(stops.length === 0 || view.audience === 'agent') && (
        <div class="beside">
          {view.audience === 'agent' && <SheetSoFar key={`${id}-sheet`} talk={talk} rev={view.rev} />}
          {stops.length === 0 && <Evidence key={id} talk={talk} state={state} reply={reply} view={view} />}
        </div>
      )}
    </main>
  );
}

/** A button, not a link: the hash holds the route. */
function toEvidence() {
  const panel = document.querySelector<HTMLDetailsElement>('#evidence');
  if (!panel) return;
  panel.open = true;
  panel.scrollIntoView({ block: 'start' });
  panel.querySelector('summary')?.focus({ preventScroll: true });
}

/** What the case came to. Once nothing is left to ask, focus comes here instead of to a question. */
function Outcomes({ parts, turns }: { parts: Part[]; turns: number }) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    if (turns === 0) return;
    box.current?.focus({ preventScroll: true });
    box.current?.scrollIntoView({ block: 'start' });
  }, [turns]);
  if (parts.length === 0) return null;
  return (
    <section class="outcomes" aria-label={word('outcome')} tabindex={-1} ref={box}>
      {parts.map((part) => (
        <div class={`outcome ${part.kind}`}>
          <p class="tag">{word(part.kind === 'refer' ? 'who-next' : 'outcome')}</p>
          <Prose text={part.text} />
        </div>
      ))}
    </section>
  );
}
