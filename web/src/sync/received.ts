// By whom and when what stands in the season was sent: as the server last told all of it, and what it has
// told since. The tag says up to where; the server knows only tags of its own, and to any other tells all.

export interface Received {
  tag: string;
  all: Record<string, { by: string; at: string }>;
}

export const nobody: Received = { tag: '', all: {} };

/** As this device kept it. What a version of the app without tags kept is asked for anew. */
export function fromKept(fact: unknown): Received {
  const found = fact as Partial<Received> | undefined;
  return typeof found?.tag === 'string' && typeof found.all === 'object' ? (found as Received) : nobody;
}

/** What is known after an answer: additions join what was known, anything else takes its place. */
export function fromAnswer(before: Received, came: Received['all'], isAddition: boolean, tag: string): Received {
  return { tag, all: isAddition ? { ...before.all, ...came } : came };
}
