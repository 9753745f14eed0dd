import type { EvidenceRow } from '../../server/types.ts';
import { Mark } from '../mark.tsx';
import { word } from '../say.ts';
import { SHAPES, sentence } from '../words.ts';
import { brief, Gauge } from './gauge.tsx';

const STANDING = { single: undefined, agreed: 'read-twice', doubted: 'in-doubt' } as const;

/** One reading judged; it opens to why, and to the sources. */
export const ReadingRow = ({ row }: { row: EvidenceRow }) => {
  const { tone } = SHAPES[row.verdict];
  const standing = STANDING[row.standing];
  return (
    <li class={`row ${tone}`}>
      <details class="opens">
        <summary>
          <span class="row-label">{row.label}</span>
          <span class="row-shown">{row.shown}</span>
          <Verdict row={row} />
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

/** The verdict in a word and a shape, with the band it was held against. */
const Verdict = ({ row }: { row: EvidenceRow }) => (
  <span class="row-verdict">
    <span class="verdict">
      <Mark is={SHAPES[row.verdict].shape} />
      {sentence(row.verdictWords)}
    </span>
    {row.expected && (
      <Gauge value={row.value} shown={row.shown} band={row.expected} bandShown={row.expectedShown ?? ''} meter={row.meter} />
    )}
    {row.expectedShown && (
      <span class="expected">
        <span class="unseen">{word('expected')} </span>
        {row.expectedShown}
      </span>
    )}
  </span>
);
