import type { CaseHistory } from '../../server/cases/store.ts';
import { type Call, initOf } from './calls.ts';
import type { DeviceStore } from './case-store.ts';
import type { DeviceState } from './messages.ts';

/** What the device needs of the world around it. */
export interface Parts {
  store: DeviceStore;
  /** The app on that store; made when it is first needed. */
  app: () => Promise<{ fetch(request: Request): Response | Promise<Response> }>;
  network: typeof fetch;
  origin: string;
  now: () => Date;
  tell: (state: DeviceState) => void;
}
/** This device as it stands between a page and the server. */
export interface Device extends Parts {
  /** Whether the last thing asked of the server got through. */
  reached: boolean;
  /** Turns the server took of which no copy is here yet: taken here as well should the network go right now. */
  behind: Map<string, Call[]>;
  /** By case: what is asked of it goes in order. */
  queues: Map<string, Promise<unknown>>;
}
export const newDevice = (parts: Parts): Device => ({ ...parts, reached: true, behind: new Map(), queues: new Map() });

/** A server that has not answered by then is taken as gone. What was asked may have arrived: turns carry a key, and count once. */
const PATIENCE_MS = 8000;
/** A proxy's way of saying that the server behind it is not there. */
const NOT_THERE = [502, 503, 504];

/** One thing at a time for each case, in the order asked. */
export function inOrder<T>({ queues }: Device, id: string, act: () => Promise<T>): Promise<T> {
  const turn = (queues.get(id) ?? Promise.resolve()).then(act);
  queues.set(
    id,
    turn.catch(() => undefined),
  );
  return turn;
}

/** Tells every page how things stand. @param sent cases that were sent up just now */
export async function tellState(device: Device, sent: string[] = []): Promise<void> {
  const { store, tell } = device;
  const waiting: Record<string, number> = {};
  for (const { id } of await store.waiting()) waiting[id] = (waiting[id] ?? 0) + 1;
  tell({ is: 'device', network: device.reached, waiting, conflicts: await store.conflicts(), sent });
}

/** @throws if the server cannot be reached */
export async function askServer(device: Device, call: Call): Promise<Response> {
  const { network, origin } = device;
  try {
    const response = await network(origin + call.path, {
      ...initOf(call),
      cache: 'no-store',
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (NOT_THERE.includes(response.status)) throw new Error('the server is not there');
    noteReached(device, true);
    return response;
  } catch (e) {
    noteReached(device, false);
    throw e;
  }
}

function noteReached(device: Device, through: boolean): void {
  if (device.reached === through) return;
  device.reached = through;
  void tellState(device);
}

export async function askHere({ app, origin }: Device, call: Call): Promise<Response> {
  return (await app()).fetch(new Request(origin + call.path, initOf(call)));
}

/** Holds what the server has of a case. Never while turns of our own wait: those come first. @throws if the server cannot be reached */
export async function copyCase(device: Device, id: string, whole = false): Promise<void> {
  const { store, behind } = device;
  const known = behind.get(id) ?? [];
  const rev = whole ? 0 : await store.rev(id);
  const got = await askServer(device, { method: 'GET', path: `/api/cases/${id}/turns?after=${rev}` });
  if (!got.ok || (await store.waiting(id)).length > 0) return;
  await store.copy((await got.json()) as CaseHistory, rev === 0);
  behind.set(
    id,
    (behind.get(id) ?? []).filter((call) => !known.includes(call)),
  );
}
export const copyQuietly = (device: Device, id: string, whole = false): Promise<void> =>
  copyCase(device, id, whole).catch(() => undefined);
