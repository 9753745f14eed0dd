import type { CaseHistory } from '../../server/cases/store.ts';
import type { AnswerInput } from '../../server/conversation-port.ts';
import type { CaseView } from '../../server/types.ts';
import type { DeviceStore } from './case-store.ts';
import type { DeviceState, Unsent, Waiting } from './messages.ts';

/** A request as it can be sent more than once. */
interface Call {
  method: string;
  /** With its query. */
  path: string;
  body?: string;
  accept?: string;
}
export interface Parts {
  store: DeviceStore;
  /** The app on that store; made when it is first needed. */
  app: () => Promise<{ fetch(request: Request): Response | Promise<Response> }>;
  network: typeof fetch;
  origin: string;
  now: () => Date;
  tell: (state: DeviceState) => void;
}
/** Work that goes on after the answer is given. */
type Later = (work: Promise<unknown>) => void;

/** A server that has not answered by then is taken as gone. What was asked may have arrived: turns carry a key, and count once. */
const PATIENCE_MS = 8000;
/** A proxy's way of saying that the server behind it is not there. */
const NOT_THERE = [502, 503, 504];

/**
 * Who answers a request: the server as long as it can be reached, this device when it cannot. Turns taken here wait, and are
 * sent before anything else of their case. If the case went another way meanwhile they are kept aside for a person.
 */
