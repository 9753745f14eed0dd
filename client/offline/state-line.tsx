import { useEffect, useState } from 'hono/jsx/dom';
import { hashOf } from '../route.ts';
import { word } from '../say.ts';
import { count } from '../words.ts';
import { deviceMissing, onDevice } from './device.ts';
import { useDevice } from './use-device.ts';

/** Who answers now, and what still has to be sent, in words. Said to a screen reader when it changes. */
export function StateLine() {
  const device = useDevice();
  const [sent, setSent] = useState(false);
  const [missing, setMissing] = useState(deviceMissing());
  useEffect(() => onDevice(() => setMissing(deviceMissing())), []);
  useEffect(() => {
    if (device?.sent.length) setSent(true);
    else if (device && !device.network) setSent(false);
  }, [device]);
  const waiting = Object.values(device?.waiting ?? {}).reduce((sum, n) => sum + n, 0);
  const conflict = device?.conflicts[0];
  return (
    <p class={device && !device.network ? 'device away' : 'device'} role="status">
      {!device && missing && word('network-needed')}
      {device && words(device.network, waiting, sent && !conflict)}
      {conflict && (
        <>
          {' '}
          <a href={hashOf({ at: 'case', id: conflict.id })}>{word('two-ways-look', { id: conflict.id.slice(0, 6) })}</a>
        </>
      )}
    </p>
  );
}

function words(network: boolean, waiting: number, sent: boolean): string {
  const waits = count(waiting, 'answer-waits', 'answers-wait');
  if (!network) return waiting > 0 ? word('no-network-waiting', { waiting: waits }) : word('no-network');
  if (waiting > 0) return word('network-back-waiting', { waiting: waits });
  return word(sent ? 'network-back-sent' : 'network-ready');
}
