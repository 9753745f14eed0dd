import { consult, foldCase, machineInHand, standing } from '../../../rules/index.ts';
import type { Answer, CaseFacts, Consultation, Knowledge, MachineInHand, Prepared, Reading } from '../../../rules/types.ts';
import type { CaseRecord } from '../../types.ts';
import { type Language, languageFor } from '../words/languages.ts';
import { withWatts } from './plate.ts';

/** A case as it stands after its answers: everything a reply is made of. */
export interface Standing {
  record: Pick<CaseRecord, 'audience' | 'settings' | 'answers'>;
  /** The language this person is spoken to in. */
  language: Language;
  /** Not taken back. */
  answers: Answer[];
  facts: CaseFacts;
  hand: MachineInHand;
  p: Prepared;
  c: Consultation;
}

export async function stand(
  k: Knowledge,
  prepared: (machine: MachineInHand) => Prepared,
  record: Standing['record'],
): Promise<Standing> {
  const { audience, settings } = record;
  const facts = foldCase(
    k,
    {
      audience,
      families: settings.families ?? [],
      units: settings.units ?? 'us',
      ...(settings.machine && { machine: settings.machine }),
    },
    record.answers,
  );
  const told = machineInHand(k, facts);
  const hand = { ...told, plate: withWatts(told.plate) };
  const p = prepared(hand);
  const c = await consult(p, facts);
  const language = languageFor(settings.language, facts.audience);
  return {
    record,
    language,
    answers: standing(record.answers),
    facts,
    hand,
    p,
    c: facts.families.length || c.stops.length ? c : begun(c),
  };
}

/** Nobody has said yet what the dryer does: no end can be named, whatever was read. */
const begun = ({ conclusion: _, referral: __, ...c }: Consultation): Consultation => c;

/** The newest reading of a fact that stands. */
export const newest = (f: CaseFacts, fact: string): Reading | undefined => f.readings.findLast((r) => r.fact === fact);

/** Is this fact's answer one that stops the talk? */
export const isDanger = (k: Knowledge, fact: string, value: unknown): boolean =>
  k.facts.get(fact)?.danger?.includes(String(value)) ?? false;
