import { Mark } from '../mark.tsx';
import { SHAPES, sentence } from '../words.ts';
import type { LastReading } from './last-readings.ts';

/** The readings judged last on this device. */
export const LastList = ({ last, onClear }: { last: readonly LastReading[]; onClear: () => void }) => (
  <section aria-labelledby="last-readings">
    <h2 id="last-readings">Last readings</h2>
    <ul class="last-readings">
      {last.map((reading) => (
        <li>
          <span class="row-label">{reading.label}</span>
          <span class="row-shown">{reading.shown}</span>
          <span class="verdict">
            <Mark is={SHAPES[reading.verdict].shape} />
            {sentence(reading.verdictWords)}
          </span>
          {reading.expectedShown && <span class="expected">expected {reading.expectedShown}</span>}
        </li>
      ))}
    </ul>
    <button type="button" class="plain-button" onClick={onClear}>
      Clear this list
    </button>
  </section>
);
