import { consult, foldCase, machineInHand, standing } from '../../../rules/index.ts';
import type { Answer, CaseFacts, Consultation, Knowledge, MachineInHand, Prepared, Reading } from '../../../rules/types.ts';
import { type Language, languageFor } from '../../languages.ts';
import type { CaseRecord } from '../../types.ts';
import { isNote } from './notes.ts';
import { withWatts } from './plate.ts';

/** What the answers of a case come to. Notes of the talk are no part of it: the same told answers give the same. */
export interface Reasoned {
  facts: CaseFacts;
  hand: MachineInHand;
  p: Prepared;
  c: Consultation;
}
/** A case as it stands after its answers: everything a reply is made of. */
export interface Standing extends Reasoned {
  record: Pick<CaseRecord, 'audience' | 'settings' | 'answers'>;
  /** The language this person is spoken to in. */
  language: Language;
  /** Not taken back. */
  answers: Answer[];
}
/** What reasons about a case. `consult` is the engine's, unless another is given. */
export interface Mind {
  k: Knowledge;
  prepared: (machine: MachineInHand) => Prepared;
  consult?: typeof consult | undefined;
}

/** All of a record that is reasoned about. */
export interface Grounds extends Pick<CaseRecord, 'audience'> {
  /** As the case was opened; what is written on the job sheet and the language are no part of it. */
  settings: Pick<CaseRecord['settings'], 'families' | 'units' | 'machine'>;
  /** Neither taken back nor a note. */
  answers: readonly Answer[];
}
export function groundsIn({ audience, settings, answers }: Standing['record']): Grounds {
  const { families, units, machine } = settings;
  return {
    audience,
    settings: { ...(families && { families }), ...(units && { units }), ...(machine && { machine }) },
    answers: standing(answers).filter((a) => !isNote(a)),
  };
}

export async function reason({ k, prepared, consult: ours = consult }: Mind, grounds: Grounds): Promise<Reasoned> {
  const { audience, settings } = grounds;
  const opened = {
    audience,
    families: settings.families ?? [],
    units: settings.units ?? ('us' as const),
    ...(settings.machine && { machine: settings.machine }),
  };
  const facts = foldCase(k, opened, grounds.answers);
  const inHand = machineInHand(k, facts);
  const hand = { ...inHand, plate: withWatts(inHand.plate) };
  const p = prepared(hand);
  const c = await ours(p, facts);
  return { facts, hand, p, c: facts.families.length || c.stops.length ? c : begun(c) };
}

/** A record beside what its answers come to. */
export const standingOf = (record: Standing['record'], reasoned: Reasoned): Standing => ({
  ...reasoned,
  record,
  language: languageFor(record.settings.language, reasoned.facts.audience),
  answers: standing(record.answers),
});

export const stand = async (mind: Mind, record: Standing['record']): Promise<Standing> =>
  standingOf(record, await reason(mind, groundsIn(record)));

/** Nobody has said yet what the dryer does: no end can be named, whatever was read. */
const begun = ({ conclusion: _, referral: __, ...c }: Consultation): Consultation => c;

/** The newest reading of a fact that stands. */
export const newest = (f: CaseFacts, fact: string): Reading | undefined => f.readings.findLast((r) => r.fact === fact);
