import type { AnswerInput, Catalogue, OpenInput, PatchInput, QuickReading, ReadingInput } from '../server/conversation-port.ts';
import type { JobSheet } from '../server/shapes/sheet.ts';
import type { Drawing, SentCase, SentTurn } from '../server/types.ts';
import type { DemoTalk, Opened, TurnTaken, Value } from './types.ts';
import { wholeCase } from './whole.ts';

/** Why there is no answer. What the person typed stays where it is in every one of these. */
export type Failure =
  | { is: 'offline' }
  | { is: 'stale' }
  | { is: 'gone' }
  /** No network, and no copy of this case on this device. */
  | { is: 'not-kept' }
  | { is: 'busy' }
  | { is: 'refused'; code: string; message?: string };
export type Result<T> = { ok: true; value: T } | { ok: false; failure: Failure };

/** What can be told of a case beside its answers. */
export type Settings = PatchInput;
export type OpenBody = Required<Pick<OpenInput, 'audience' | 'units' | 'language'>> & Pick<OpenInput, 'machine'>;

/** A key for one turn: sent again after a broken line, the server gives the same reply and adds nothing. */
export function newTurnKey(): string {
  // Not randomUUID: it is missing where the page comes over plain http from another machine in the house.
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** As unguessable as an id of the server's: 144 random bits as base64url. */
const newCaseId = (): string =>
  btoa(String.fromCharCode(...crypto.getRandomValues(new Uint8Array(18))))
    .replaceAll('+', '-')
    .replaceAll('/', '_');

async function ask<T>(method: string, path: string, body?: object): Promise<Result<T>> {
  let response: Response;
  try {
    response = await fetch(path, {
      method,
      headers: { accept: 'application/json', ...(body && { 'content-type': 'application/json' }) },
      ...(body && { body: JSON.stringify(body) }),
    });
  } catch {
    return { ok: false, failure: { is: 'offline' } };
  }
  const content = (await response.json().catch(() => undefined)) as
    | (T & { error?: { code: string; message?: string } })
    | undefined;
  if (response.ok && content !== undefined) return { ok: true, value: content };
  return { ok: false, failure: failureOf(response.status, content?.error) };
}

function failureOf(status: number, error?: { code: string; message?: string }): Failure {
  if (status === 409) return { is: 'stale' };
  if (status === 404) return { is: 'gone' };
  if (error?.code === 'not-kept') return { is: 'not-kept' };
  if (status === 429) return { is: 'busy' };
  return { is: 'refused', code: error?.code ?? String(status), ...(error?.message && { message: error.message }) };
}

const at = (id: string) => `/api/cases/${encodeURIComponent(id)}`;

/** A case as it stands after a request, put together. */
async function askCase<Sent extends SentCase>(
  method: string,
  path: string,
  body?: object,
): Promise<Result<Omit<Sent, 'case' | 'reply'> & Opened>> {
  const sent = await ask<Sent>(method, path, body);
  return sent.ok ? { ok: true, value: await wholeCase(sent.value, drawing) } : sent;
}
async function drawing(id: string): Promise<Drawing | undefined> {
  const got = await ask<Drawing>('GET', `${at(id)}/drawing`);
  return got.ok ? got.value : undefined;
}
const askTurn = (method: string, path: string, body: object): Promise<Result<TurnTaken>> => askCase<SentTurn>(method, path, body);

/** The API, one function a route. Nothing is thrown: what can go wrong is in the result. */
export const api = {
  /** Under an id of our own: sent twice, or first without a network and then with one, it is one case. */
  open: (body: OpenBody) => askCase<SentCase>('PUT', at(newCaseId()), body),
  look: (id: string) => askCase<SentCase>('GET', at(id)),
  say: (id: string, rev: number, turn: string, text: string) => askTurn('POST', `${at(id)}/say`, { rev, turn, text }),
  answer: (id: string, rev: number, turn: string, answer: AnswerInput) => askTurn('POST', `${at(id)}/say`, { rev, turn, answer }),
  undo: (id: string, rev: number, turn: string) => askTurn('POST', `${at(id)}/undo`, { rev, turn }),
  change: (id: string, rev: number, turn: string, seq: number, value: Value) =>
    askTurn('PUT', `${at(id)}/answers/${seq}`, { rev, turn, value }),
  patch: (id: string, rev: number, turn: string, settings: Settings) => askTurn('PATCH', at(id), { rev, turn, ...settings }),
  reading: (body: ReadingInput) => ask<QuickReading>('POST', '/api/reading', body),
  catalogue: () => ask<Catalogue>('GET', '/api/knowledge'),
  demos: () => ask<{ name: string; title: string }[]>('GET', '/api/demo'),
  demo: async (name: string): Promise<Result<DemoTalk>> => {
    const got = await ask<Partial<DemoTalk> & { transcript?: Partial<DemoTalk> }>('GET', `/api/demo/${encodeURIComponent(name)}`);
    if (!got.ok) return got;
    const { title = name, scenario = '', audience = 'homeowner', steps = [] } = { ...got.value, ...got.value.transcript };
    return { ok: true, value: { name, title, scenario, audience, steps } };
  },
};

/** The sheet as Markdown. */
export async function sheetMarkdown(id: string): Promise<Result<string>> {
  try {
    const response = await fetch(`${at(id)}/sheet?as=markdown`);
    if (response.ok) return { ok: true, value: await response.text() };
    return { ok: false, failure: failureOf(response.status) };
  } catch {
    return { ok: false, failure: { is: 'offline' } };
  }
}
export const sheetJson = (id: string) => ask<JobSheet>('GET', `${at(id)}/sheet?as=json`);
