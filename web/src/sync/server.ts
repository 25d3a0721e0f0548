// Requests to the server. Three outcomes: an answer, problems it found, or no server in reach.
import { Refused, type Problem } from '../engine/engine.ts';

/** No network, or no server at its end. */
export class OutOfReach extends Error {}
/** Nobody is signed in. */
export class NotSignedIn extends Error {}

const patience_ms = 20_000;

export interface Sent {
  method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  body?: unknown;
  text?: string;
  picture?: Blob;
  tag?: string;
  /** For what is large. */
  patience_ms?: number;
}

export async function request(path: string, sent: Sent = {}): Promise<Response> {
  const headers: Record<string, string> = { 'X-Beetwright': '1' };
  if (sent.tag) {
    headers['If-None-Match'] = sent.tag;
    headers['X-Beetwright-Additions'] = '1';
  }
  if (sent.body !== undefined) headers['Content-Type'] = 'application/json';
  if (sent.picture) headers['Content-Type'] = sent.picture.type;
  let response: Response;
  try {
    response = await fetch(path, {
      method: sent.method ?? 'GET',
      headers,
      body: sent.picture ?? sent.text ?? (sent.body === undefined ? null : JSON.stringify(sent.body)),
      signal: AbortSignal.timeout(sent.patience_ms ?? patience_ms),
      cache: 'no-store',
    });
  } catch (error) {
    throw new OutOfReach(String(error));
  }
  if (response.ok || response.status === 304) return response;
  let problems: Problem[] | undefined;
  try {
    problems = ((await response.json()) as { problems: Problem[] }).problems;
  } catch {
    problems = undefined;
  }
  if (response.status === 401 && path !== '/api/v1/session') throw new NotSignedIn();
  // A proxy's page or a server in trouble is not a verdict on what was sent.
  if (!problems || response.status >= 500 || response.status === 429) {
    throw new OutOfReach(problems?.[0] ? `${problems[0].what}; ${problems[0].fix}` : `status ${response.status}`);
  }
  throw new Refused(problems);
}

export async function getJson<T>(path: string): Promise<T> {
  return (await (await request(path)).json()) as T;
}

export async function sendJson<T>(method: 'POST' | 'PUT' | 'DELETE', path: string, body?: unknown): Promise<T> {
  const response = await request(path, { method, body });
  const text = await response.text();
  return (text ? JSON.parse(text) : {}) as T;
}
