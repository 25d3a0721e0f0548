// Questions about now. A season may be told of while it goes on, or long after: without a word, now is the
// last moment that it knows anything of.
import { ask } from './client.ts';
import type { Parameters } from './engine.ts';

const hour_ms = 3_600_000;
/** A season of which nothing was heard for so long is over; it is looked at as it ended. */
const longest_ms = 60 * 24 * hour_ms;

/** Asks as of this device's time, where the season goes on; as of the last it knows where that cannot be answered. */
export async function askNow<T extends { at: string }>(question: string, parameters: Parameters = {}, now: number = Date.now()): Promise<T> {
  const last = await ask<T>(question, parameters);
  const since = now - Date.parse(last.at);
  if (since < hour_ms || since > longest_ms) return last;
  try {
    return await ask<T>(question, { ...parameters, at: new Date(now).toISOString() });
  } catch {
    return last;
  }
}
