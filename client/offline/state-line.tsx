import { useEffect, useState } from 'hono/jsx/dom';
import { hashOf } from '../route.ts';
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
      {!device && missing && 'This page needs the network.'}
      {device && words(device.network, waiting, sent && !conflict)}
      {conflict && (
        <>
          {' '}
          <a href={hashOf({ at: 'case', id: conflict.id })}>Case {conflict.id.slice(0, 6)} went two ways: look at it.</a>
        </>
      )}
    </p>
  );
}

function words(network: boolean, waiting: number, sent: boolean): string {
  const turns = count(waiting, 'answer waits', 'answers wait');
  if (!network) return waiting > 0 ? `No network. This device answers; ${turns} to be sent.` : 'No network. This device answers.';
  if (waiting > 0) return `Network is back: ${turns} to be sent.`;
  return sent ? 'Network is back. All that was entered here was sent.' : 'Ready to go on without a network.';
}
