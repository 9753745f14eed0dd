import { useEffect, useRef, useState } from 'hono/jsx/dom';
import type { Talk } from '../case/talk.ts';
import { useSpeak } from '../case/use-speak.ts';
import { useTalk } from '../case/use-talk.ts';
import { lastCase } from '../kept.ts';
import { Prose } from '../markdown.tsx';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { sizeForOnePage } from '../sheet/fit-page.ts';
import { JobForm } from '../sheet/job-form.tsx';
import { sections } from '../sheet/sections.ts';
import { type FilledSheet, useSheet } from '../sheet/use-sheet.ts';
import { troubleWords } from '../words.ts';

/** The job sheet: to write in, to print on one page, to copy into another program, to keep. */
export function Sheet({ id = lastCase()?.id }: { id?: string }) {
  if (!id)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>{word('sheet')}</h1>
        <p>
          {word('no-case-yet')} <a href={hashOf({ at: 'start' })}>{word('no-case-open')}</a>
          {word('no-case-rest')}
        </p>
      </main>
    );
  return <SheetOf id={id} />;
}

function SheetOf({ id }: { id: string }) {
  const [talk, state] = useTalk(id);
  useSpeak(state.view);
  const sheet = useSheet(id, state.view?.rev);
  const failure = sheet.failure ?? (state.gone ? ({ is: 'gone' } as const) : undefined);
  return (
    <main id="record" class="sheet-of-paper job-sheet" tabindex={-1}>
      <h1 class="unseen">{word('sheet')}</h1>
      <SheetTools id={id} sheet={sheet} />
      {failure && (
        <p class="trouble" role="alert">
          {troubleWords(failure)}
        </p>
      )}
      {!sheet.markdown && !failure && <p>{word('fetching-sheet')}</p>}
      {sheet.json && <Written talk={talk} sheet={sheet} />}
      {sheet.markdown && <Text sheet={sheet} />}
    </main>
  );
}

/** The sheet to read, and to print in the largest letters that leave it one page. */
function Text({ sheet: { json, markdown } }: { sheet: FilledSheet }) {
  const text = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState('');
  const parts = sections(markdown);
  useEffect(() => {
    let wanted = true;
    void sizeForOnePage(text.current!).then((fitting) => wanted && setSize(fitting));
    return () => {
      wanted = false;
    };
  }, [markdown]);
  return (
    <section class="sheet-scroll" aria-label={word('sheet-text')} tabindex={0}>
      <div class={`sheet-text ${size}`} ref={text}>
        {parts.map((part) => {
          const letter = part === parts.at(-1) && json?.letter;
          return (
            <section
              key={part.title}
              class={letter ? 'sheet-part letter' : part.markdown.includes('\n| ') ? 'sheet-part wide' : 'sheet-part'}
            >
              <Prose text={part.markdown} />
            </section>
          );
        })}
      </div>
    </section>
  );
}

function Written({ talk, sheet }: { talk: Talk; sheet: FilledSheet }) {
  return (
    <section class="written-in" aria-labelledby="written-in">
      <h2 id="written-in">{word('write-in')}</h2>
      <JobForm talk={talk} blocks={sheet.json?.job ?? []} />
    </section>
  );
}

function SheetTools({ id, sheet: { json, markdown } }: { id: string; sheet: FilledSheet }) {
  const [copied, setCopied] = useState('');
  const copying = (text: string, what: string) => async () =>
    setCopied((await copy(text)) ? word('copied', { what }) : word('not-copied'));
  const name = `job-sheet-${id.slice(0, 6)}`;
  return (
    <p class="sheet-tools">
      <a href={hashOf({ at: 'case', id })}>{word('back-to-case')}</a>
      <button type="button" class="plain-button" disabled={!markdown} onClick={() => print()}>
        {word('print')}
      </button>
      <button type="button" class="plain-button" disabled={!markdown} onClick={copying(markdown, word('sheet-word'))}>
        {word('copy-text')}
      </button>
      {json?.letter && (
        <button
          type="button"
          class="plain-button"
          onClick={copying(sections(markdown).at(-1)?.markdown ?? '', word('letter-word'))}
        >
          {word('copy-letter')}
        </button>
      )}
      <button
        type="button"
        class="plain-button"
        disabled={!markdown}
        onClick={() => download(`${name}.md`, 'text/markdown', markdown)}
      >
        {word('download-markdown')}
      </button>
      <button
        type="button"
        class="plain-button"
        disabled={!json}
        onClick={() => download(`${name}.json`, 'application/json', `${JSON.stringify(json, null, 2)}\n`)}
      >
        {word('download-json')}
      </button>
      <span role="status">{copied}</span>
    </p>
  );
}

/** Made on the page, not fetched by a link: a download does not ask the offline worker. */
function download(name: string, type: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
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
