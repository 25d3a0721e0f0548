// What lies on a pile: the last that was written down of each stretch of it.
import type { Row } from '../../sync/tables.ts';

export interface Lying {
  id: string;
  cover: string;
  from: number;
  to: number;
  at: string;
  isWhole: boolean;
}

/** Covers that are not wholly under a later one, from its beginning on; none where it lies open. */
export function coversNow(rows: Row<'covers.csv'>[], pile: string, length: number): Lying[] {
  const corrected = rows.map((row) => row.supersedes).filter(Boolean) as string[];
  const end = length || Infinity;
  const all = rows
    .filter((row) => row.pile === pile && !corrected.some((id) => row.id?.startsWith(id)))
    .sort((a, b) => (b.at ?? '').localeCompare(a.at ?? ''));
  /** What later rows have taken, and what is left of each. */
  let free: [number, number][] = [[0, end]];
  const found: Lying[] = [];
  for (const row of all) {
    const [from, to] = [Number(row.from ?? 0), row.to === undefined ? end : Math.min(end, Number(row.to))];
    const next: [number, number][] = [];
    for (const [start, stop] of free) {
      const [a, b] = [Math.max(start, from), Math.min(stop, to)];
      if (a >= b) {
        next.push([start, stop]);
        continue;
      }
      if (row.cover !== 'none') found.push({ id: `${row.id} ${a}`, cover: row.cover ?? '', from: a, to: b, at: row.at ?? '', isWhole: a <= 0 && b >= end });
      if (start < a) next.push([start, a]);
      if (b < stop) next.push([b, stop]);
    }
    free = next;
  }
  return found.sort((a, b) => a.from - b.from);
}
