// What was recorded, gathered from the season's tables and the outbox, for people to look at.
import type { Files } from '../engine/engine.ts';
import { say } from '../words/en.ts';
import { bearsOn } from './bearing.ts';
import type { Waiting } from './kept.ts';
import { fromText, type Row, type TableName } from './tables.ts';

export interface Recorded {
  id: string;
  table: TableName;
  field: string;
  /** The field, the pile or the machine that it is about. */
  place: string;
  at: string;
  supersedes: string;
  correctedBy: string;
  summary: string;
  /** Whether a line of the ledger rests on it. */
  bearsOn: (line: string) => boolean;
}

const observed = ['beets.csv', 'spots.csv', 'strips.csv', 'loads.csv', 'tares.csv', 'labs.csv', 'standing.csv', 'settings.csv', 'parts.csv', 'covers.csv', 'probes.csv', 'removals.csv'] as const;
const byEye = ['soil_in_hand', 'crown_height', 'evenness', 'plants', 'root_mass'];
type Any = Record<string, string | undefined>;

function summaryOf(table: TableName, rows: Any[]): string {
  const first = rows[0] ?? {};
  switch (table) {
    case 'beets.csv':
      return say.count.finishNote(rows.length, new Set(rows.map((row) => row.spot)).size);
    case 'spots.csv':
      return say.count.finishNote(rows.reduce((sum, row) => sum + Number(row.beets ?? 0), 0), rows.length);
    case 'loads.csv':
      return [first.ticket, first.destination].filter(Boolean).join(', ');
    case 'standing.csv':
      return [
        first.roots && say.standing.saidDug,
        first.pol && say.standing.saidLab,
        first.leaf_sick && say.standing.saidSick(Number(first.leaf_sick)),
        first.leaf_frozen && (first.leaf_frozen === 'yes' ? say.standing.saidFrozen : say.standing.saidNotFrozen),
        byEye.some((column) => first[column]) && say.standing.saidByEye,
        first.crowns && say.standing.saidCrowns(first.crowns.split(' ').length),
      ]
        .filter(Boolean)
        .join(', ');
    case 'settings.csv': {
      const set = rows.filter((row) => row.control).length;
      return [first.machine, set && say.machineLog.set(set), first.answer && say.machineLog.answers[first.answer]].filter(Boolean).join(', ');
    }
    case 'parts.csv':
      return [first.machine, first.what].filter(Boolean).join(', ');
    case 'covers.csv':
      return [first.pile, say.pileLog.covers[first.cover ?? '']].filter(Boolean).join(', ');
    case 'probes.csv':
      return [first.pile, first.probe && say.pileLog.probe(first.probe)].filter(Boolean).join(', ');
    case 'removals.csv':
      return first.pile ?? '';
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
      all.push({ id, table, field: first.field ?? '', place: first.field ?? first.pile ?? first.machine ?? '', at: first.at ?? '', supersedes: first.supersedes ?? '', correctedBy: '', summary: summaryOf(table, rows), bearsOn: (line) => bearsOn(table, rows, line) });
    }
  }
  // Of two that correct the same one, the first counts: the other waits to be looked at.
  const correctedBy = new Map([...all].reverse().filter((one) => one.supersedes).map((one) => [one.supersedes, one.id]));
  for (const one of all) one.correctedBy = correctedBy.get(one.id) ?? '';
  return all.filter((one) => field === undefined || one.field === field).sort((a, b) => b.at.localeCompare(a.at));
}
