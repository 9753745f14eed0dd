import { useRef, useState } from 'hono/jsx/dom';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { Ask } from '../../server/types.ts';
import { word } from '../say.ts';
import type { Units, Value } from '../types.ts';
import { readings } from './answers.ts';
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
  const values = useRef<Record<string, Value | undefined>>({});
  const how = useRef({ lifted: false, lowImpedance: false });
  const [errors, setErrors] = useState<Record<string, string>>({});
  const volts = ask.reads.some((read) => read.unit === 'V');
  const ohms = ask.reads.some((read) => read.unit === 'Ω');

  const submit = (e: Event) => {
    e.preventDefault();
    const form = e.target as HTMLFormElement;
    const typed = (fact: string) => form.querySelector<HTMLInputElement>(`#read-${fact}`)?.value.trim() ?? '';
    const given = ask.reads.flatMap(({ fact }) => {
      const value = values.current?.[fact];
      return value === undefined ? [] : [{ fact, value }];
    });
    const wrong = ask.reads.filter(
      ({ fact }) => values.current?.[fact] === undefined && (typed(fact) !== '' || given.length === 0),
    );
    setErrors(Object.fromEntries(wrong.map(({ fact }) => [fact, word('number-needed')])));
    if (wrong.length > 0) form.querySelector<HTMLInputElement>(`#read-${wrong[0]!.fact}`)?.focus();
    else
      onAnswer(
        readings(ask, given, {
          ...(how.current?.lifted && { lifted: true }),
          ...(how.current?.lowImpedance && { lowImpedance: true }),
        }),
      );
  };
  const tick = (name: 'lifted' | 'lowImpedance', words: string) => (
    <label class="tick">
      <input
        type="checkbox"
        onChange={(e: Event) => {
          if (how.current) how.current[name] = (e.target as HTMLInputElement).checked;
        }}
      />
      {words}
    </label>
  );
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
            if (values.current) values.current[read.fact] = value;
          }}
        />
      ))}
      <div class="reading-end">
        {ohms && tick('lifted', word('lead-is-off'))}
        {volts && tick('lowImpedance', word('low-impedance'))}
        <button class="main-button" type="submit" disabled={busy}>
          {word(ask.reads.length > 1 ? 'enter-readings' : 'enter-reading')}
        </button>
      </div>
    </form>
  );
}
