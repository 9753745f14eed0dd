import { readdirSync, readFileSync } from 'node:fs';
import { knowledge } from '../../../rules/index.ts';
import type { Audience, Check } from '../../../rules/types.ts';
import { type GeneralWords, type Spoken, type WordsFile, wordsFile } from '../../../server/conversation/words/shapes.ts';

const folder = 'server/conversation/words/en';

/** Every words file in one, as it stands on disk. Throws what is wrong with the shape of a file. */
export function onDisk(): Required<Omit<WordsFile, '$schema' | 'general'>> & { general?: GeneralWords } {
  const all: ReturnType<typeof onDisk> = {
    checks: {},
    facts: {},
    faults: {},
    stops: {},
    dangers: {},
    stopAnswers: {},
    stopDone: {},
    checkNames: {},
    names: {},
  };
  for (const name of readdirSync(folder).filter((f) => f.endsWith('.json'))) {
    const file = wordsFile.parse(JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')));
    for (const key of ['checks', 'facts', 'faults', 'stops', 'dangers', 'stopAnswers', 'stopDone'] as const)
      Object.assign(all[key], file[key]);
    if (file.general) all.general = file.general;
  }
  return all;
}

export const AUDIENCES: readonly Audience[] = ['homeowner', 'agent', 'technician'];

/** Who may be asked a check at all. A caller never opts in, so levels 2 and 3 are never an agent's. */
export function askedOf(c: Check): readonly Audience[] {
  if (c.needs.includes('technician-only')) return ['technician'];
  if (c.needs.includes('homeowner-only')) return ['homeowner'];
  if (c.level <= 1) return AUDIENCES;
  return c.level <= 3 && c.needs.includes('opt-in') ? ['homeowner', 'technician'] : ['technician'];
}

/** One text as one audience gets it. `where` names file, id and field. */
export interface Text {
  where: string;
  to: Audience;
  text: string;
}

/** A text that stands for everybody, or one's own: never borrowed from the technician. */
export const ownWords = (s: Spoken | undefined, to: Audience): string | undefined => (typeof s === 'string' ? s : s?.[to]);
const heard = (s: Spoken, to: Audience): string => (typeof s === 'string' ? s : (s[to] ?? s.technician ?? ''));

/** Every text of checks, facts and faults, for each audience it may be shown to. What an agent reads aloud is a homeowner's. */
export function allTexts(): Text[] {
  const k = knowledge();
  const words = onDisk();
  const texts: Text[] = [];
  const say = (where: string, who: readonly Audience[], s: Spoken | undefined) => {
    if (s !== undefined) for (const to of who) texts.push({ where, to, text: heard(s, to) });
  };
  const sayAll = (where: string, who: readonly Audience[], record: Record<string, Spoken> | undefined) => {
    for (const [id, s] of Object.entries(record ?? {})) say(`${where} ${id}`, who, s);
  };
  for (const [id, c] of Object.entries(words.checks)) {
    const check = k.checks.get(id);
    if (!check) continue;
    const who = askedOf(check);
    for (const field of ['name', 'ask', 'how', 'example', 'why'] as const) say(`check ${id} ${field}`, who, c[field]);
    say(`check ${id} script`, ['homeowner'], c.script);
    sayAll(`check ${id} choice`, who, c.choices);
  }
  for (const [id, f] of Object.entries(words.facts)) {
    const who = k.facts.get(id)?.whoCanTell ?? [];
    say(`fact ${id} label`, who, f.label);
    sayAll(`fact ${id} choice`, who, f.choices);
    sayAll(`fact ${id} points`, who, f.points);
    sayAll(`fact ${id} means`, who, f.means);
  }
  for (const [id, f] of Object.entries(words.faults)) {
    say(`fault ${id} label`, AUDIENCES, f.label);
    say(`fault ${id} says`, AUDIENCES, f.says);
  }
  // A number to call, and whoever comes, stand for themselves; why and what are texts of their own.
  const put = (s: Spoken): Spoken =>
    JSON.parse(
      JSON.stringify(s)
        .replace(/\{(emergency|gasLine)\}/g, '911')
        .replace(/\{(who|signs)\}/g, 'a pro')
        .replace(/ ?\{why\}/g, ''),
    );
  for (const [id, s] of Object.entries(words.stops)) say(`stop ${id} why`, AUDIENCES, s.why);
  for (const [question, answers] of Object.entries(words.stopAnswers))
    for (const [id, a] of Object.entries(answers)) {
      if (a.says === '{why}') continue;
      say(`stop answer ${question} ${id}`, AUDIENCES, put(a.says));
      say(`stop answer ${question} ${id} gas`, AUDIENCES, a.gasUnknown && put(a.gasUnknown));
    }
  for (const [id, s] of Object.entries(words.stopDone)) say(`stop done ${id}`, AUDIENCES, put(s));
  return texts;
}
