import { useRef, useState } from 'hono/jsx/dom';
import type { EvidenceRow, SuspectRow } from '../../server/types.ts';
import { Mark } from '../mark.tsx';
import { word } from '../say.ts';
import { sentence, shareWords } from '../words.ts';
import { justOut, keyOf, type Moved, moved, type Spoken, speaks } from './speaks.ts';

const FIRST = 6;

interface Props {
  suspects: SuspectRow[];
  evidence: EvidenceRow[];
  /** The open question; one visit may give several readings under it. */
  asked: string;
}

/** What may still be at fault, likeliest first. Each opens to what speaks for it and against it. Bars move with each answer. */
export function Suspects({ suspects, evidence, asked }: Props) {
  const [all, setAll] = useState(false);
  const before = useBefore(suspects, asked);
  const live = suspects.filter((suspect) => suspect.live).toSorted((a, b) => b.share - a.share);
  const out = suspects.filter((suspect) => !suspect.live);
  const shown = all ? live : live.slice(0, FIRST);
  return (
    <section aria-labelledby="suspects">
      <h3 id="suspects">{word('suspects')}</h3>
      <ul class="rows suspects">
        {shown.map((suspect) => (
          <li key={keyOf(suspect)}>
            <Suspect suspect={suspect} move={moved(suspect, before)} evidence={evidence} />
          </li>
        ))}
      </ul>
      {live.length > FIRST && (
        <button type="button" class="plain-button" aria-expanded={all ? 'true' : 'false'} onClick={() => setAll(!all)}>
          {all ? word('likeliest-only') : word('show-all', { n: live.length })}
        </button>
      )}
      {out.length > 0 && <RuledOut out={out} before={before} evidence={evidence} />}
    </section>
  );
}

interface SuspectProps {
  suspect: SuspectRow;
  move: Moved | undefined;
  evidence: EvidenceRow[];
}
/** One suspect with its share; it opens to what speaks for it and against it. */
const Suspect = ({ suspect, move, evidence }: SuspectProps) => (
  <details class="opens suspect">
    <summary>
      <span class="row-label">{sentence(suspect.label)}</span>
      <span class="share">{shareWords(suspect.share)}</span>
      {move && (
        <span class="moved">
          <Mark is={move.up ? 'up' : 'down'} />
          {word(move.up ? 'up-from' : 'down-from')} {shareWords(move.from)}
        </span>
      )}
      <ShareBar share={suspect.share} move={move} />
    </summary>
    <Speaks title={word('speaks-for')} shape="+" said={speaks(suspect, evidence, 'for')} none={word('speaks-for-none')} />
    <Speaks
      title={word('speaks-against')}
      shape="−"
      said={speaks(suspect, evidence, 'against')}
      none={word('speaks-against-none')}
    />
  </details>
);

/** In hundredths of the bar, to a tenth. */
const hundredths = (share: number) => Math.round(share * 1000) / 10;

const ShareBar = ({ share, move }: { share: number; move: Moved | undefined }) => (
  <svg class="bar" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
    <rect class="bar-whole" width="100" height="4" />
    <rect class="bar-share" width={Math.max(0.5, hundredths(share))} height="4" />
    {move && <rect class="bar-was" x={Math.max(0, hundredths(move.from) - 0.5)} width="1" height="4" />}
  </svg>
);

interface OutProps {
  out: SuspectRow[];
  before: SuspectRow[] | undefined;
  evidence: EvidenceRow[];
}
/** Those that are out, the newest first, and what speaks against each. */
const RuledOut = ({ out, before, evidence }: OutProps) => (
  <details class="noted">
    <summary>{word('ruled-out', { n: out.length })}</summary>
    <ul class="ruled-out">
      {out
        .toSorted((a, b) => Number(justOut(b, before)) - Number(justOut(a, before)))
        .map((suspect) => (
          <li key={keyOf(suspect)}>
            {sentence(suspect.label)}
            {justOut(suspect, before) && <span class="tag"> {word('just-now')}</span>}
            {speaks(suspect, evidence, 'against').map((said) => (
              <span class="against"> {inWords(said)}</span>
            ))}
          </li>
        ))}
    </ul>
  </details>
);

/** The list as it was when the question before this one was put: several readings of one visit are one step. */
function useBefore(suspects: SuspectRow[], asked: string): SuspectRow[] | undefined {
  const steps = useRef<{ asked: string; from: SuspectRow[]; before?: SuspectRow[] }>({ asked, from: suspects });
  if (steps.current && steps.current.asked !== asked) steps.current = { asked, from: suspects, before: steps.current.from };
  return steps.current?.before;
}

const inWords = ({ text, would }: Spoken) => (would ? `${text}${word('with-this-fault', { would })}.` : `${text}.`);

const Speaks = ({ title, shape, said, none }: { title: string; shape: string; said: Spoken[]; none: string }) => (
  <div class="speaks">
    <p class="tag">{title}</p>
    {said.length === 0 ? (
      <p class="nothing">{none}</p>
    ) : (
      <ul>
        {said.map((one) => (
          <li>
            <span class="shape" aria-hidden="true">
              {shape}
            </span>
            {inWords(one)}
          </li>
        ))}
      </ul>
    )}
  </div>
);
