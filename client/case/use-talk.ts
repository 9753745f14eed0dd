import { useEffect, useState } from 'hono/jsx/dom';
import { onDevice } from '../offline/device.ts';
import type { Opened } from '../types.ts';
import { createTalk } from './create-talk.ts';
import type { Talk, TalkState } from './talk.ts';

/** Talks of this page's life: going to the job sheet and back loses nothing. */
const talks = new Map<string, Talk>();

export function talkOf(id: string, opened?: Opened): Talk {
  const known = talks.get(id);
  if (known) return known;
  const talk = createTalk(id, opened);
  talks.set(id, talk);
  if (!opened) void talk.load();
  return talk;
}

export function useTalk(id: string): [Talk, TalkState] {
  const talk = talkOf(id);
  const [, redraw] = useState(0);
  useEffect(() => {
    redraw((n) => n + 1);
    const unsubscribe = talk.subscribe(() => redraw((n) => n + 1));
    addEventListener('online', talk.online);
    // What was entered without a network is with the server now, and the server's reply to it stands.
    const off = onDevice((device) => device?.sent.includes(id) && void talk.load());
    return () => {
      removeEventListener('online', talk.online);
      off();
      unsubscribe();
    };
  }, [id]);
  return [talk, talk.get()];
}
