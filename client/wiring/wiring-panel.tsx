import { useEffect, useState } from 'hono/jsx/dom';
import { word } from '../say.ts';
import { describe } from './describe.ts';
import type { Wiring } from './types.ts';
import './panel.css';

type PictureComponent = typeof import('./picture.tsx').Picture;

/** Where the leads go: first in words, then drawn. The drawing comes when it is needed; the words are there without it. */
export function WiringPanel({ wiring }: { wiring: Wiring }) {
  const [picture, setPicture] = useState<{ Picture: PictureComponent } | 'none' | undefined>(undefined);
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
        <h3>{word('wiring-head')}</h3>
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
      {picture === 'none' && <p class="nothing">{word('wiring-missing')}</p>}
      {picture === undefined && <p class="nothing">{word('drawing')}</p>}
      {typeof picture === 'object' && <picture.Picture wiring={wiring} />}
      <details class="noted">
        <summary>{word('wiring-words')}</summary>
        <WordList title={word('wiring-live')} texts={live} none={word('wiring-live-none')} />
        <WordList title={word('wiring-path')} texts={path} none={word('wiring-path-none')} />
        <WordList title={word('wiring-suspects')} texts={suspects} none={word('wiring-suspects-none')} />
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
