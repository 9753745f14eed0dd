import { askServer, copyQuietly, type Device, inOrder, tellState } from './device.ts';
import type { Waiting } from './messages.ts';

/** Sends what waits of one case, oldest first. What the server refuses ends that, and all that is left is put before a person. */
export async function sendOut(device: Device, id: string): Promise<'sent' | 'no network' | 'conflict'> {
  const entries = await device.store.waiting(id);
  for (const [at, entry] of entries.entries()) {
    const response = await send(device, entry);
    if (!response) return 'no network';
    if (!response.ok) {
      const unsent = entries.slice(at).map((left) => left.unsent);
      await device.store.conflict({ id, why: await whyNot(response), unsent });
      await standAsServer(device, id);
      return 'conflict';
    }
    await device.store.sent(entry.n);
  }
  if (entries.length > 0) await standAsServer(device, id);
  return 'sent';
}

/** Sends what waits of every case, until the network is gone. */
export async function sendAll(device: Device): Promise<void> {
  const ids = new Set((await device.store.waiting()).map((entry) => entry.id));
  for (const id of ids) if ((await inOrder(device, id, () => sendOut(device, id))) === 'no network') return;
}

/** @returns undefined where the server cannot be reached, or is not able to take anything now */
async function send(device: Device, { method, path, body }: Waiting): Promise<Response | undefined> {
  try {
    const response = await askServer(device, { method, path, body: JSON.stringify(body) });
    return response.status === 429 || response.status >= 500 ? undefined : response;
  } catch {
    return undefined;
  }
}

async function whyNot(response: Response): Promise<string> {
  const told = (await response.json().catch(() => ({}))) as { error?: { code?: string } };
  return told.error?.code ?? String(response.status);
}

/** The server may know more by now than this device did: its turns stand, not ours. */
async function standAsServer(device: Device, id: string): Promise<void> {
  await copyQuietly(device, id, true);
  await tellState(device, [id]);
}
