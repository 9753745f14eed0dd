import { useEffect, useRef } from 'hono/jsx/dom';
import type { Talk } from '../case/talk.ts';
import { hashOf } from '../route.ts';
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
    ['Complaint', json.complaint.families.map(({ title }) => title).join('; ')],
    ['Danger', json.safety.stops.map(({ words }) => words).join('; ') || json.safety.everStopped.join('; ')],
    ['Asked, none', json.safety.clear.map(sentence).join('; ')],
    ['Told', told.map(({ label, shown }) => `${label}: ${shown}`).join('; ')],
    ['Not sure', json.skipped.join('; ')],
    ['Who comes', json.visit?.trades.map(sentence).join(', then ') ?? ''],
    ['How soon', json.visit?.priority ?? ''],
    ['Meanwhile', json.visit?.mayUse ?? ''],
    ['Parts', json.visit?.parts.join(', ') ?? ''],
  ];
  return (
    <details class="so-far" ref={panel}>
      <summary>
        <h2>Job sheet so far</h2>
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
        <a href={hashOf({ at: 'sheet', id: talk.id })}>Whole sheet</a>
      </p>
    </details>
  );
}
