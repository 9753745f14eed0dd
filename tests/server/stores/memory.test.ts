import { expect, test } from 'vitest';
import { memoryStore } from '../../../server/cases/memory.ts';
import type { CaseStore } from '../../../server/cases/store.ts';
import { lostOnOpening, record, storeContract } from './contract.ts';

// Memory lasts as long as its store: what is opened again is that store.
storeContract(
  'in memory',
  async () => memoryStore(),
  async (store) => store,
);

test('a store that writes only what a case was opened with does not keep the contract', async () => {
  const forgetful = async (): Promise<CaseStore> => {
    const opened = memoryStore();
    await opened.create(record('kept'));
    return opened;
  };
  expect(await lostOnOpening(memoryStore(), forgetful)).toEqual(['now', 'before', 'turn', 'history', 'stale']);
});
