import { describe, expect, test } from 'vitest';
import { understand } from '../../../server/understand/index.ts';

const dangers = (text: string) =>
  understand(text, undefined, 'homeowner', {}, 'en').acts.flatMap((a) => (a.is === 'hazard' ? [`${a.fact}=${a.value}`] : []));

/**
 * English words one letter from a word of danger, found by mending all 62,335 words of a spelling list (dictionary-en 4.0.0, its plurals,
 * past and -ing forms): none of them may become that danger.
 */
const NEAR_A_DANGER =
  'adopter blazer cracks explores feinted feinting glassy grassy likened sarky scarfed sharked sharking shouldered shouldering shucked ' +
  'shucking smocked smocking socking soldered soldering solders spared sparing spars sparred tangles tangling terrifies tinge tinged ' +
  'tingeing tinges tinging tinkled torches touched zipping';
describe('a word that is a word is no slip for a danger', () => {
  test.each(NEAR_A_DANGER.split(' '))('%s', (word) => {
    expect(dangers(word)).toEqual([]);
    expect(dangers(`the ${word} thing`)).toEqual([]);
  });
});

describe('a danger is that danger and no other', () => {
  test.each([
    ['i got zapped when i touched the door', ['shock_kind=tingle']],
    ['it bit me when i touched the metal', ['shock_kind=tingle']],
    ['felt electricity in my hand off the cabinet', ['shock_kind=tingle']],
    ['im holding the wires right now', ['hands_inside_live=yes']],
    ['got the panel open and its plugged in', ['hands_inside_live=yes']],
    ['dad is on the floor he touched it', ['person_held_or_hurt=yes']],
    ['lights in the kitchen flicker and dim', ['house_lights=bright-and-dim']],
    ['burning eyes and coughing near it', ['co_or_unwell=yes']],
  ])('%s', (text, told) => expect(dangers(text)).toEqual(told));
});
