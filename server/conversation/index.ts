import { knowledge } from '../../rules/index.ts';
import type { Conversation } from '../conversation-port.ts';
import { checkLexicon, understand } from '../understand/index.ts';
import { checkTalkFiles } from './check-talk-files.ts';
import { type ConversationParts, conversationOf } from './create.ts';
import { ourWords } from './words/index.ts';

/**
 * The door of the conversation: the knowledge and the words that come with the program, unless a part is given.
 * @throws KnowledgeError, WordsError, LexiconError with every problem at once
 */
export async function createConversation(deps: Partial<ConversationParts> = {}): Promise<Conversation> {
  const k = deps.k ?? knowledge();
  if (!deps.understand) {
    checkLexicon(k);
    checkTalkFiles(k);
  }
  return conversationOf({ ...deps, k, words: deps.words ?? ourWords(k), understand: deps.understand ?? understand });
}
