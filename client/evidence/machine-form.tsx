import { useState } from 'hono/jsx/dom';
import type { Catalogue } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';
import { api, type Settings } from '../api.ts';
import type { Talk } from '../case/talk.ts';
import { LANGUAGES } from '../language.ts';
import { keepMeter } from '../meter.ts';
import { hashOf } from '../route.ts';
import { type WordId, word } from '../say.ts';
import type { Audience, Units } from '../types.ts';
import { readNumber } from '../units.ts';
import { AUDIENCES, audienceTitle } from '../words.ts';

type Machine = NonNullable<Settings['machine']>;
type Named = { id: string; title: string };
/** More is no lead resistance but a broken lead; the program takes no more either. */
const MOST_LEADS_OHM = 5;

/** What the bands hang on: the plate, the machine and the meter; and the units, the language and who is talking. */
export function MachineForm({ talk, busy, view }: { talk: Talk; busy: boolean; view: CaseView }) {
  const [error, setError] = useState('');
  const [catalogue, setCatalogue] = useState<Catalogue | undefined>(undefined);
  const { plate, variants = [], meter, leads_ohm } = view.machine;
  const measures = view.audience === 'technician';
  // Fetched when somebody looks: most cases never need the names.
  const fetchNames = async () => {
    if (!measures || catalogue) return;
    const got = await api.catalogue();
    if (got.ok) setCatalogue(got.value);
  };
  const choices = variantsOf(catalogue, view.machine.circuits);

  const submit = async (e: Event) => {
    e.preventDefault();
    const form = new FormData(e.target as HTMLFormElement);
    const number = (name: string) => {
      const typed = String(form.get(name) ?? '').trim();
      return typed === '' ? undefined : (readNumber(typed) ?? 'open');
    };
    const [volts, watts, leads] = [number('volts'), number('watts'), number('leads')];
    if (volts === 'open' || watts === 'open') return setError(word('plain-numbers'));
    if (leads === 'open' || (leads !== undefined && !(leads >= 0 && leads <= MOST_LEADS_OHM)))
      return setError(word('leads-wrong'));
    setError('');
    const settings: Settings = {};
    const picked = <T extends string>(name: string, now: T | undefined) => {
      const is = form.get(name) as T | null;
      return is !== null && is !== now ? is : undefined;
    };
    const audience = picked<Audience>('audience', view.audience);
    const units = picked<Units>('units', view.units);
    const language = picked('language', view.language) as Settings['language'];
    const machine: Machine = {};
    if (volts !== plate?.volts || watts !== plate?.total_w) {
      const { volts: _volts, total_w: _watts, ...rest } = plate ?? {};
      machine.plate = { ...rest, ...(volts !== undefined && { volts }), ...(watts !== undefined && { total_w: watts }) };
    }
    if (measures && catalogue) {
      const ticked = form.getAll('variant') as string[];
      if (choices.some(({ id }) => ticked.includes(id) !== variants.includes(id)))
        machine.variants = [...variants.filter((id) => !choices.some((one) => one.id === id)), ...ticked];
      const own = picked('meter', meter ?? '');
      if (own) machine.meter = own;
      if (leads !== undefined && leads !== leads_ohm) machine.leads_ohm = leads;
    }
    if (audience) settings.audience = audience;
    if (units) settings.units = units;
    if (language) settings.language = language;
    if (Object.keys(machine).length > 0) settings.machine = machine;
    if (Object.keys(settings).length === 0 || !(await talk.patch(settings))) return;
    // The next case starts with the same meter.
    const kept = { meter: machine.meter ?? meter, leads_ohm: machine.leads_ohm ?? leads_ohm };
    if (measures && (machine.meter !== undefined || machine.leads_ohm !== undefined)) keepMeter(kept);
  };
  return (
    <details
      class="machine"
      onToggle={(e: Event) => {
        if ((e.target as HTMLDetailsElement).open) void fetchNames();
      }}
    >
      <summary>
        {word('this-case', {
          who: audienceTitle(view.audience),
          plate: plate?.total_w ? word('plate-watts-told', { n: plate.total_w }) : word('plate-not-told'),
        })}
      </summary>
      <form onSubmit={(e: Event) => void submit(e)} noValidate key={view.rev}>
        <Typed name="volts" id="plate-volts" label="plate-volts" value={plate?.volts} />
        <Typed name="watts" id="plate-watts" label="plate-watts" value={plate?.total_w} />
        {measures && catalogue && (
          <>
            {choices.length > 0 && (
              <fieldset class="variants">
                <legend>{word('built-otherwise')}</legend>
                {choices.map(({ id, title }) => (
                  <label class="tick">
                    <input type="checkbox" name="variant" value={id} checked={variants.includes(id)} />
                    {title}
                  </label>
                ))}
              </fieldset>
            )}
            <Picked
              name="meter"
              label="meter"
              value={meter ?? ''}
              of={[...(meter ? [] : [{ id: '', title: word('meter-usual') }]), ...catalogue.meters]}
            />
            <Typed name="leads" id="leads-ohm" label="leads-ohm" value={leads_ohm} hint="leads-hint" />
          </>
        )}
        <Picked
          name="units"
          label="units"
          value={view.units}
          of={[
            { id: 'us', title: word('units-us') },
            { id: 'metric', title: word('units-metric') },
          ]}
        />
        {!measures && (
          <Picked
            name="language"
            label="language"
            value={view.language ?? 'en'}
            of={LANGUAGES.map(({ id, name }) => ({ id, title: name }))}
          />
        )}
        <Picked
          name="audience"
          label="who-is-talking"
          value={view.audience}
          of={AUDIENCES.map((id) => ({ id, title: audienceTitle(id) }))}
        />
        {error && (
          <p class="field-error" role="alert">
            {error}
          </p>
        )}
        <button type="submit" class="plain-button" disabled={busy}>
          {word('enter')}
        </button>
        <p class="another">
          <a href={hashOf({ at: 'start' })}>{word('another-case')}</a>
        </p>
      </form>
    </details>
  );
}

/** Ways the machine in hand may be built otherwise; of any machine while it is not known. One name on several machines is one way. */
function variantsOf(catalogue: Catalogue | undefined, circuits: readonly string[] = []): Named[] {
  const of = (catalogue?.machines ?? []).filter(({ id }) => circuits.length === 0 || circuits.includes(id));
  return [...new Map(of.flatMap(({ variants }) => variants).map((one) => [one.id, one])).values()];
}

interface TypedProps {
  name: string;
  id: string;
  label: WordId;
  value: number | undefined;
  hint?: WordId;
}
const Typed = ({ name, id, label, value, hint }: TypedProps) => (
  <div class="pair">
    <label for={id}>{word(label)}</label>
    <input
      id={id}
      name={name}
      inputmode="decimal"
      size={6}
      autocomplete="off"
      value={String(value ?? '')}
      aria-describedby={hint && `${id}-hint`}
    />
    {hint && (
      <p class="hint" id={`${id}-hint`}>
        {word(hint)}
      </p>
    )}
  </div>
);

const Picked = ({ name, label, value, of }: { name: string; label: WordId; value: string; of: Named[] }) => (
  <div class="pair">
    <label for={`case-${name}`}>{word(label)}</label>
    <select id={`case-${name}`} name={name}>
      {of.map(({ id, title }) => (
        <option value={id} selected={id === value}>
          {title}
        </option>
      ))}
    </select>
  </div>
);
