import { orDidYouMean } from '../closest.ts';
import type { Stop } from '../stop.ts';
import type { StopQuestion } from '../stop-question.ts';
import type { Law } from './law.ts';

/** Stops have an order among themselves, words for every region, and numbers that somebody gave. */
export const stopsInOrder: Law = (shelf) => {
  const out: string[] = [];
  const precedence = new Map<number, string>();
  const dials = (shelf.loaded.beside.numbers as Record<string, Record<string, string>> | undefined) ?? {};
  for (const stop of shelf.list<Stop>('stops.json')) {
    const where = `stops.json, stop "${stop.id}"`;
    const other = precedence.get(stop.precedence);
    if (other !== undefined) out.push(`${where}, precedence: ${stop.precedence} is taken by "${other}"`);
    precedence.set(stop.precedence, stop.id);
    if (!stop.sayNow.default) out.push(`${where}, sayNow: "default" is missing; it serves every region without its own words`);
    for (const { text } of Object.values(stop.sayNow).flat())
      for (const [, name] of text.matchAll(/\{(\w+)\}/g))
        if (!(name! in dials))
          out.push(`${where}, sayNow: there is no number "${name}"${orDidYouMean(name!, Object.keys(dials))}`);
  }
  for (const [name, by] of Object.entries(dials)) if (!by.default) out.push(`stops.json, numbers.${name}: "default" is missing`);
  return out;
};

/** No question is left without an answer, and no answer stands where it is never said. */
export const answersThatFit: Law = (shelf) => {
  const out: string[] = [];
  for (const question of shelf.list<StopQuestion>('stop-questions.json')) {
    const seen = new Set<string>();
    for (const [i, answer] of question.answers.entries()) {
      const where = `stop-questions.json, question "${question.id}", answer "${answer.id}"`;
      if (seen.has(answer.id)) out.push(`${where}: stands there twice; ids are used once`);
      seen.add(answer.id);
      const always = !answer.when && !answer.touches;
      const last = i === question.answers.length - 1;
      if (always && !last)
        out.push(`${where}: fits always, so nothing after it is ever said; the answer that fits always comes last`);
      if (last && !always)
        out.push(`${where}: is the last and does not fit always; the last one has neither "when" nor "touches"`);
    }
  }
  return out;
};
