import { answerHere } from './answer-here.ts';
import { type Call, callOf, isTurn } from './calls.ts';
import { askHere, askServer, copyQuietly, type Device, inOrder, newDevice, type Parts, tellState } from './device.ts';
import { sendAll, sendOut } from './send-out.ts';

/** Work that goes on after the answer is given. */
type Later = (work: Promise<unknown>) => void;

/**
 * Who answers a request: the server as long as it can be reached, this device when it cannot. Turns taken here wait, and are
 * sent before anything else of their case. If the case went another way meanwhile they are kept aside for a person.
 */
export function deviceAnswers(parts: Parts) {
  const device = newDevice(parts);
  return {
    answer: (request: Request, later: Later) => answer(device, request, later),
    sendAll: () => sendAll(device),
    state: () => tellState(device),
    /** Holds a copy of a case that a page shows. */
    keep: (id: string) => inOrder(device, id, () => copyQuietly(device, id)),
    async settled(id: string) {
      await device.store.settled(id);
      await tellState(device);
    },
  };
}

/** A request to the API, answered by whoever can. */
async function answer(device: Device, request: Request, later: Later): Promise<Response> {
  const call = await callOf(request);
  const id = /^\/api\/cases\/([\w-]+)/.exec(call.path)?.[1];
  const response =
    id === undefined
      ? await askServer(device, call).catch(() => askHere(device, call))
      : await inOrder(device, id, () => answerOfCase(device, id, call, later));
  if (device.reached) later(sendAll(device));
  return response;
}

async function answerOfCase(device: Device, id: string, call: Call, later: Later): Promise<Response> {
  const { store, behind } = device;
  if ((await store.waiting(id)).length > 0 && (await sendOut(device, id)) === 'no network') return answerHere(device, id, call);
  let response: Response;
  try {
    response = await askServer(device, call);
  } catch {
    return answerHere(device, id, call);
  }
  if (response.ok && (isTurn(call) || call.path === `/api/cases/${id}`)) {
    if (isTurn(call)) behind.set(id, [...(behind.get(id) ?? []), call]);
    later(copyQuietly(device, id));
  }
  return response;
}
