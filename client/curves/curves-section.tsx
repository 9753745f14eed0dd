import { useEffect, useState } from 'hono/jsx/dom';
import type { Reply } from '../../server/types.ts';
import { word } from '../say.ts';
import type { Units } from '../types.ts';

type Loaded = typeof import('./charts-panel.tsx');

/** The curves that what was read or is asked concerns. Fetched when the first one is there to be drawn. */
export function CurvesSection({ curves, units }: { curves: Reply['curves']; units: Units }) {
  const [panel, setPanel] = useState<Loaded | 'none' | undefined>(undefined);
  const any = curves !== undefined && Object.keys(curves).length > 0;
  useEffect(() => {
    if (!any) return;
    let here = true;
    import('./charts-panel.tsx').then(
      (loaded) => here && setPanel(loaded),
      () => here && setPanel('none'),
    );
    return () => {
      here = false;
    };
  }, [any]);
  if (!any) return null;
  return (
    <section class="curves" aria-labelledby="curves">
      <h3 id="curves">{word('curves')}</h3>
      {panel === 'none' && <p class="nothing">{word('curves-missing')}</p>}
      {panel === undefined && <p class="nothing">{word('drawing')}</p>}
      {typeof panel === 'object' && <panel.Charts curves={curves} units={units} />}
    </section>
  );
}
