/// <reference lib="webworker" />
import { createApp } from '../../server/app.ts';
import { createConversation } from '../../server/conversation/index.ts';
import { demosFrom } from '../../server/demos.ts';
import { newId } from '../../server/new-id.ts';
import { deviceStore } from './case-store.ts';
import { deviceAnswers } from './device-answers.ts';
import type { DeviceState, ToWorker } from './messages.ts';
import { dropOthers, keepPage, pageFile } from './page-files.ts';

const worker = self as unknown as ServiceWorkerGlobalScope;
const store = deviceStore();
const now = () => new Date();

/** The very app the server runs. Knowledge and words are read when it is first needed, not each time the worker wakes. */
const made = async () =>
  createApp({
    conversation: await createConversation(),
    store,
    demos: demosFrom(),
    now,
    newId,
    log: { request() {}, unexpected: (error) => console.error(error) },
    clientKey: () => 'this device',
    perMinute: 0,
    by: 'worker',
  });
let app: ReturnType<typeof made> | undefined;

/** Not in every browser, and not in the types. */
interface WithSync {
  sync?: { register(tag: string): Promise<void> };
}
async function tell(state: DeviceState): Promise<void> {
  if (Object.keys(state.waiting).length > 0)
    await (worker.registration as WithSync).sync?.register('send').catch(() => undefined);
  for (const page of await worker.clients.matchAll({ type: 'window' })) page.postMessage(state);
}
const device = deviceAnswers({
  store,
  app: () => {
    app ??= made();
    return app;
  },
  network: (...what) => fetch(...what),
  origin: worker.location.origin,
  now,
  tell,
});

worker.addEventListener('install', (event) => {
  event.waitUntil(keepPage().then(() => worker.skipWaiting()));
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(dropOthers().then(() => worker.clients.claim()));
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (origin !== worker.location.origin) return;
  if (pathname.startsWith('/api/') || pathname === '/openapi.json')
    return event.respondWith(device.answer(request, (work) => event.waitUntil(work)));
  const file = request.method === 'GET' ? pageFile(request) : undefined;
  if (file) event.respondWith(file);
});

worker.addEventListener('message', (event) => {
  const message = event.data as ToWorker;
  if (message.ask === 'state') event.waitUntil(device.state());
  else if (message.ask === 'send') event.waitUntil(device.sendAll());
  else if (message.ask === 'keep') event.waitUntil(device.keep(message.id));
  else if (message.ask === 'settled') event.waitUntil(device.settled(message.id));
});

// Where the browser offers it, what waits goes up even after the page was closed.
worker.addEventListener('sync', (event) => {
  (event as ExtendableEvent).waitUntil(device.sendAll());
});
