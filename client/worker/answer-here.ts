import type { CaseView, SentCase } from '../../server/types.ts';
import { wholeView } from '../whole.ts';
import { type Call, isTurn } from './calls.ts';
import { askHere, type Device, tellState } from './device.ts';
import { type TurnBody, unsentOf } from './unsent-of.ts';

/** The turn or the look that the server could not answer. A turn taken here waits until it can be sent. */
export async function answerHere(device: Device, id: string, call: Call): Promise<Response> {
  await catchUp(device, id);
  const before = isTurn(call) ? await viewHere(device, id) : undefined;
  const response = await askHere(device, call);
  if (response.status === 404) return Response.json({ error: { code: 'not-kept' } }, { status: 503 });
  if (isTurn(call) && response.ok) await keepWaiting(device, id, call, before, await viewIn(response.clone()));
  return response;
}

/** What the server took and no copy came of is taken here as well. */
async function catchUp(device: Device, id: string): Promise<void> {
  for (const missed of device.behind.get(id) ?? []) await askHere(device, missed);
  device.behind.delete(id);
}

const viewIn = async (response: Response): Promise<CaseView> => wholeView(((await response.json()) as SentCase).case);

/** @returns undefined where this case is not here */
async function viewHere(device: Device, id: string): Promise<CaseView | undefined> {
  const response = await askHere(device, { method: 'GET', path: `/api/cases/${id}` });
  return response.ok ? viewIn(response) : undefined;
}

async function keepWaiting(
  device: Device,
  id: string,
  { method, path, body: text }: Call,
  before: CaseView | undefined,
  after: CaseView,
): Promise<void> {
  const { store, now } = device;
  const body = JSON.parse(text ?? '{}') as TurnBody;
  const waiting = await store.waiting(id);
  // The same turn sent again, since its answer never came: it waits already.
  if (body.turn && waiting.some((entry) => (entry.body as TurnBody).turn === body.turn)) return;
  // A case opened here keeps the time at which that was.
  const sent = before ? body : { ...body, opened: now().toISOString() };
  await store.wait({ id, method, path, body: sent, unsent: unsentOf(body, before, after) });
  await tellState(device);
}
