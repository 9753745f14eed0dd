import { useEffect, useState } from 'hono/jsx/dom';
import { describe } from './describe.ts';
import type { Wiring } from './types.ts';
import './panel.css';

type Drawn = typeof import('./picture.tsx').Picture;

/** Where the leads go: first in words, then drawn. The drawing comes when it is needed; the words are there without it. */
export function WiringPanel({ wiring }: { wiring: Wiring }) {
  const [picture, setPicture] = useState<{ Picture: Drawn } | 'none' | undefined>(undefined);
  useEffect(() => {
    let here = true;
    import('./picture.tsx').then(
      (loaded) => here && setPicture(loaded),
      () => here && setPicture('none'),
    );
    return () => {
      here = false;
    };
  }, []);
  const { first, places, live, path, suspects } = describe(wiring);
  return (
    <details class="wiring" open>
      <summary>
        <h3>Where the leads go</h3>
      </summary>
      <ul class="wiring-first">
        {first.map((text) => (
          <li>{text}</li>
        ))}
      </ul>
      <dl class="wiring-places">
        {places.map(({ label, words }) => (
          <div>
            <dt>{label}</dt>
            {words.map((text) => (
              <dd>{text}</dd>
            ))}
          </div>
        ))}
      </dl>
      {picture === 'none' && <p class="nothing">The drawing could not be fetched. The words above hold without it.</p>}
      {picture === undefined && <p class="nothing">Drawing …</p>}
      {typeof picture === 'object' && <picture.Picture wiring={wiring} />}
      <details class="noted">
        <summary>The picture in words</summary>
        <WordList title="Live now" texts={live} none="Nothing, as long as the plug is out." />
        <WordList title="Current should flow through" texts={path} none="Nothing in this state, as far as a clamp can tell." />
        <WordList title="Suspects on it" texts={suspects} none="None of those left lies on this circuit." />
      </details>
    </details>
  );
}

const WordList = ({ title, texts, none }: { title: string; texts: string[]; none: string }) => (
  <div class="speaks">
    <p class="tag">{title}</p>
    {texts.length === 0 ? (
      <p class="nothing">{none}</p>
    ) : (
      <ul>
        {texts.map((text) => (
          <li>{text}</li>
        ))}
      </ul>
    )}
  </div>
);
