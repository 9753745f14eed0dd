import { useEffect, useState } from 'hono/jsx/dom';
import { sheetJsonLink, sheetMarkdown } from '../api.ts';
import { lastCase } from '../kept.ts';
import { Prose } from '../markdown.tsx';
import { hashOf } from '../route.ts';
import { troubleWords } from '../words.ts';

/** The job sheet: to print, to copy into another program, to keep. */
export function Sheet({ id = lastCase()?.id }: { id?: string }) {
  const [sheet, setSheet] = useState('');
  const [trouble, setTrouble] = useState('');
  const [copied, setCopied] = useState('');
  useEffect(() => {
    if (!id) return;
    void sheetMarkdown(id).then((got) => {
      if (got.ok) setSheet(got.value);
      else setTrouble(troubleWords(got.failure));
    });
  }, [id]);
  if (!id)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>Job sheet</h1>
        <p>
          There is no case yet. <a href={hashOf({ at: 'start' })}>Open one</a>, and its sheet fills as you go.
        </p>
      </main>
    );
  return (
    <main id="record" class="sheet-of-paper job-sheet" tabindex={-1}>
      <h1 class="unseen">Job sheet</h1>
      <p class="sheet-tools">
        <a href={hashOf({ at: 'case', id })}>Back to the case</a>
        <button type="button" class="plain-button" disabled={!sheet} onClick={() => print()}>
          Print
        </button>
        <button
          type="button"
          class="plain-button"
          disabled={!sheet}
          onClick={async () =>
            setCopied((await copy(sheet)) ? 'Copied.' : 'This browser does not let a page copy. Mark the text instead.')
          }
        >
          Copy as text
        </button>
        <a class="plain-button" href={sheetJsonLink(id)} download={`job-sheet-${id.slice(0, 6)}.json`}>
          Download JSON
        </a>
        <span role="status">{copied}</span>
      </p>
      {trouble && (
        <p class="trouble" role="alert">
          {trouble}
        </p>
      )}
      {!sheet && !trouble && <p>Fetching the sheet …</p>}
      {sheet && (
        <section class="sheet-scroll" aria-label="Text of the sheet" tabindex={0}>
          <Prose text={sheet} class="sheet-text" />
        </section>
      )}
    </main>
  );
}

/** The clipboard interface is missing where the page comes over plain http; the old command still works there. */
async function copy(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = document.createElement('textarea');
    area.value = text;
    area.setAttribute('aria-hidden', 'true');
    area.className = 'unseen';
    document.body.append(area);
    area.select();
    const done = document.execCommand('copy');
    area.remove();
    return done;
  }
}
