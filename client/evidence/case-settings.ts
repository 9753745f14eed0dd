import type { Catalogue } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';
import type { Settings } from '../api.ts';
import type { OwnMeter } from '../meter.ts';
import type { WordId } from '../say.ts';
import { readNumber } from '../units.ts';

type Machine = NonNullable<Settings['machine']>;
/** A machine's variant, a meter, a language: what can be picked by its name. */
export interface Named {
  id: string;
  title: string;
}
/** More is no lead resistance but a broken lead; the program takes no more either. */
const MOST_LEADS_OHM = 5;

/** Ways the machine in hand may be built otherwise; of any machine while it is not known. One name on several machines is one way. */
export function variantsOf(catalogue: Catalogue, circuits: readonly string[] = []): Named[] {
  const machines = catalogue.machines.filter(({ id }) => circuits.length === 0 || circuits.includes(id));
  return [...new Map(machines.flatMap(({ variants }) => variants).map((variant) => [variant.id, variant])).values()];
}

/**
 * What the form says otherwise than the case has it; nothing = all is as it was. Fields: volts, watts, leads, variant (as often as
 * ticked), meter, units, language, audience; a field that is not there says nothing.
 * @param variants those that are shown to be ticked; absent = the form has neither variants nor a meter
 * @returns the word for what is wrong with a number, or what is to be told
 */
export function changesIn(
  form: FormData,
  view: CaseView,
  variants?: readonly Named[],
): { wrong: WordId } | { changes: Settings } {
  const [volts, watts, leads] = [numberIn(form, 'volts'), numberIn(form, 'watts'), numberIn(form, 'leads')];
  if (volts === 'none' || watts === 'none') return { wrong: 'plain-numbers' };
  if (leads === 'none' || (leads !== undefined && !(leads >= 0 && leads <= MOST_LEADS_OHM))) return { wrong: 'leads-wrong' };
  const machine: Machine = {
    ...plateChange(view.machine.plate, volts, watts),
    ...(variants && meterChanges(form, view.machine, variants, leads)),
  };
  const [audience, units] = [pickedIn(form, 'audience', view.audience), pickedIn(form, 'units', view.units)];
  const language = pickedIn(form, 'language', view.language);
  return {
    changes: {
      ...(audience && { audience }),
      ...(units && { units }),
      ...(language && { language: language as Settings['language'] }),
      ...(Object.keys(machine).length > 0 && { machine }),
    },
  };
}

/** The meter as it is told now, for the next case on this device. @returns undefined where none of this was about the meter */
export function meterTold({ machine = {} }: Settings, before: OwnMeter): OwnMeter | undefined {
  if (machine.meter === undefined && machine.leads_ohm === undefined) return undefined;
  return { meter: machine.meter ?? before.meter, leads_ohm: machine.leads_ohm ?? before.leads_ohm };
}

/** What else is known of the plate stays. */
function plateChange(plate: Machine['plate'] = {}, volts?: number, total_w?: number): Pick<Machine, 'plate'> {
  if (volts === plate.volts && total_w === plate.total_w) return {};
  const { volts: _volts, total_w: _watts, ...rest } = plate;
  return { plate: { ...rest, ...(volts !== undefined && { volts }), ...(total_w !== undefined && { total_w }) } };
}

function meterChanges(form: FormData, before: Machine, shown: readonly Named[], leads_ohm?: number): Machine {
  const { variants = [], meter = '' } = before;
  const ticked = form.getAll('variant').map(String);
  const isShown = (id: string) => shown.some((variant) => variant.id === id);
  const own = pickedIn(form, 'meter', meter);
  return {
    ...(shown.some(({ id }) => ticked.includes(id) !== variants.includes(id)) && {
      variants: [...variants.filter((id) => !isShown(id)), ...ticked],
    }),
    ...(own && { meter: own }),
    ...(leads_ohm !== undefined && leads_ohm !== before.leads_ohm && { leads_ohm }),
  };
}

/** @returns undefined where nothing else than now is picked */
function pickedIn<T extends string>(form: FormData, name: string, now: T | undefined): T | undefined {
  const picked = form.get(name) as T | null;
  return picked !== null && picked !== now ? picked : undefined;
}

/** @returns undefined where nothing is typed, 'none' where it is no number */
function numberIn(form: FormData, name: string): number | 'none' | undefined {
  const text = String(form.get(name) ?? '').trim();
  if (text === '') return undefined;
  const typed = readNumber(text);
  return typeof typed === 'number' ? typed : 'none';
}
