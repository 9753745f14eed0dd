import type { Progress } from '../../server/types.ts';
import { word } from '../say.ts';
import { count, minutes } from '../words.ts';

/** How much is left, and the way to the evidence. A button, not a link: the hash holds the route. */
export const ToEvidence = ({ progress: { suspectsLeft, checksLeft, minutesLeft } }: { progress: Progress }) => (
  <p class="to-evidence">
    <button type="button" class="text-button" onClick={toEvidence}>
      {word('left-after', { what: count(suspectsLeft, 'suspect', 'suspects-n') })}
      {checksLeft > 0 && word('to-go', { minutes: minutes(minutesLeft) })}
    </button>
  </p>
);

function toEvidence() {
  const panel = document.querySelector<HTMLDetailsElement>('#evidence');
  if (!panel) return;
  panel.open = true;
  panel.scrollIntoView({ block: 'start' });
  panel.querySelector('summary')?.focus({ preventScroll: true });
}
