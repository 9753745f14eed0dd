import { resolve } from 'node:path';
import { createConversation } from './conversation/index.ts';
import { demosFrom } from './demos.ts';
import { serveNode } from './serve-node.ts';

// Built as .build/server/start-node.js, two folders below the project.
await serveNode({
  conversation: await createConversation(),
  demos: demosFrom(),
  env: process.env,
  home: resolve(import.meta.dirname, '../..'),
});
