import { useState } from 'hono/jsx/dom';
import type { SuspectRow } from '../../server/types.ts';
import { sentence, shareWords } from '../words.ts';

const FIRST = 6;

/** What may still be at fault, likeliest first. Each opens to what speaks for it and against it. */
export function Suspects({ suspects }: { suspects: SuspectRow[] }) {
  const [all, setAll] = useState(false);
  const live = suspects.filter((suspect) => suspect.live).toSorted((a, b) => b.share - a.share);
  const out = suspects.filter((suspect) => !suspect.live);
  const shown = all ? live : live.slice(0, FIRST);
  return (
    <section aria-labelledby="suspects">
      <h3 id="suspects">Suspects</h3>
      <ul class="rows suspects">
        {shown.map((suspect) => (
          <li key={suspect.faults.join('+') || 'other'}>
            <details class="opens suspect">
              <summary>
                <span class="row-label">{sentence(suspect.label)}</span>
                <span class="share">{shareWords(suspect.share)}</span>
                <svg class="bar" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true">
                  <rect class="bar-whole" width="100" height="4" />
                  <rect class="bar-share" width={Math.max(0.5, Math.round(suspect.share * 1000) / 10)} height="4" />
                </svg>
              </summary>
              <Speaks title="Speaks for it" shape="+" texts={suspect.for} none="Nothing in particular yet." />
              <Speaks title="Speaks against it" shape="−" texts={suspect.against} none="Nothing so far." />
            </details>
          </li>
        ))}
      </ul>
      {live.length > FIRST && (
        <button type="button" class="plain-button" aria-expanded={all ? 'true' : 'false'} onClick={() => setAll(!all)}>
          {all ? 'Show the likeliest only' : `Show all ${live.length}`}
        </button>
      )}
      {out.length > 0 && (
        <details class="noted">
          <summary>Ruled out so far: {out.length}</summary>
          <ul class="ruled-out">
            {out.map((suspect) => (
              <li>
                {sentence(suspect.label)}
                {suspect.against[0] && <span class="against"> {suspect.against[0]}</span>}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

const Speaks = ({ title, shape, texts, none }: { title: string; shape: string; texts: string[]; none: string }) => (
  <div class="speaks">
    <p class="tag">{title}</p>
    {texts.length === 0 ? (
      <p class="nothing">{none}</p>
    ) : (
      <ul>
        {texts.map((text) => (
          <li>
            <span class="shape" aria-hidden="true">
              {shape}
            </span>
            {text}
          </li>
        ))}
      </ul>
    )}
  </div>
);