export function deviceAnswers({ store, app, network, origin, now, tell }: Parts) {
  let reached = true;
  /** Turns the server took of which no copy is here yet: taken here as well should the network go right now. */
  const behind = new Map<string, Call[]>();
  const queues = new Map<string, Promise<unknown>>();

  /** One thing at a time for each case, in the order asked. */
  function inOrder<T>(id: string, act: () => Promise<T>): Promise<T> {
    const turn = (queues.get(id) ?? Promise.resolve()).then(act);
    queues.set(
      id,
      turn.catch(() => undefined),
    );
    return turn;
  }

  async function state(sent: string[] = []): Promise<void> {
    const waiting: Record<string, number> = {};
    for (const { id } of await store.waiting()) waiting[id] = (waiting[id] ?? 0) + 1;
    tell({ is: 'device', network: reached, waiting, conflicts: await store.conflicts(), sent });
  }
  const seen = (through: boolean) => {
    if (reached === through) return;
    reached = through;
    void state();
  };

  /** @throws if the server cannot be reached */
  async function ask({ method, path, body, accept = 'application/json' }: Call): Promise<Response> {
    try {
      const response = await network(origin + path, {
        method,
        headers: { accept, ...(body !== undefined && { 'content-type': 'application/json' }) },
        ...(body !== undefined && { body }),
        cache: 'no-store',
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      if (NOT_THERE.includes(response.status)) throw new Error('the server is not there');
      seen(true);
      return response;
    } catch (e) {
      seen(false);
      throw e;
    }
  }
  const here = async ({ method, path, body, accept = 'application/json' }: Call): Promise<Response> =>
    (await app()).fetch(
      new Request(origin + path, {
        method,
        headers: { accept, ...(body !== undefined && { 'content-type': 'application/json' }) },
        ...(body !== undefined && { body }),
      }),
    );

  /** Holds what the server has of a case. Never while turns of our own wait: those come first. */
  async function copy(id: string, whole = false): Promise<void> {
    const known = behind.get(id) ?? [];
    const rev = whole ? 0 : await store.rev(id);
    const got = await ask({ method: 'GET', path: `/api/cases/${id}/turns?after=${rev}` });
    if (!got.ok || (await store.waiting(id)).length > 0) return;
    await store.copy((await got.json()) as CaseHistory, rev === 0);
    behind.set(
      id,
      (behind.get(id) ?? []).filter((call) => !known.includes(call)),
    );
  }
  const copyQuietly = (id: string) => copy(id).catch(() => undefined);

  /** Sends what waits of one case, oldest first. */
  async function sendOut(id: string): Promise<'sent' | 'no network' | 'conflict'> {
    const entries = await store.waiting(id);
    for (const [at, { n, method, path, body }] of entries.entries()) {
      let response: Response;
      try {
        response = await ask({ method, path, body: JSON.stringify(body) });
      } catch {
        return 'no network';
      }
      if (response.status === 429 || response.status >= 500) return 'no network';
      if (!response.ok) {
        const why = ((await response.json().catch(() => ({}))) as { error?: { code?: string } }).error?.code;
        await store.conflict({ id, why: why ?? String(response.status), unsent: entries.slice(at).map((e) => e.unsent) });
        await copy(id, true).catch(() => undefined);
        await state([id]);
        return 'conflict';
      }
      await store.sent(n);
    }
    if (entries.length > 0) {
      // The server may know more by now than this device did: its turns stand, not ours.
      await copy(id, true).catch(() => undefined);
      await state([id]);
    }
    return 'sent';
  }
  async function sendAll(): Promise<void> {
    const ids = new Set((await store.waiting()).map((entry) => entry.id));
    for (const id of ids) if ((await inOrder(id, () => sendOut(id))) === 'no network') return;
  }

  async function viewHere(id: string): Promise<CaseView | undefined> {
    const response = await here({ method: 'GET', path: `/api/cases/${id}` });
    return response.ok ? ((await response.json()) as { case: CaseView }).case : undefined;
  }

  /** The turn or the look that the server could not answer. */
  async function answerHere(id: string, call: Call): Promise<Response> {
    for (const missed of behind.get(id) ?? []) await here(missed);
    behind.delete(id);
    const changes = call.method !== 'GET';
    const before = changes ? await viewHere(id) : undefined;
    const response = await here(call);
    if (response.status === 404) return Response.json({ error: { code: 'not-kept' } }, { status: 503 });
    if (!changes || !response.ok) return response;
    const body = JSON.parse(call.body ?? '{}') as Body;
    const waiting = await store.waiting(id);
    // The same turn sent again, since its answer never came: it waits already.
    if (!body.turn || !waiting.some((entry) => (entry.body as Body).turn === body.turn)) {
      const after = ((await response.clone().json()) as { case: CaseView }).case;
      await store.wait(waitingOf(id, call, body, before, after));
      await state();
    }
    return response;
  }
  const waitingOf = (id: string, call: Call, body: Body, before: CaseView | undefined, after: CaseView): Omit<Waiting, 'n'> => ({
    id,
    method: call.method,
    path: call.path,
    body: before ? body : { ...body, opened: now().toISOString() },
    unsent: unsentOf(body, before, after),
  });

  async function answerCase(id: string, call: Call, later: Later): Promise<Response> {
    return inOrder(id, async () => {
      if ((await store.waiting(id)).length > 0 && (await sendOut(id)) === 'no network') return answerHere(id, call);
      let response: Response;
      try {
        response = await ask(call);
      } catch {
        return answerHere(id, call);
      }
      if (response.ok && (call.method !== 'GET' || call.path === `/api/cases/${id}`)) {
        if (call.method !== 'GET') behind.set(id, [...(behind.get(id) ?? []), call]);
        later(copyQuietly(id));
      }
      return response;
    });
  }

  return {
    /** A request to the API, answered by whoever can. */
    async answer(request: Request, later: Later): Promise<Response> {
      const { pathname, search } = new URL(request.url);
      const call: Call = {
        method: request.method,
        path: pathname + search,
        accept: request.headers.get('accept') ?? '*/*',
        ...(request.method !== 'GET' && { body: await request.text() }),
      };
      const id = /^\/api\/cases\/([\w-]+)/.exec(pathname)?.[1];
      const response = id === undefined ? await ask(call).catch(() => here(call)) : await answerCase(id, call, later);
      if (reached) later(sendAll());
      return response;
    },
    sendAll,
    state,
    keep: (id: string) => inOrder(id, () => copyQuietly(id)),
    async settled(id: string) {
      await store.settled(id);
      await state();
    },
  };
}

interface Body {
  turn?: string;
  text?: string;
  answer?: AnswerInput;
}

/** What a turn did, as it can be read: the answers it left; where it left none, what was said. */
function unsentOf({ text, answer }: Body, before: CaseView | undefined, after: CaseView): Unsent {
  const newest = Math.max(0, ...(before?.answers ?? []).map(({ seq }) => seq));
  const lines = after.answers
    .filter(({ seq }) => seq > newest)
    .map(({ label, shown, said, act }) => ({ label, shown: shown || act, said }));
  return {
    lines: lines.length > 0 || text === undefined ? lines : [{ label: '', shown: '', said: text }],
    ...(text !== undefined && { again: { text } }),
    ...(answer && { again: { answer } }),
  };
}
