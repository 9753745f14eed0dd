import { useEffect, useState } from 'hono/jsx/dom';
import type { Catalogue } from '../../server/conversation-port.ts';
import { api } from '../api.ts';
import { troubleWords } from '../words.ts';

/** What judging one reading takes: the checks, machines and meters the program knows, and the reader of a line, which nobody else needs. */
export interface QuickParts {
  catalogue: Catalogue;
  readLine: typeof import('./read-line.ts').readLine;
}

/** Both are fetched once. @returns `trouble` in words while one of them cannot be had */
export function useQuickParts(): { parts?: QuickParts; trouble: string; fetchAgain: () => void } {
  const [parts, setParts] = useState<QuickParts | undefined>(undefined);
  const [trouble, setTrouble] = useState('');
  const fetchNow = async () => {
    setTrouble('');
    const [got, reader] = await Promise.all([api.catalogue(), import('./read-line.ts').catch(() => undefined)]);
    if (got.ok && reader) setParts({ catalogue: got.value, readLine: reader.readLine });
    else setTrouble(troubleWords(got.ok ? { is: 'offline' } : got.failure));
  };
  useEffect(() => void fetchNow(), []);
  return { parts, trouble, fetchAgain: () => void fetchNow() };
}
