import type { Audience, Knowledge } from '../../../rules/types.ts';
import { askedOf } from './from-knowledge.ts';
import { placeOf } from './same-ids.ts';
import type { Spoken, Words } from './shapes.ts';

const EVERYBODY: readonly Audience[] = ['homeowner', 'agent', 'technician'];

/**
 * Texts of the first language that would be borrowed: whoever may be shown a check, a fact or a fault hears words of their own for it, or
 * the one text for everybody, and never the technician's.
 */
export function borrowedWords(words: Words, k: Knowledge): string[] {
  const out: string[] = [];
  const own = (where: string, text: Spoken | undefined, who: readonly Audience[]): void => {
    if (text === undefined || typeof text === 'string') return;
    for (const a of who)
      if (text[a] === undefined) out.push(`${where}: has no words for ${a === 'agent' ? 'an agent' : `a ${a}`}`);
  };
  for (const c of k.checks.values()) {
    const at = `${placeOf(words, 'check')}check "${c.id}"`;
    const said = words.checks[c.id];
    for (const field of ['name', 'ask', 'how', 'example', 'why'] as const) own(`${at}, ${field}`, said?.[field], askedOf(c));
    for (const [id, text] of Object.entries(said?.choices ?? {})) own(`${at}, choice "${id}"`, text, askedOf(c));
  }
  for (const f of k.facts.values()) {
    const at = `${placeOf(words, 'fact')}fact "${f.id}"`;
    own(`${at}, label`, words.facts[f.id]?.label, f.whoCanTell);
    for (const [id, text] of Object.entries(words.facts[f.id]?.choices ?? {})) own(`${at}, choice "${id}"`, text, f.whoCanTell);
  }
  for (const id of k.faults.keys()) {
    const at = `${placeOf(words, 'fault')}fault "${id}"`;
    own(`${at}, label`, words.faults[id]?.label, EVERYBODY);
    own(`${at}, says`, words.faults[id]?.says, ['homeowner', 'technician']);
  }
  return out;
}
