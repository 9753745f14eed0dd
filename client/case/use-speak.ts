import { useEffect } from 'hono/jsx/dom';
import type { CaseView } from '../../server/types.ts';
import { isOurs } from '../language.ts';
import { speak } from '../say.ts';

/** The page speaks as its case does: a technician's case is in English whatever the browser asks for. */
export function useSpeak(view: CaseView | undefined): void {
  const language = view?.language;
  useEffect(() => void (isOurs(language) && speak(language)), [language]);
}
