import { memoryStore } from '../../../server/cases/memory.ts';
import { storeContract } from './contract.ts';

storeContract('in memory', async () => memoryStore());
