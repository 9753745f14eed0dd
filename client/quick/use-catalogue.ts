import { useEffect, useState } from 'hono/jsx/dom';
import type { Catalogue } from '../../server/conversation-port.ts';
import { api } from '../api.ts';
import { troubleWords } from '../words.ts';

/** The checks, machines and meters the program knows, fetched once. @returns `trouble` in words while they cannot be had */
export function useCatalogue(): { catalogue?: Catalogue; trouble: string; fetchAgain: () => void } {
  const [catalogue, setCatalogue] = useState<Catalogue | undefined>(undefined);
  const [trouble, setTrouble] = useState('');
  const fetchNow = async () => {
    setTrouble('');
    const got = await api.catalogue();
    if (got.ok) setCatalogue(got.value);
    else setTrouble(troubleWords(got.failure));
  };
  useEffect(() => void fetchNow(), []);
  return { catalogue, trouble, fetchAgain: () => void fetchNow() };
}
