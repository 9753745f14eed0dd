import { useEffect, useState } from 'hono/jsx/dom';
import { api } from '../api.ts';
import { talkOf } from '../case/use-talk.ts';
import { isText, keep, kept, lastCase } from '../kept.ts';
import { LANGUAGES, startLanguage } from '../language.ts';
import { keepMeter, ownMeter } from '../meter.ts';
import { go, hashOf } from '../route.ts';
import { speak, word } from '../say.ts';
import type { Audience, Units } from '../types.ts';
import { AUDIENCES, audienceMore, audienceTitle, troubleWords } from '../words.ts';

/** A technician's case starts with the meter kept here; one the program no longer knows is forgotten and holds nothing up. */
async function openWith(body: Parameters<typeof api.open>[0]): ReturnType<typeof api.open> {
  const machine = body.audience === 'technician' ? ownMeter() : undefined;
  const opened = await api.open({ ...body, ...(machine && { machine }) });
  if (opened.ok || !machine || opened.failure.is !== 'refused') return opened;
  keepMeter({});
  return api.open(body);
}

/** Who is there, and what the dryer does. The first words are the first turn of the case. */
export function Start() {
  const [audience, setAudience] = useState<Audience>(AUDIENCES.find((id) => id === kept('audience', isText)) ?? 'homeowner');
  const [units, setUnits] = useState<Units>(kept('units', isText) === 'metric' ? 'metric' : 'us');
  const [language, setLanguage] = useState(startLanguage());
  const [busy, setBusy] = useState(false);
  useEffect(() => void speak(language), [language]);
  const [trouble, setTrouble] = useState('');
  const last = lastCase();

  const submit = async (e: Event) => {
    e.preventDefault();
    const field = (e.target as HTMLFormElement).querySelector<HTMLTextAreaElement>('#first-words');
    const text = field?.value.trim();
    if (!text) {
      setTrouble(word('what-missing'));
      field?.focus();
      return;
    }
    if (busy) return;
    setBusy(true);
    setTrouble('');
    keep('audience', audience);
    keep('units', units);
    keep('language', language);
    const opened = await openWith({ audience, units, language });
    if (!opened.ok) {
      setBusy(false);
      setTrouble(troubleWords(opened.failure));
      return;
    }
    const talk = talkOf(opened.value.case.id, opened.value);
    // The case is there now: if the words do not get through they go on in its own field.
    if (!(await talk.say(text))) talk.draft = text;
    go({ at: 'case', id: talk.id });
  };

  return (
    <main id="record" class="sheet-of-paper start" tabindex={-1}>
      <h1>{word('start-head')}</h1>
      <p class="lead">{word('start-lead')}</p>
      <form onSubmit={submit} noValidate>
        <fieldset class="who">
          <legend>{word('who')}</legend>
          {AUDIENCES.map((id) => (
            <label class="who-choice">
              <input type="radio" name="audience" value={id} checked={audience === id} onChange={() => setAudience(id)} />
              <span class="who-title">{audienceTitle(id)}</span>
              <span class="who-more">{audienceMore(id)}</span>
            </label>
          ))}
        </fieldset>
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
            onKeyDown={(e: KeyboardEvent) => {
              if (e.key !== 'Enter' || e.shiftKey || e.isComposing) return;
              e.preventDefault();
              (e.target as HTMLTextAreaElement).form?.requestSubmit();
            }}
          />
          {trouble && (
            <p class="field-error" id="first-trouble" role="alert">
              {trouble}
            </p>
          )}
        </div>
        <div class="start-end">
          <fieldset class="units">
            <legend>{word('units')}</legend>
            <label class="tick">
              <input type="radio" name="units" checked={units === 'us'} onChange={() => setUnits('us')} />
              {word('units-us')}
            </label>
            <label class="tick">
              <input type="radio" name="units" checked={units === 'metric'} onChange={() => setUnits('metric')} />
              {word('units-metric')}
            </label>
          </fieldset>
          <fieldset class="units">
            <legend>{word('language')}</legend>
            {LANGUAGES.map(({ id, name }) => (
              <label class="tick" lang={id}>
                <input type="radio" name="language" checked={language === id} onChange={() => setLanguage(id)} />
                {name}
              </label>
            ))}
          </fieldset>
          <button type="submit" class="main-button" disabled={busy}>
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
