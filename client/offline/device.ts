import type { DeviceState, ToWorker } from '../worker/messages.ts';

/** The page's end of the wire to the worker that answers when there is no network. */
let state: DeviceState | undefined;
let missing = false;
const listeners = new Set<(state: DeviceState | undefined) => void>();

/** What the device said last; undefined until a worker is there. */
export const deviceState = () => state;
/** No worker can be had: an old browser, or a page over plain http from another machine. */
export const deviceMissing = () => missing;
export function onDevice(listener: (state: DeviceState | undefined) => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}
export const tellWorker = (message: ToWorker): void => navigator.serviceWorker?.controller?.postMessage(message);

function lacking(): void {
  missing = true;
  for (const listener of listeners) listener(undefined);
}

/** Starts the worker. Without one the page still works; it only cannot answer when the network is gone. */
export function startDevice(keep: () => string | undefined): void {
  if (!('serviceWorker' in navigator)) {
    lacking();
    return;
  }
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
  const register = () => void serviceWorker.register('/sw.js', { scope: '/' }).catch(lacking);
  const whenIdle = () =>
    'requestIdleCallback' in globalThis ? requestIdleCallback(register, { timeout: 3000 }) : setTimeout(register, 1000);
  if (document.readyState === 'complete') whenIdle();
  else addEventListener('load', whenIdle);
}
const TRY_AGAIN_MS = 15_000;
