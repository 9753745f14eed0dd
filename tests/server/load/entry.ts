import { serveNode } from '../../../server/serve-node.ts';
import { littleConversation } from '../app/little-conversation.ts';

// The real server in a process of its own, but for the conversation: what is measured and killed here is the machinery around it.
await serveNode({
  conversation: littleConversation(),
  demos: { list: async () => [], read: async () => undefined },
  env: process.env,
  home: process.env.TEST_HOME ?? '.cache',
});
