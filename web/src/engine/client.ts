// Questions to the engine's worker, as promises.
import { Refused, type FileReading, type Files, type Parameters } from './engine.ts';
import type { WeatherPart } from './answers.ts';
import type { Call, Reply } from './worker.ts';

let worker: Worker | undefined;
let next = 1;
const waiting = new Map<number, { resolve: (text: string) => void; reject: (error: Error) => void }>();

function started(): Worker {
  if (!worker) {
    worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<Reply>) => {
      const reply = event.data;
      const asked = waiting.get(reply.id);
      waiting.delete(reply.id);
      if ('problems' in reply) asked?.reject(new Refused(reply.problems));
      else asked?.resolve(reply.text);
    });
  }
  return worker;
}

function call(what: Call): Promise<string> {
  const id = next++;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    started().postMessage({ id, call: what });
  });
}

export const openSeason = (files: Files): Promise<string> => call({ what: 'open', files });
export const addWaiting = (files: Files): Promise<string> => call({ what: 'waiting', files });
export const readFile = async (files: Files): Promise<FileReading> => JSON.parse(await call({ what: 'read', files })) as FileReading;
export const putWeather = (files: Files): Promise<string> => call({ what: 'weather', files });
/** What a file of weather holds, as somebody has it; `said` has part, file (its name), text, and what is said beside it. */
export const readWeather = async (said: Parameters): Promise<WeatherPart> => JSON.parse(await call({ what: 'read weather', said })) as WeatherPart;
export const askText = (question: string, parameters: Parameters = {}): Promise<string> =>
  call({ what: 'ask', question, parameters });

export async function ask<T>(question: string, parameters: Parameters = {}): Promise<T> {
  return JSON.parse(await askText(question, parameters)) as T;
}

/** Asks of the season with these files in place of its own; nothing is kept. */
export async function tryOut<T>(files: Files, question: string, parameters: Parameters = {}): Promise<T> {
  return JSON.parse(await call({ what: 'try', files, question, parameters })) as T;
}

/**
 * A way to ask where only the newest question matters: while one is being answered, of those that come
 * only the last is asked. The answers of the others are dropped.
 */
export function newestOnly<A extends unknown[], T>(put: (...args: A) => Promise<T>, take: (answer: T) => void, fail: (error: Error) => void) {
  let running = false;
  let pending: A | undefined;
  const go = async (...args: A): Promise<void> => {
    if (running) {
      pending = args;
      return;
    }
    running = true;
    try {
      const answer = await put(...args);
      if (!pending) take(answer);
    } catch (error) {
      if (!pending) fail(error as Error);
    }
    running = false;
    if (pending) {
      const again = pending;
      pending = undefined;
      void go(...again);
    }
  };
  return (...args: A): void => void go(...args);
}
