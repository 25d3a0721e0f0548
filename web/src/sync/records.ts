// What was recorded, gathered from the season's tables and the outbox, for people to look at.
import type { Files } from '../engine/engine.ts';
import type { Waiting } from './kept.ts';
import { fromText, type Row, type TableName } from './tables.ts';

export interface Recorded {
  id: string;
  table: TableName;
  field: string;
  at: string;
  supersedes: string;
  correctedBy: string;
  summary: string;
}

const observed = ['beets.csv', 'spots.csv', 'strips.csv', 'loads.csv', 'tares.csv', 'labs.csv'] as const;
type Any = Record<string, string | undefined>;

const many = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;

function summaryOf(table: TableName, rows: Any[]): string {
  const first = rows[0] ?? {};
  switch (table) {
    case 'beets.csv':
      return `${many(rows.length, 'beet')} at ${many(new Set(rows.map((row) => row.spot)).size, 'spot')}`;
    case 'spots.csv':
      return `${many(rows.reduce((sum, row) => sum + Number(row.beets ?? 0), 0), 'beet')} at ${many(rows.length, 'spot')}`;
    case 'loads.csv':
      return [first.ticket, first.destination].filter(Boolean).join(', ');
    default:
      return '';
  }
}

/** Newest first. */
export function recordsOf(files: Files, outbox: Waiting[], field?: string): Recorded[] {
  const all: Recorded[] = [];
  for (const table of observed) {
    const byId = new Map<string, Any[]>();
    const waiting = outbox.filter((one) => one.table === table).flatMap((one) => one.rows as Row[]);
    for (const row of [...(fromText(table, files[table]) as Any[]), ...(waiting as Any[])]) {
      const id = row.sheet ?? row.id ?? '';
      byId.set(id, [...(byId.get(id) ?? []), row]);
    }
    for (const [id, rows] of byId) {
      const first = rows[0]!;
      all.push({ id, table, field: first.field ?? '', at: first.at ?? '', supersedes: first.supersedes ?? '', correctedBy: '', summary: summaryOf(table, rows) });
    }
  }
  for (const one of all) {
    const later = all.find((other) => other.supersedes === one.id);
    one.correctedBy = later?.id ?? '';
  }
  return all.filter((one) => field === undefined || one.field === field).sort((a, b) => b.at.localeCompare(a.at));
}
