import type { Meaning } from '../../types.ts';
import type { Draft } from '../stand/notes.ts';
import type { Doorway } from './door.ts';
import { type Act, type Heard, type Hearing, hearing } from './hearing.ts';
import {
  takeAnswer,
  takeBuilt,
  takeComplaint,
  takeDenied,
  takeHazard,
  takeNoted,
  takePlate,
  takeSuspected,
} from './take-answer.ts';
import { takePlainNo } from './take-no.ts';
import { takeReading } from './take-reading.ts';
import { takeTalk } from './take-talk.ts';
import { togetherRead } from './together-read.ts';

/** What the acts of one utterance mean in this case, under the question that is open. Pure; stores nothing. */
export function hear(d: Doorway, acts: readonly Meaning[], said: string): Heard {
  const h = hearing(d, acts, said);
  const { rest, which } = togetherRead(d, acts);
  if (which) h.heard.which = which;
  for (const act of rest) takeAct(h, act);
  return oneComplaint(h.heard);
}

/** Each kind of meaning has one taker. */
const TAKERS: { [Is in Meaning['is']]: (h: Hearing, act: Act<Is>) => void } = {
  complaint: takeComplaint,
  hazard: takeHazard,
  suspected: takeSuspected,
  'plain-no': takePlainNo,
  denied: takeDenied,
  answer: takeAnswer,
  machine: takeAnswer,
  noted: takeNoted,
  reading: takeReading,
  plate: takePlate,
  built: takeBuilt,
  talk: takeTalk,
  ambiguous: ({ heard }, { question, options }) => {
    heard.which ??= { question, options };
  },
};
const takeAct = <Is extends Meaning['is']>(h: Hearing, act: Act<Is>): void =>
  (TAKERS[act.is] as (h: Hearing, act: Act<Is>) => void)(h, act);

/** One utterance may tell two complaints: they are set together. */
function oneComplaint(heard: Heard): Heard {
  const isComplaint = (draft: Draft): boolean => draft.act === 'set' && draft.set.families !== undefined;
  const complaints = heard.drafts.filter(isComplaint);
  const [first, ...more] = complaints;
  if (!first || !more.length) return heard;
  const families = [...new Set(complaints.flatMap((draft) => (draft.act === 'set' && draft.set.families) || []))];
  heard.drafts = [...heard.drafts.filter((draft) => !isComplaint(draft)), { act: 'set', said: first.said, set: { families } }];
  return heard;
}
