// Loads that were brought to a pile and where in it they lie. What is said later is a new row that takes the
// place of the one before, as with every correction.
import type { Row } from '../../sync/tables.ts';
import { fileNumber } from '../../units/units.ts';

export type Load = Row<'loads.csv'>;

/** Loads of a pile as they stand, without those that were corrected; the earliest first. */
export function loadsOf(rows: Load[], pile: string): Load[] {
  const corrected = new Set(rows.map((row) => row.supersedes).filter(Boolean) as string[]);
  const isCorrected = (id: string) => corrected.has(id) || [...corrected].some((begin) => begin.length < id.length && id.startsWith(begin));
  return rows.filter((row) => row.destination === pile && !isCorrected(row.id ?? '')).sort((a, b) => (a.at ?? '').localeCompare(b.at ?? ''));
}
export const hasPlace = (load: Load): boolean => load.along_from !== undefined && load.along_to !== undefined;

/** The same load, now with its place [m]. */
export const placed = (load: Load, id: string, from: number, to: number): Load => ({ ...load, id, supersedes: load.id ?? '', along_from: fileNumber(from), along_to: fileNumber(to) });
