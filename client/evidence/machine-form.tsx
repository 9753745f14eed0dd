import { useState } from 'hono/jsx/dom';
import type { CaseView } from '../../server/types.ts';
import type { Settings } from '../api.ts';
import type { Talk } from '../case/talk.ts';
import { hashOf } from '../route.ts';
import type { Audience, Units } from '../types.ts';
import { readNumber } from '../units.ts';
import { AUDIENCES, audienceTitle } from '../words.ts';

/** What the bands hang on: the plate, the units, and who is talking. */
export function MachineForm({ talk, busy, view }: { talk: Talk; busy: boolean; view: CaseView }) {
  const [error, setError] = useState('');
  const { plate } = view.machine;
  const submit = (e: Event) => {
    e.preventDefault();
    const form = new FormData(e.target as HTMLFormElement);
    const number = (name: string) => {
      const typed = String(form.get(name) ?? '').trim();
      return typed === '' ? undefined : (readNumber(typed) ?? 'open');
    };
    const volts = number('volts');
    const watts = number('watts');
    if (volts === 'open' || watts === 'open') return setError('Volts and watts are plain numbers, such as 240 and 5600.');
    setError('');
    const settings: Settings = {};
    const audience = form.get('audience') as Audience;
    const units = form.get('units') as Units;
    if (audience !== view.audience) settings.audience = audience;
    if (units !== view.units) settings.units = units;
    if (volts !== plate?.volts || watts !== plate?.total_w) {
      const { volts: _volts, total_w: _watts, ...rest } = plate ?? {};
      settings.machine = {
        plate: { ...rest, ...(volts !== undefined && { volts }), ...(watts !== undefined && { total_w: watts }) },
      };
    }
    if (Object.keys(settings).length > 0) void talk.patch(settings);
  };
  return (
    <details class="machine">
      <summary>
        This case: {audienceTitle(view.audience)}, {plate?.total_w ? `plate ${plate.total_w} W` : 'plate not told'}
      </summary>
      <form onSubmit={submit} noValidate key={view.rev}>
        <div class="pair">
          <label for="plate-volts">Plate, volts</label>
          <input
            id="plate-volts"
            name="volts"
            inputmode="decimal"
            size={6}
            autocomplete="off"
            value={String(plate?.volts ?? '')}
          />
        </div>
        <div class="pair">
          <label for="plate-watts">Plate, watts in all</label>
          <input
            id="plate-watts"
            name="watts"
            inputmode="decimal"
            size={6}
            autocomplete="off"
            value={String(plate?.total_w ?? '')}
          />
        </div>
        <div class="pair">
          <label for="case-units">Units</label>
          <select id="case-units" name="units">
            <option value="us" selected={view.units === 'us'}>
              °F, inches
            </option>
            <option value="metric" selected={view.units === 'metric'}>
              °C, centimetres
            </option>
          </select>
        </div>
        <div class="pair">
          <label for="case-audience">Who is talking</label>
          <select id="case-audience" name="audience">
            {AUDIENCES.map(({ id, title }) => (
              <option value={id} selected={view.audience === id}>
                {title}
              </option>
            ))}
          </select>
        </div>
        {error && <p class="field-error">{error}</p>}
        <button type="submit" class="plain-button" disabled={busy}>
          Enter
        </button>
        <p class="another">
          <a href={hashOf({ at: 'start' })}>Open another case</a>
        </p>
      </form>
    </details>
  );
}
