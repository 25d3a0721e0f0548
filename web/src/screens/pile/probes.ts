// What was read in a part of a pile near a day.
import type { PilePart } from '../../engine/pile_answers.ts';
import type { Row } from '../../sync/tables.ts';
import { daysBetween } from './geometry.ts';

export interface Reading {
  id: string;
  probe: string;
  at: string;
  across: number;
  height: number;
  along: number;
  celsius: number;
}

/** Further off than that, a reading says little of the day. */
const near_days = 7;

/** Of each place the reading that is nearest to the day; what was corrected is left out. */
export function readingsNear(rows: Row<'probes.csv'>[], pile: string, part: Pick<PilePart, 'from_m' | 'to_m'>, day: string): Reading[] {
  const corrected = rows.map((row) => row.supersedes).filter(Boolean) as string[];
  const best = new Map<string, Reading & { off: number }>();
  for (const row of rows) {
    const [along, across, height] = [Number(row.along), Number(row.across ?? 0), Number(row.height)];
    if (row.pile !== pile || along < part.from_m || along > part.to_m || corrected.some((id) => row.id?.startsWith(id))) continue;
    const off = Math.abs(daysBetween((row.at ?? '').slice(0, 10), day));
    if (!(off <= near_days)) continue;
    const key = `${row.probe} ${along} ${across} ${height}`;
    const before = best.get(key);
    if (before && (before.off < off || (before.off === off && before.at >= (row.at ?? '')))) continue;
    best.set(key, { id: key, probe: row.probe ?? '', at: row.at ?? '', along, across, height, celsius: Number(row.temperature), off });
  }
  return [...best.values()].sort((a, b) => a.across - b.across || a.height - b.height);
}
