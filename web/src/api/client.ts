// The only place that speaks to the server. Two ways it can disappoint: it answers no (Refused,
// with the server's own sentence), or it cannot be reached (Unreachable).

import type { Trouble } from './contract';

export type Method = 'GET' | 'POST' | 'PUT' | 'PATCH';
export type Query = Record<string, string | number | null | undefined>;

/** The server answered, and the answer is no. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly kind: Trouble['error']['kind'] | 'unknown',
    text: string,
  ) {
    super(text);
  }

  /** Whether the same request may work later as it is. */
  get passing(): boolean {
    return this.status === 429 || this.status >= 500;
  }

  /** Whether the server does not know who is asking. */
  get unknownPerson(): boolean {
    return this.status === 401;
  }
}

/** No answer: no network, no server, or none in time. */
export class Unreachable extends Error {}

const patience_ms = 10_000;

/** "api/burns/x/fire?unit=F"; relative, so that the app may live under a prefix. */
export function address(path: string, query: Query = {}): string {
  const parts = Object.entries(query)
    .filter(([, value]) => value !== null && value !== undefined && value !== '')
    .map(([key, value]) => `${key}=${encodeURIComponent(String(value))}`);
  return `api/${path}${parts.length > 0 ? `?${parts.join('&')}` : ''}`;
}

async function answer(method: Method, where: string, body?: unknown): Promise<Response> {
  const request: RequestInit = { method, credentials: 'same-origin', signal: AbortSignal.timeout(patience_ms) };
  if (body !== undefined) {
    request.body = JSON.stringify(body);
    request.headers = { 'Content-Type': 'application/json' };
  }
  let response: Response;
  try {
    response = await fetch(where, request);
  } catch (cause) {
    throw new Unreachable('the server cannot be reached', { cause });
  }
  if (response.ok) return response;
  throw await refusal(response);
}

async function refusal(response: Response): Promise<Refused | Unreachable> {
  try {
    const trouble = (await response.json()) as Trouble;
    return new Refused(response.status, trouble.error.kind, trouble.error.text);
  } catch {
    // Something between us and the server answered (a proxy, a hotel's network): no word of the server's own.
    if (response.status >= 500) return new Unreachable(`no server behind this address (${response.status})`);
    return new Refused(response.status, 'unknown', `The server answered ${response.status} without saying why.`);
  }
}

async function jsonOf<T>(response: Response): Promise<T> {
  try {
    return (await response.json()) as T;
  } catch (cause) {
    throw new Unreachable('the answer was cut short', { cause });
  }
}

export async function ask<T>(where: string): Promise<T> {
  return jsonOf<T>(await answer('GET', where));
}

export async function askText(where: string): Promise<string> {
  const response = await answer('GET', where);
  try {
    return await response.text();
  } catch (cause) {
    throw new Unreachable('the answer was cut short', { cause });
  }
}

/** Sends `body` as JSON and gives the answer's JSON; null where the answer is empty. */
export async function send<T>(method: Method, where: string, body?: unknown): Promise<T | null> {
  const response = await answer(method, where, body);
  return response.status === 204 ? null : jsonOf<T>(response);
}

/** What happened, in a sentence for a person. */
export function sentenceOf(failure: unknown): string {
  if (failure instanceof Refused) return failure.message;
  if (failure instanceof Unreachable) return 'The server cannot be reached from here.';
  return failure instanceof Error ? failure.message : String(failure);
}
