import { useState } from 'hono/jsx/dom';
import { api } from '../api.ts';
import { talkOf } from '../case/use-talk.ts';
import { isText, keep, kept, lastCase } from '../kept.ts';
import { ownLanguage } from '../language.ts';
import { go, hashOf } from '../route.ts';
import type { Audience, Units } from '../types.ts';
import { AUDIENCES, troubleWords } from '../words.ts';

/** Who is there, and what the dryer does. The first words are the first turn of the case. */
export function Start() {
  const [audience, setAudience] = useState<Audience>(
    AUDIENCES.find(({ id }) => id === kept('audience', isText))?.id ?? 'homeowner',
  );
  const [units, setUnits] = useState<Units>(kept('units', isText) === 'metric' ? 'metric' : 'us');
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState('');
  const last = lastCase();

  const submit = async (e: Event) => {
    e.preventDefault();
    const field = (e.target as HTMLFormElement).querySelector<HTMLTextAreaElement>('#first-words');
    const text = field?.value.trim();
    if (!text) {
      setTrouble('Write a few words about what the dryer does, or does not do.');
      field?.focus();
      return;
    }
    if (busy) return;
    setBusy(true);
    setTrouble('');
    keep('audience', audience);
    keep('units', units);
    const opened = await api.open({ audience, units, language: ownLanguage() });
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
      <h1>Turns, but stays cold?</h1>
      <p class="lead">
        One question at a time, until it is clear what failed, what made it fail, and whose job it is. For household clothes
        dryers that do not heat, do not dry or do not run.
      </p>
      <form onSubmit={submit} noValidate>
        <fieldset class="who">
          <legend>Who is there?</legend>
          {AUDIENCES.map(({ id, title, more }) => (
            <label class="who-choice">
              <input type="radio" name="audience" value={id} checked={audience === id} onChange={() => setAudience(id)} />
              <span class="who-title">{title}</span>
              <span class="who-more">{more}</span>
            </label>
          ))}
        </fieldset>
        <div class="first">
          <label for="first-words">What does it do?</label>
          <p class="hint" id="first-hint">
            Your own words will do: “drum turns, air is cold, started yesterday”.
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
            <legend>Units</legend>
            <label class="tick">
              <input type="radio" name="units" checked={units === 'us'} onChange={() => setUnits('us')} />
              °F, inches
            </label>
            <label class="tick">
              <input type="radio" name="units" checked={units === 'metric'} onChange={() => setUnits('metric')} />
              °C, centimetres
            </label>
          </fieldset>
          <button type="submit" class="main-button" disabled={busy}>
            Open a case
          </button>
        </div>
      </form>
      {last && (
        <p class="resume">
          <a href={hashOf({ at: 'case', id: last.id })}>Go on with case {last.id.slice(0, 6)}</a>
        </p>
      )}
      <p class="first-things">
        <strong>These come first:</strong> local codes, the maker’s sheet for the machine, and licensed practice. Smoke, fire, a
        smell of gas or a shock: keep away and call for help before you read on.
      </p>
    </main>
  );
}
