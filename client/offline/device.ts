import type { DeviceState, ToWorker } from '../worker/messages.ts';

/** The page's end of the wire to the worker that answers when there is no network. */
let state: DeviceState | undefined;
const listeners = new Set<(state: DeviceState) => void>();

/** What the device said last; undefined until a worker is there. */
export const deviceState = () => state;
export function onDevice(listener: (state: DeviceState) => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}
export const tellWorker = (message: ToWorker): void => navigator.serviceWorker?.controller?.postMessage(message);

/** Starts the worker. Without one the page still works; it only cannot answer when the network is gone. */
export function startDevice(keep: () => string | undefined): void {
  if (!('serviceWorker' in navigator)) return;
  const { serviceWorker } = navigator;
  serviceWorker.addEventListener('message', ({ data }: MessageEvent<DeviceState>) => {
    if (data?.is !== 'device') return;
    state = data;
    for (const listener of listeners) listener(data);
  });
  const greet = () => {
    const id = keep();
    // Opened before the worker was there: it has no copy yet.
    if (id) tellWorker({ ask: 'keep', id });
    tellWorker({ ask: 'state' });
    tellWorker({ ask: 'send' });
  };
  serviceWorker.addEventListener('controllerchange', greet);
  greet();
  addEventListener('online', () => tellWorker({ ask: 'send' }));
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') tellWorker({ ask: 'send' });
  });
  // The server may come back with no word from the browser about the network.
  setInterval(() => {
    if (state && Object.keys(state.waiting).length > 0) tellWorker({ ask: 'send' });
  }, TRY_AGAIN_MS);
  // The page comes first: the worker brings all knowledge along, and nobody needs it in the first second.
  const register = () => void serviceWorker.register('/sw.js', { scope: '/' }).catch(() => {});
  const whenIdle = () =>
    'requestIdleCallback' in globalThis ? requestIdleCallback(register, { timeout: 3000 }) : setTimeout(register, 1000);
  if (document.readyState === 'complete') whenIdle();
  else addEventListener('load', whenIdle);
}
const TRY_AGAIN_MS = 15_000;
