import { useEffect, useRef } from 'hono/jsx/dom';
import type { Talk } from '../case/talk.ts';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { JobForm } from '../sheet/job-form.tsx';
import { useSheet } from '../sheet/use-sheet.ts';
import { sentence } from '../words.ts';

/** The job sheet filling beside the talk: what is known by now, and the fields only a person can fill. */
export function SheetSoFar({ talk, rev }: { talk: Talk; rev: number }) {
  const { json } = useSheet(talk.id, rev);
  const panel = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (panel.current) panel.current.open = matchMedia('(min-width: 60rem)').matches;
  }, [json === undefined]);
  if (!json) return null;
  const told = json.readings.filter((r) => !json.measured.includes(r));
  const rows: [string, string][] = [
    [word('so-far-complaint'), json.complaint.families.map(({ title }) => title).join('; ')],
    [word('so-far-danger'), json.safety.stops.map(({ words }) => words).join('; ') || json.safety.everStopped.join('; ')],
    [word('so-far-none'), json.safety.clear.map(sentence).join('; ')],
    [word('so-far-told'), told.map(({ label, shown }) => `${label}: ${shown}`).join('; ')],
    [word('so-far-unsure'), json.skipped.join('; ')],
    [word('so-far-who'), json.visit?.trades.map(sentence).join(`${word('then')} `) ?? ''],
    [word('so-far-soon'), json.visit?.priority ?? ''],
    [word('so-far-meanwhile'), json.visit?.mayUse ?? ''],
    [word('so-far-parts'), json.visit?.parts.join(', ') ?? ''],
  ];
  return (
    <details class="so-far" ref={panel}>
      <summary>
        <h2>{word('sheet-so-far')}</h2>
      </summary>
      <dl class="so-far-rows">
        {rows
          .filter(([, text]) => text)
          .map(([label, text]) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>{text}</dd>
            </div>
          ))}
      </dl>
      <JobForm talk={talk} blocks={json.job} open="contact" />
      <p>
        <a href={hashOf({ at: 'sheet', id: talk.id })}>{word('whole-sheet')}</a>
      </p>
    </details>
  );
}
