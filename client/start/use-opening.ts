import { useEffect, useState } from 'hono/jsx/dom';
import type { Language } from '../../server/languages.ts';
import { talkOf } from '../case/use-talk.ts';
import { isText, keep, kept, keptUnits } from '../kept.ts';
import { startLanguage } from '../language.ts';
import { go } from '../route.ts';
import { speak, word } from '../say.ts';
import type { Audience, Units } from '../types.ts';
import { AUDIENCES, troubleWords } from '../words.ts';
import { openWith } from './open-with.ts';

/** How a case is to be opened: as it was here the last time, until something else is picked. */
export interface Picks {
  audience: Audience;
  units: Units;
  language: Language;
}
const keptAudience = () => AUDIENCES.find((id) => id === kept('audience', isText));

export interface Opening {
  picks: Picks;
  pick: (change: Partial<Picks>) => void;
  busy: boolean;
  trouble: string;
  /** Opens a case and tells it the first words. @returns whether there were any */
  open: (text: string) => boolean;
}
export function useOpening(): Opening {
  const [picks, setPicks] = useState<Picks>({
    audience: keptAudience() ?? 'homeowner',
    units: keptUnits(),
    language: startLanguage(),
  });
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState('');
  useEffect(() => void speak(picks.language), [picks.language]);

  const openNow = async (text: string) => {
    setBusy(true);
    setTrouble('');
    for (const [name, picked] of Object.entries(picks)) keep(name, picked);
    const opened = await openWith(picks);
    if (!opened.ok) {
      setBusy(false);
      setTrouble(troubleWords(opened.failure));
      return;
    }
    const talk = talkOf(opened.value.case.id, opened.value);
    // The case is there now: if the words do not get through they go on in its own field.
    if (!(await talk.say(text))) talk.draft = text;
    go({ at: 'case', id: talk.id });
  };
  const open = (text: string) => {
    if (!text) setTrouble(word('what-missing'));
    else if (!busy) void openNow(text);
    return text !== '';
  };
  return { picks, pick: (change) => setPicks((now) => ({ ...now, ...change })), busy, trouble, open };
}
