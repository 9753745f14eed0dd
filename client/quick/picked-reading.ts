import type { CatalogueCheck, ReadingInput } from '../../server/conversation-port.ts';
import type { Value } from '../types.ts';
import { readNumber } from '../units.ts';
import type { Match } from './match.ts';

/** The check and the reading that are picked, else the first ones. @returns undefined where there is nothing to pick from */
export function pickedOf(checks: readonly CatalogueCheck[], checkId: string, fact: string): Match | undefined {
  const check = checks.find(({ id }) => id === checkId) ?? checks[0];
  const read = check?.reads.find((one) => one.fact === fact) ?? check?.reads[0];
  return check && read && { check, read };
}

/**
 * What the form says of the picked reading, `value` in the reading's own unit. Fields: volts, watts, machine, meter, lifted,
 * lowImpedance; an empty one says nothing. @returns why it cannot be judged, in words, or what is to be judged
 */
export function readingIn(
  form: FormData,
  { check, read }: Match,
  value: Value | undefined,
): { refused: string } | { input: ReadingInput } {
  if (value === undefined) return { refused: 'The reading is missing: a number, such as 10.2, or OL.' };
  const [volts, total_w] = [plainNumber(form, 'volts'), plainNumber(form, 'watts')];
  if (volts === 'none' || total_w === 'none') return { refused: 'Volts and watts are plain numbers, such as 240 and 5600.' };
  const plate = { ...(volts !== undefined && { volts }), ...(total_w !== undefined && { total_w }) };
  const [machine, meter] = [textIn(form, 'machine'), textIn(form, 'meter')];
  return {
    input: {
      check: check.id,
      fact: read.fact,
      value,
      unit: read.unit,
      ...(Object.keys(plate).length > 0 && { plate }),
      ...(machine && { machine }),
      ...(meter && { meter }),
      ...(form.get('lifted') && { lifted: true }),
      // Said either way: a box not ticked means that the meter is not on low impedance.
      ...(read.lowImpedance !== undefined && { lowImpedance: form.get('lowImpedance') !== null }),
    },
  };
}

const textIn = (form: FormData, name: string): string => String(form.get(name) ?? '').trim();

/** @returns undefined where nothing is typed, 'none' where it is no number */
function plainNumber(form: FormData, name: string): number | 'none' | undefined {
  const text = textIn(form, name);
  if (text === '') return undefined;
  const typed = readNumber(text);
  return typeof typed === 'number' ? typed : 'none';
}
