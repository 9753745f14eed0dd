import { useEffect, useState } from 'hono/jsx/dom';
import { keep, kept } from '../kept.ts';
import { word } from '../say.ts';
import type { Line } from '../types.ts';
import { callersWords, clock } from './call.ts';

interface PhoneCall {
  id: string;
  from: number;
  to?: number;
}
const arePhoneCalls = (value: unknown): value is PhoneCall[] =>
  Array.isArray(value) && value.every((one) => typeof one?.id === 'string' && typeof one?.from === 'number');
const MOST_KEPT = 50;

/** When this case was first shown here; the call goes on until somebody says it is over, a reload and a look elsewhere included. */
function phoneCallOf(id: string): PhoneCall {
  const calls = kept('calls', arePhoneCalls) ?? [];
  const known = calls.find((call) => call.id === id);
  if (known) return known;
  const call = { id, from: Date.now() };
  keep('calls', [call, ...calls].slice(0, MOST_KEPT));
  return call;
}
function end(call: PhoneCall): PhoneCall {
  const { to, ...on } = call;
  const now = to === undefined ? { ...call, to: Date.now() } : on;
  keep('calls', [now, ...(kept('calls', arePhoneCalls) ?? []).filter(({ id }) => id !== call.id)]);
  return now;
}

/** What an agent keeps an eye on while talking: how long the call has gone on, and what the caller said in their own words. */
export function CallBar({ id, lines }: { id: string; lines: Line[] }) {
  const [call, setCall] = useState(() => phoneCallOf(id));
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    if (call.to !== undefined) return;
    const tick = setInterval(() => setNow(Date.now()), 1000);
    return () => clearInterval(tick);
  }, [call.to]);
  const words = callersWords(lines);
  return (
    <section class="call" aria-label={word('call')}>
      <p class="call-line">
        <span class="tag">{word(call.to === undefined ? 'on-the-line' : 'call-over')}</span>
        <span class="call-time" role="timer" aria-label={word('time-on-call')}>
          {clock((call.to ?? now) - call.from)}
        </span>
        <button type="button" class="plain-button" onClick={() => setCall(end(call))}>
          {word(call.to === undefined ? 'end-call' : 'call-on')}
        </button>
      </p>
      {words.length > 0 && (
        <p class="caller-words">
          <span class="tag">{word('callers-words')}</span> {words.map((text) => [<q class="said">{text}</q>, ' '])}
        </p>
      )}
    </section>
  );
}
