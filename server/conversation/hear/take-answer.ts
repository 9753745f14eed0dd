import type { AnswerInput } from '../../conversation-port.ts';
import { asMachine } from '../../understand/built-otherwise.ts';
import { COMPLAINT } from '../stand/ask.ts';
import { worthAsking } from '../stand/danger-ask.ts';
import { isDanger } from '../stand/dangers.ts';
import { note, noted } from '../stand/notes.ts';
import { plateProblem } from '../stand/plate.ts';
import { type Act, type Hearing, STATEMENTS, take } from './hearing.ts';
import { notThere } from './not-there.ts';
import talkFacts from './talk-facts.json' with { type: 'json' };

export function takeComplaint(h: Hearing, { family }: Act<'complaint'>): void {
  if (h.d.k.families.has(family)) take(h, { fact: COMPLAINT, value: family });
  else h.heard.unknownFamily = family;
}

export function takeHazard(h: Hearing, { fact, value, sure }: Act<'hazard'>): void {
  const unsure = !sure && h.d.k.facts.get(fact)?.unsureIs !== undefined;
  take(h, unsure ? { fact, act: 'unsure' } : { fact, value }, { correcting: h.correcting });
}

export function takeSuspected({ d, heard }: Hearing, { fact }: Act<'suspected'>): void {
  if (worthAsking(d, fact) && !heard.suspects.includes(fact)) heard.suspects.push(fact);
}

export function takeDenied(h: Hearing, act: Act<'denied'>): void {
  const input = notThere(h.d, act);
  if (input) take(h, input, { correcting: true, wholeList: false });
}

/** "I don't think so" to a danger is no "no". */
export function takeAnswer(h: Hearing, act: Act<'answer' | 'machine'>): void {
  const { k } = h.d;
  const hedged = act.is === 'answer' && act.sure === false;
  // Live work and a danger made safe want a clear word, not an "ok" in passing.
  if (hedged && STATEMENTS.has(act.fact)) return;
  const unsure = hedged && k.facts.get(act.fact)?.unsureIs !== undefined && !isDanger(k, act.fact, act.value);
  const input: AnswerInput = unsure ? { fact: act.fact, act: 'unsure' } : { fact: act.fact, value: act.value };
  if (act.is === 'answer' && act.unit) input.unit = act.unit;
  take(h, input, { correcting: h.correcting, wholeList: false });
}

/** What was picked up on the way and answers a question of ours as well. */
const SAYS_TOO: Record<string, Record<string, Record<string, string>>> = talkFacts.saysToo;

export function takeNoted(h: Hearing, { fact: name, value }: Act<'noted'>): void {
  h.heard.drafts.push(noted(name, value, h.said));
  for (const [fact, is] of Object.entries(SAYS_TOO[name]?.[String(value)] ?? {}))
    if (!h.told.has(fact)) take(h, { fact, value: is }, { correcting: h.correcting, wholeList: false });
}

export function takePlate({ d, said, heard }: Hearing, { is: _, evidence: __, ...plate }: Act<'plate'>): void {
  const bad = plateProblem({ ...d.at.facts.machine.plate, ...plate });
  if (bad) heard.wrong.push(bad);
  else heard.drafts.push({ act: 'set', said, set: { machine: { plate } } });
}

/** How the machine is built; where no drawing in hand can be built so, the words are kept for the job sheet. */
export function takeBuilt({ d, said, heard }: Hearing, act: Act<'built'>): void {
  const told = heard.drafts
    .flatMap((draft) => (draft.act === 'set' && draft.set.machine?.variants ? [draft.set.machine] : []))
    .at(-1);
  const now = asMachine(d.k, { ...d.at.hand, ...told }, act);
  if (now === 'elsewhere') heard.drafts.push(note('noted', said));
  else if (now) heard.drafts.push({ act: 'set', said, set: { machine: now } });
}
