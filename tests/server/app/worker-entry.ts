import { createApp } from '../../../server/app.ts';
import { memoryStore } from '../../../server/cases/memory.ts';
import { newId } from '../../../server/new-id.ts';
import { littleConversation } from './little-conversation.ts';

/** The app as a worker would make it; bundled and run in an empty world by runtime.test.ts. */
export const app = createApp({
  conversation: littleConversation(),
  store: memoryStore(),
  demos: { list: async () => [], read: async () => undefined },
  now: () => new Date(),
  newId,
  log: { request() {}, unexpected: (error) => console.error(error) },
  clientKey: () => 'page',
  perMinute: 0,
  by: 'worker',
});
