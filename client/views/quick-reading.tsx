import { useEffect, useRef, useState } from 'hono/jsx/dom';
import type { Catalogue, QuickReading as Judged, ReadingInput } from '../../server/conversation-port.ts';
import { api } from '../api.ts';
import { NumberField } from '../case/number-field.tsx';
import { Gauge } from '../evidence/gauge.tsx';
import { isText, keep, kept } from '../kept.ts';
import { Mark } from '../mark.tsx';
import { inputOf, type Line, type Match, readLine } from '../quick/read-line.ts';
import { speak } from '../say.ts';
import type { Units, Value, VerdictWord } from '../types.ts';
import { readNumber } from '../units.ts';
import { SHAPES, sentence, troubleWords } from '../words.ts';

const MOST_KEPT = 10;
interface Kept {
  label: string;
  shown: string;
  verdict: VerdictWord;
  verdictWords: string;
  expectedShown: string;
}
const areKept = (value: unknown): value is Kept[] =>
  Array.isArray(value) &&
  value.every((one) => typeof one?.label === 'string' && typeof one?.shown === 'string' && one?.verdict in SHAPES);

/** One reading judged now, without a case. */
export function QuickReading() {
  const [catalogue, setCatalogue] = useState<Catalogue | undefined>(undefined);
  const [checkId, setCheckId] = useState('');
  const [fact, setFact] = useState('');
  const [trouble, setTrouble] = useState('');
  const [which, setWhich] = useState<Extract<Line, { is: 'which' }> | undefined>(undefined);
  const [judged, setJudged] = useState<{ value: Value; is: Judged } | undefined>(undefined);
  const [last, setLast] = useState<Kept[]>(kept('readings', areKept) ?? []);
  const value = useRef<Value | undefined>(undefined);
  const result = useRef<HTMLElement>(null);
  const units: Units = kept('units', isText) === 'metric' ? 'metric' : 'us';

  const fetchCatalogue = async () => {
    setTrouble('');
    const got = await api.catalogue();
    if (got.ok) setCatalogue(got.value);
    else setTrouble(troubleWords(got.failure));
  };
  useEffect(() => void fetchCatalogue(), []);
  // What a reading is judged with is a technician's, in English.
  useEffect(() => void speak('en'), []);
  useEffect(() => result.current?.focus(), [judged]);

  if (!catalogue)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>One reading</h1>
        {trouble ? (
          <p class="trouble" role="alert">
            {trouble}{' '}
            <button type="button" class="plain-button" onClick={() => void fetchCatalogue()}>
              Try again
            </button>
          </p>
        ) : (
          <p>Fetching the list of checks …</p>
        )}
      </main>
    );

  const checks = catalogue.checks.filter((check) => check.reads.length > 0);
  const check = checks.find(({ id }) => id === checkId) ?? checks[0];
  const read = check?.reads.find((r) => r.fact === fact) ?? check?.reads[0];
  if (!check || !read)
    return (
      <main id="record" class="sheet-of-paper" tabindex={-1}>
        <h1>One reading</h1>
        <p>There is no check a single reading can be judged for.</p>
      </main>
    );

  const submit = async (e: Event) => {
    e.preventDefault();
    const form = new FormData(e.target as HTMLFormElement);
    const text = (name: string) => String(form.get(name) ?? '').trim();
    const number = (name: string) => {
      const typed = readNumber(text(name));
      return typeof typed === 'number' ? typed : undefined;
    };
    const given = value.current;
    if (given === undefined) return refuse('The reading is missing: a number, such as 10.2, or OL.');
    const volts = number('volts');
    const watts = number('watts');
    if ((text('volts') && volts === undefined) || (text('watts') && watts === undefined))
      return refuse('Volts and watts are plain numbers, such as 240 and 5600.');
    const plate = { ...(volts !== undefined && { volts }), ...(watts !== undefined && { total_w: watts }) };
    await judge({
      check: check.id,
      fact: read.fact,
      value: given,
      unit: read.unit,
      ...(Object.keys(plate).length > 0 && { plate }),
      ...(text('machine') && { machine: text('machine') }),
      ...(text('meter') && { meter: text('meter') }),
      ...(form.get('lifted') && { lifted: true }),
      // Said either way: a box not ticked means that the meter is not on low impedance.
      ...(read.lowImpedance !== undefined && { lowImpedance: form.get('lowImpedance') !== null }),
    });
  };
  /** What is wrong now, and nothing of the reading before: its verdict must not be taken for this one's. */
  function refuse(words: string): void {
    setJudged(undefined);
    setWhich(undefined);
    setTrouble(words);
  }
  async function judge(input: ReadingInput): Promise<void> {
    const got = await api.reading(input);
    if (!got.ok) return refuse(troubleWords(got.failure));
    setTrouble('');
    setWhich(undefined);
    const { label, shown, verdict, verdictWords, expectedShown = '' } = got.value;
    const now = [{ label, shown, verdict, verdictWords, expectedShown }, ...last].slice(0, MOST_KEPT);
    keep('readings', now);
    setLast(now);
    setJudged({ value: input.value, is: got.value });
  }
  const judgeLine = async (e: Event) => {
    e.preventDefault();
    const line = readLine((e.target as HTMLFormElement).querySelector('input')?.value ?? '', catalogue);
    if (line.is === 'reading') return judge(line.input);
    if (line.is === 'lost')
      return refuse(
        line.missing === 'value'
          ? 'There is no reading in that line: a number, such as 10.2, or OL.'
          : 'That line does not say what was read. Name it, or pick the check below.',
      );
    refuse('');
    setWhich(line);
  };
  const pick = (match: Match) => which && void judge(inputOf(match, which.rest));
  const points = [...new Set(Object.values(read.points))];
  return (
    <main id="record" class="sheet-of-paper quick" tabindex={-1}>
      <h1>One reading</h1>
      <p class="lead">Judged against what this plate, this meter and the supply allow. No case is opened.</p>
      <form class="one-line" onSubmit={judgeLine} noValidate>
        <label for="quick-line">In one line</label>
        <p class="hint" id="quick-line-hint">
          What, the reading, and the plate if it matters: “coil 9.8 ohm 5400 W 240 V”, “cut-off OL lead off”.
        </p>
        <div class="line-row">
          <input id="quick-line" class="wide" autocomplete="off" maxLength={200} aria-describedby="quick-line-hint" />
          <button type="submit" class="main-button">
            Judge line
          </button>
        </div>
      </form>
      {trouble && (
        <p class="field-error" role="alert">
          {trouble}
        </p>
      )}
      {which && (
        <fieldset class="which" aria-label="Which one was read?">
          <p>Which one was read?</p>
          {which.of.map((match) => (
            <button type="button" class="plain-button" onClick={() => pick(match)}>
              {match.read.label}
            </button>
          ))}
        </fieldset>
      )}
      {judged && (
        <section class={`judged ${SHAPES[judged.is.verdict].tone}`} aria-labelledby="judged">
          <h2 id="judged" tabindex={-1} ref={result}>
            <Mark is={SHAPES[judged.is.verdict].shape} />
            {judged.is.shown}: {judged.is.verdictWords}
          </h2>
          <p class="row-label">{judged.is.label}</p>
          {judged.is.expected && (
            <Gauge
              value={judged.value}
              shown={judged.is.shown}
              band={judged.is.expected}
              bandShown={judged.is.expectedShown ?? ''}
            />
          )}
          {judged.is.expectedShown && <p class="expected">Expected {judged.is.expectedShown}</p>}
          <p>{judged.is.because}</p>
          {judged.is.cautions && judged.is.cautions.length > 0 && (
            <div class="cautions" role="note" aria-label="Caution">
              <p class="caution-head">
                <Mark is="up" /> Caution
              </p>
              {judged.is.cautions.map((text) => (
                <p>{text}</p>
              ))}
            </div>
          )}
          <details class="because">
            <summary>How the band came about, and sources</summary>
            <ol>
              {judged.is.how.map((line) => (
                <li>{line}</li>
              ))}
            </ol>
            <ul>
              {judged.is.sources.map((source) => (
                <li>{source}</li>
              ))}
            </ul>
          </details>
        </section>
      )}
      {last.length > 0 && (
        <section aria-labelledby="last-readings">
          <h2 id="last-readings">Last readings</h2>
          <ul class="last-readings">
            {last.map((one) => (
              <li>
                <span class="row-label">{one.label}</span>
                <span class="row-shown">{one.shown}</span>
                <span class="verdict">
                  <Mark is={SHAPES[one.verdict].shape} />
                  {sentence(one.verdictWords)}
                </span>
                {one.expectedShown && <span class="expected">expected {one.expectedShown}</span>}
              </li>
            ))}
          </ul>
          <button
            type="button"
            class="plain-button"
            onClick={() => {
              keep('readings', []);
              setLast([]);
            }}
          >
            Clear this list
          </button>
        </section>
      )}
      <h2 class="or-pick">Or pick the check</h2>
      <form class="quick-form" onSubmit={submit} noValidate>
        <div class="field wide-field">
          <label for="quick-check">Check</label>
          <select
            id="quick-check"
            onChange={(e: Event) => {
              setCheckId((e.target as HTMLSelectElement).value);
              setFact('');
              setJudged(undefined);
              value.current = undefined;
            }}
          >
            {checks.map(({ id, label }) => (
              <option value={id} selected={id === check.id}>
                {label}
              </option>
            ))}
          </select>
        </div>
        {check.reads.length > 1 && (
          <div class="field wide-field">
            <label for="quick-fact">Which of its readings</label>
            <select
              id="quick-fact"
              onChange={(e: Event) => {
                setFact((e.target as HTMLSelectElement).value);
                value.current = undefined;
              }}
            >
              {check.reads.map((r) => (
                <option value={r.fact} selected={r.fact === read.fact}>
                  {r.label}
                </option>
              ))}
            </select>
          </div>
        )}
        <div class="wide-field">
          <NumberField
            key={`${check.id}/${read.fact}`}
            id="quick-value"
            label="Reading"
            hint={points.join('; or ')}
            unit={read.unit}
            units={units}
            onValue={(typed) => {
              value.current = typed;
            }}
          />
        </div>
        {read.unit === 'Ω' && (
          <label class="tick wide-field">
            <input type="checkbox" name="lifted" />
            One lead of the part is off
          </label>
        )}
        {read.lowImpedance !== undefined && (
          <label class="tick wide-field" key={`low/${check.id}/${read.fact}`}>
            <input type="checkbox" name="lowImpedance" checked={read.lowImpedance} />
            Meter on low impedance
          </label>
        )}
        <div class="field">
          <label for="quick-volts">Plate, volts</label>
          <input id="quick-volts" name="volts" inputmode="decimal" autocomplete="off" size={6} />
        </div>
        <div class="field">
          <label for="quick-watts">Plate, watts in all</label>
          <input id="quick-watts" name="watts" inputmode="decimal" autocomplete="off" size={6} />
        </div>
        <div class="field">
          <label for="quick-machine">Machine</label>
          <select id="quick-machine" name="machine">
            <option value="">Not known</option>
            {catalogue.machines.map(({ id, title }) => (
              <option value={id}>{title}</option>
            ))}
          </select>
        </div>
        <div class="field">
          <label for="quick-meter">Meter</label>
          <select id="quick-meter" name="meter">
            <option value="">Usual handheld</option>
            {catalogue.meters.map(({ id, title }) => (
              <option value={id}>{title}</option>
            ))}
          </select>
        </div>
        <p class="wide-field">
          <button type="submit" class="main-button">
            Judge it
          </button>
        </p>
      </form>
    </main>
  );
}
