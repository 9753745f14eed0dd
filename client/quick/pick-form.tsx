import { useRef, useState } from 'hono/jsx/dom';
import type { Catalogue, CatalogueCheck } from '../../server/conversation-port.ts';
import { NumberField } from '../case/number-field.tsx';
import { keptUnits } from '../kept.ts';
import type { Value } from '../types.ts';
import type { Match } from './match.ts';
import { pickedOf, readingIn } from './picked-reading.ts';
import type { Judging } from './use-judging.ts';

interface Props {
  catalogue: Catalogue;
  /** Those with a reading; at least one. */
  checks: readonly CatalogueCheck[];
  judging: Judging;
}

/** The check and its reading picked from lists, with the plate, the machine and the meter beside it. */
export function PickForm({ catalogue, checks, judging }: Props) {
  const [checkId, setCheckId] = useState('');
  const [fact, setFact] = useState('');
  const value = useRef<Value | undefined>(undefined);
  const picked = pickedOf(checks, checkId, fact)!;
  const submit = (e: Event) => {
    e.preventDefault();
    const found = readingIn(new FormData(e.target as HTMLFormElement), picked, value.current);
    if ('refused' in found) judging.refuse(found.refused);
    else void judging.judge(found.input);
  };
  const pickCheck = (id: string) => {
    setCheckId(id);
    setFact('');
    judging.leave();
    value.current = undefined;
  };
  const pickFact = (id: string) => {
    setFact(id);
    value.current = undefined;
  };
  return (
    <form class="quick-form" onSubmit={submit} noValidate>
      <WhatWasRead checks={checks} picked={picked} onCheck={pickCheck} onFact={pickFact} />
      <ReadingFields
        picked={picked}
        onValue={(typed) => {
          value.current = typed;
        }}
      />
      <PlateFields />
      <Known name="machine" label="Machine" none="Not known" of={catalogue.machines} />
      <Known name="meter" label="Meter" none="Usual handheld" of={catalogue.meters} />
      <p class="wide-field">
        <button type="submit" class="main-button">
          Judge it
        </button>
      </p>
    </form>
  );
}

const chosenIn = (e: Event): string => (e.target as HTMLSelectElement).value;

interface WhatProps {
  checks: readonly CatalogueCheck[];
  picked: Match;
  onCheck: (id: string) => void;
  onFact: (fact: string) => void;
}
const WhatWasRead = ({ checks, picked: { check, read }, onCheck, onFact }: WhatProps) => (
  <>
    <div class="field wide-field">
      <label for="quick-check">Check</label>
      <select id="quick-check" onChange={(e: Event) => onCheck(chosenIn(e))}>
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
        <select id="quick-fact" onChange={(e: Event) => onFact(chosenIn(e))}>
          {check.reads.map(({ fact, label }) => (
            <option value={fact} selected={fact === read.fact}>
              {label}
            </option>
          ))}
        </select>
      </div>
    )}
  </>
);

/** The number, and how it was read where that matters to it. */
const ReadingFields = ({ picked: { check, read }, onValue }: { picked: Match; onValue: (value: Value | undefined) => void }) => (
  <>
    <div class="wide-field">
      <NumberField
        key={`${check.id}/${read.fact}`}
        id="quick-value"
        label="Reading"
        hint={[...new Set(Object.values(read.points))].join('; or ')}
        unit={read.unit}
        units={keptUnits()}
        onValue={onValue}
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
  </>
);

const PlateFields = () => (
  <>
    <div class="field">
      <label for="quick-volts">Plate, volts</label>
      <input id="quick-volts" name="volts" inputmode="decimal" autocomplete="off" size={6} />
    </div>
    <div class="field">
      <label for="quick-watts">Plate, watts in all</label>
      <input id="quick-watts" name="watts" inputmode="decimal" autocomplete="off" size={6} />
    </div>
  </>
);

interface KnownProps {
  name: 'machine' | 'meter';
  label: string;
  /** What stands there while nothing is picked. */
  none: string;
  of: readonly { id: string; title: string }[];
}
const Known = ({ name, label, none, of }: KnownProps) => (
  <div class="field">
    <label for={`quick-${name}`}>{label}</label>
    <select id={`quick-${name}`} name={name}>
      <option value="">{none}</option>
      {of.map(({ id, title }) => (
        <option value={id}>{title}</option>
      ))}
    </select>
  </div>
);
