import { useRef, useState } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { word } from '../say.ts';
import type { Units, Value } from '../types.ts';
import { entered, type HowRead, readings } from './answers.ts';
import { NumberField } from './number-field.tsx';

interface Props {
  ask: Ask;
  units: Units;
  /** Label -> where the leads go and what a good one shows, as the question said it. */
  hints: Record<string, string>;
  busy: boolean;
  onAnswer: (answers: AnswerInput[]) => void;
}

/** All readings of one visit. A field left empty is not sent; at least one number is needed. */
export function ReadingsForm({ ask, units, hints, busy, onAnswer }: Props) {
  const values = useRef<Record<string, Value | undefined>>({}).current!;
  const how = useRef<HowRead>({}).current!;
  const [errors, setErrors] = useState<Record<string, string>>({});
  const isRead = (unit: string) => ask.reads.some((read) => read.unit === unit);
  const submit = (e: Event) => {
    e.preventDefault();
    const form = e.target as HTMLFormElement;
    const field = (fact: string) => form.querySelector<HTMLInputElement>(`#read-${fact}`);
    const { given, wrong } = entered(ask, values, (fact) => !field(fact)?.value.trim());
    setErrors(Object.fromEntries(wrong.map((fact) => [fact, word('number-needed')])));
    if (wrong[0] !== undefined) field(wrong[0])?.focus();
    else onAnswer(readings(ask, given, how));
  };
  return (
    <form class="readings" onSubmit={submit} noValidate>
      {ask.reads.map((read) => (
        <NumberField
          id={`read-${read.fact}`}
          label={read.label}
          hint={hints[read.label] ?? read.pointWords}
          unit={read.unit}
          units={units}
          error={errors[read.fact]}
          onValue={(value) => {
            values[read.fact] = value;
          }}
        />
      ))}
      <div class="reading-end">
        {isRead('Ω') && <How is="lifted" how={how} words={word('lead-is-off')} />}
        {isRead('V') && <How is="lowImpedance" how={how} words={word('low-impedance')} />}
        <button class="main-button" type="submit" disabled={busy}>
          {word(ask.reads.length > 1 ? 'enter-readings' : 'enter-reading')}
        </button>
      </div>
    </form>
  );
}

/** A box about how all of them were read; not ticked says nothing. */
const How = ({ is, how, words }: { is: keyof HowRead; how: HowRead; words: string }) => (
  <label class="tick">
    <input
      type="checkbox"
      onChange={(e: Event) => {
        if ((e.target as HTMLInputElement).checked) how[is] = true;
        else delete how[is];
      }}
    />
    {words}
  </label>
);
