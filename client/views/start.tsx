import { onEnter } from '../enter-key.ts';
import { lastCase } from '../kept.ts';
import { LANGUAGES } from '../language.ts';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { type Opening, useOpening } from '../start/use-opening.ts';
import { AUDIENCES, audienceMore, audienceTitle } from '../words.ts';

/** Who is there, and what the dryer does. The first words are the first turn of the case. */
export function Start() {
  const opening = useOpening();
  const last = lastCase();
  const submit = (e: Event) => {
    e.preventDefault();
    const field = (e.target as HTMLFormElement).querySelector<HTMLTextAreaElement>('#first-words');
    if (!opening.open(field?.value.trim() ?? '')) field?.focus();
  };
  return (
    <main id="record" class="sheet-of-paper start" tabindex={-1}>
      <h1>{word('start-head')}</h1>
      <p class="lead">{word('start-lead')}</p>
      <form onSubmit={submit} noValidate>
        <Who opening={opening} />
        <FirstWords trouble={opening.trouble} />
        <div class="start-end">
          <UnitsAndLanguage opening={opening} />
          <button type="submit" class="main-button" disabled={opening.busy}>
            {word('open-case')}
          </button>
        </div>
      </form>
      {last && (
        <p class="resume">
          <a href={hashOf({ at: 'case', id: last.id })}>{word('go-on', { id: last.id.slice(0, 6) })}</a>
        </p>
      )}
      <p class="first-things">
        <strong>{word('first-things')}</strong> {word('first-things-text')}
      </p>
    </main>
  );
}

const Who = ({ opening: { picks, pick } }: { opening: Opening }) => (
  <fieldset class="who">
    <legend>{word('who')}</legend>
    {AUDIENCES.map((id) => (
      <label class="who-choice">
        <input type="radio" name="audience" value={id} checked={picks.audience === id} onChange={() => pick({ audience: id })} />
        <span class="who-title">{audienceTitle(id)}</span>
        <span class="who-more">{audienceMore(id)}</span>
      </label>
    ))}
  </fieldset>
);

const FirstWords = ({ trouble }: { trouble: string }) => (
  <div class="first">
    <label for="first-words">{word('what-does-it-do')}</label>
    <p class="hint" id="first-hint">
      {word('what-hint')}
    </p>
    <textarea
      id="first-words"
      rows={3}
      maxLength={2000}
      aria-describedby={trouble ? 'first-hint first-trouble' : 'first-hint'}
      onKeyDown={onEnter((field) => field.form?.requestSubmit())}
    />
    {trouble && (
      <p class="field-error" id="first-trouble" role="alert">
        {trouble}
      </p>
    )}
  </div>
);

const UnitsAndLanguage = ({ opening: { picks, pick } }: { opening: Opening }) => (
  <>
    <fieldset class="units">
      <legend>{word('units')}</legend>
      {(['us', 'metric'] as const).map((units) => (
        <label class="tick">
          <input type="radio" name="units" checked={picks.units === units} onChange={() => pick({ units })} />
          {word(`units-${units}`)}
        </label>
      ))}
    </fieldset>
    <fieldset class="units">
      <legend>{word('language')}</legend>
      {LANGUAGES.map(({ id, name }) => (
        <label class="tick" lang={id}>
          <input type="radio" name="language" checked={picks.language === id} onChange={() => pick({ language: id })} />
          {name}
        </label>
      ))}
    </fieldset>
  </>
);
