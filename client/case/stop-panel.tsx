import { useEffect, useRef, useState } from 'hono/jsx/dom';
import type { Part } from '../../server/types.ts';
import { Prose } from '../markdown.tsx';
import { word } from '../say.ts';
import type { Line } from '../types.ts';
import { shownOf } from '../words.ts';
import { AskInStop } from './ask-in-stop.tsx';
import { Change } from './change.tsx';
import type { Talk, TalkState } from './talk.ts';

/**
 * A stop takes the whole width. What to do now is the only thing there, a field to ask about it, and the way back for
 * somebody who meant something else. Told once: the text stays the same node while the stop stands.
 */
export function StopPanel({ talk, state, stops }: { talk: Talk; state: TalkState; stops: Part[] }) {
  const [wrong, setWrong] = useState(0);
  const heading = useRef<HTMLElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const lines = (state.view?.answers ?? []).map((line) => ({ ...line, shown: shownOf(line) }));
  const held = state.reply?.stops ?? [];
  // What brought the stop on: the answers its rule saw, else the last turn.
  const saw = new Set(held.flatMap((stop) => stop.saw));
  const causes = causesOf(lines, saw);
  const maySay =
    state.view?.audience === 'technician' && held.length > 0 && held.every((stop) => stop.standsUntil === 'made safe');
  const opened = lines.find((line) => line.seq === wrong);
  return (
    <section class="stop" aria-labelledby="stop">
      <h2 id="stop" tabindex={-1} ref={heading}>
        <span class="stop-shape" aria-hidden="true" />
        {word('stop')}
      </h2>
      <div class="stop-text" role="alert">
        {stops.map((part) => (
          <Prose text={part.text} />
        ))}
      </div>
      {/* With a read-back open, its own field is there. */}
      {!state.reply?.ask && <AskInStop talk={talk} state={state} />}
      <div class="stop-wrong">
        {maySay && <MadeSafe talk={talk} busy={state.busy} />}
        {causes.map((line) => (
          <Cause line={line} isOpen={wrong === line.seq} onOpen={() => setWrong(wrong === line.seq ? 0 : line.seq)} />
        ))}
        {opened && (
          <Change
            key={wrong}
            line={opened}
            number={lines.indexOf(opened) + 1}
            talk={talk}
            state={state}
            units={state.view?.units ?? 'us'}
            onClose={() => setWrong(0)}
          />
        )}
      </div>
    </section>
  );
}

const MOST_CAUSES = 3;
/** The answers that brought a stop on: those its rule saw, else the last turn's. */
function causesOf(lines: Line[], saw: ReadonlySet<string>): Line[] {
  const named = lines.filter((line) => line.fact && saw.has(line.fact));
  if (named.length > 0) return named;
  const turn = lines.at(-1)?.turn;
  return lines.filter((line) => line.turn === turn).slice(-MOST_CAUSES);
}

const MadeSafe = ({ talk, busy }: { talk: Talk; busy: boolean }) => (
  <p class="made-safe">
    <button type="button" class="plain-button" disabled={busy} onClick={() => void talk.say('It is made safe')}>
      {word('made-safe')}
    </button>
  </p>
);

/** An answer that brought the stop on; it can be put right where it stands. */
const Cause = ({ line, isOpen, onOpen }: { line: Line; isOpen: boolean; onOpen: () => void }) => (
  <p>
    <span class="ledger-question">{line.label}</span> <strong class="shown">{line.shown}</strong>{' '}
    <button type="button" class="plain-button" aria-expanded={isOpen ? 'true' : 'false'} onClick={onOpen}>
      {word('correct-it')}
    </button>
  </p>
);
