// A question that takes long, put to the server: it tells how far it is, and can be stopped.
import { Refused, type Parameters, type Problem } from '../engine/engine.ts';
import { request, sendJson } from './server.ts';

interface Job {
  id: string;
  state: 'waiting' | 'running' | 'done' | 'cancelled' | 'failed';
  share: number;
}

/** Stopped by whoever asked. */
export class Stopped extends Error {}

export class LongQuestion {
  /** 0 to 1. */
  share = $state(0);
  #id = '';
  #events: EventSource | undefined;
  #stop: (() => void) | undefined;
  #isUnwanted = false;

  /** The answer's text. Throws Refused, Stopped, and what server.ts throws. `draws`: how many, where it draws. */
  async ask(question: string, parameters: Parameters, draws?: number): Promise<string> {
    const job = await sendJson<Job>('POST', '/api/v1/jobs', { question, parameters: draws === undefined ? parameters : { ...parameters, draws } });
    this.#id = job.id;
    if (this.#isUnwanted) this.#forget();
    try {
      await this.#follow();
      return await (await request(`/api/v1/jobs/${job.id}/result`)).text();
    } finally {
      this.#events?.close();
    }
  }

  /** Settles when it is over. The browser takes a broken stream up again by itself. */
  #follow(): Promise<void> {
    const events = new EventSource(`/api/v1/jobs/${this.#id}/events`);
    this.#events = events;
    return new Promise((resolve, reject) => {
      if (this.#isUnwanted) reject(new Stopped());
      this.#stop = () => reject(new Stopped());
      events.addEventListener('progress', (event: MessageEvent<string>) => (this.share = (JSON.parse(event.data) as Job).share));
      // What it failed with, its result says.
      for (const end of ['done', 'failed']) events.addEventListener(end, () => resolve());
      events.addEventListener('cancelled', () => reject(new Stopped()));
      events.addEventListener('error', () => {
        if (events.readyState === EventSource.CLOSED) reject(new Refused([gone]));
      });
    });
  }

  /** Nobody waits for it any more. */
  stop(): void {
    this.#isUnwanted = true;
    this.#events?.close();
    this.#stop?.();
    if (this.#id) this.#forget();
  }

  #forget(): void {
    void request(`/api/v1/jobs/${this.#id}`, { method: 'DELETE' }).catch(() => undefined);
  }
}

const gone: Problem = { kind: 'outside', what: 'the server no longer knows of this question', fix: 'ask it again' };
