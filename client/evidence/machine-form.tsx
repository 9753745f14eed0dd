import { useState } from 'hono/jsx/dom';
import type { Catalogue } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';
import { api } from '../api.ts';
import type { Talk } from '../case/talk.ts';
import { LANGUAGES } from '../language.ts';
import { keepMeter } from '../meter.ts';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { AUDIENCES, audienceTitle } from '../words.ts';
import { changesIn, meterTold, type Named, variantsOf } from './case-settings.ts';
import { PickedPair, TypedPair } from './pairs.tsx';

/** What the bands hang on: the plate, the machine and the meter; and the units, the language and who is talking. */
export function MachineForm({ talk, busy, view }: { talk: Talk; busy: boolean; view: CaseView }) {
  const [error, setError] = useState('');
  const { catalogue, fetchNames } = useNames();
  const { plate, circuits } = view.machine;
  const measures = view.audience === 'technician';
  const variants = measures && catalogue ? variantsOf(catalogue, circuits) : undefined;
  const submit = async (e: Event) => {
    e.preventDefault();
    const found = changesIn(new FormData(e.target as HTMLFormElement), view, variants);
    if ('wrong' in found) return setError(word(found.wrong));
    setError('');
    if (Object.keys(found.changes).length === 0 || !(await talk.patch(found.changes))) return;
    // The next case starts with the same meter.
    const meter = measures && meterTold(found.changes, view.machine);
    if (meter) keepMeter(meter);
  };
  return (
    <details
      class="machine"
      onToggle={(e: Event) => {
        if (measures && (e.target as HTMLDetailsElement).open) void fetchNames();
      }}
    >
      <summary>
        {word('this-case', {
          who: audienceTitle(view.audience),
          plate: plate?.total_w ? word('plate-watts-told', { n: plate.total_w }) : word('plate-not-told'),
        })}
      </summary>
      <form onSubmit={(e: Event) => void submit(e)} noValidate key={view.rev}>
        <TypedPair name="volts" id="plate-volts" label="plate-volts" value={plate?.volts} />
        <TypedPair name="watts" id="plate-watts" label="plate-watts" value={plate?.total_w} />
        {variants && catalogue && <MeterFields view={view} variants={variants} meters={catalogue.meters} />}
        <TalkFields view={view} />
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

/** The names of machines and meters, fetched when somebody looks: most cases never need them. */
function useNames(): { catalogue?: Catalogue; fetchNames: () => Promise<void> } {
  const [catalogue, setCatalogue] = useState<Catalogue | undefined>(undefined);
  const fetchNames = async () => {
    if (catalogue) return;
    const got = await api.catalogue();
    if (got.ok) setCatalogue(got.value);
  };
  return { catalogue, fetchNames };
}

interface MeterProps {
  view: CaseView;
  variants: readonly Named[];
  meters: readonly Named[];
}
/** For somebody who measures: how the machine is built, and what reads it. */
function MeterFields({ view, variants, meters }: MeterProps) {
  const { variants: has = [], meter, leads_ohm } = view.machine;
  return (
    <>
      {variants.length > 0 && (
        <fieldset class="variants">
          <legend>{word('built-otherwise')}</legend>
          {variants.map(({ id, title }) => (
            <label class="tick">
              <input type="checkbox" name="variant" value={id} checked={has.includes(id)} />
              {title}
            </label>
          ))}
        </fieldset>
      )}
      <PickedPair
        name="meter"
        label="meter"
        value={meter ?? ''}
        of={[...(meter ? [] : [{ id: '', title: word('meter-usual') }]), ...meters]}
      />
      <TypedPair name="leads" id="leads-ohm" label="leads-ohm" value={leads_ohm} hint="leads-hint" />
    </>
  );
}

/** How the case is talked about. A technician is always spoken to in English. */
const TalkFields = ({ view }: { view: CaseView }) => (
  <>
    <PickedPair
      name="units"
      label="units"
      value={view.units}
      of={[
        { id: 'us', title: word('units-us') },
        { id: 'metric', title: word('units-metric') },
      ]}
    />
    {view.audience !== 'technician' && (
      <PickedPair
        name="language"
        label="language"
        value={view.language ?? 'en'}
        of={LANGUAGES.map(({ id, name }) => ({ id, title: name }))}
      />
    )}
    <PickedPair
      name="audience"
      label="who-is-talking"
      value={view.audience}
      of={AUDIENCES.map((id) => ({ id, title: audienceTitle(id) }))}
    />
  </>
);
