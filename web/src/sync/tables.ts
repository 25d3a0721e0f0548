// The season's tables as text (docs/formats/season_folder.md): RFC 4180, metric, columns in their order.
import { tables } from '../generated/schema.ts';

export type TableName = keyof typeof tables;
export type ColumnOf<T extends TableName> = (typeof tables)[T]['columns'][number]['name'];
/** A row by column name; what is left out is not known. */
export type Row<T extends TableName = TableName> = Partial<Record<ColumnOf<T>, string>>;

/** A column, as far as a form asks. */
export interface Column {
  name: string;
  kind: string;
  required: boolean;
  metric?: string;
  us?: string;
  least?: number;
  most?: number;
  whole?: boolean;
  allowed?: readonly string[];
  refers?: NamedTable;
  explained?: NamedTable;
}
export const columnsOf = (table: TableName): readonly Column[] => tables[table].columns;
/** What a form begins with: no column is wrong. */
export const noneWrong = (columns: readonly Column[]): Record<string, string> => Object.fromEntries(columns.map((column) => [column.name, '']));

export const quoted = (cell: string): string => (/[",\n\r]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

export function toText<T extends TableName>(table: T, rows: Row<T>[]): string {
  const columns = tables[table].columns;
  const lines = [columns.map((column) => quoted(column.header)).join(',')];
  for (const row of rows) lines.push(columns.map((column) => quoted(row[column.name as ColumnOf<T>] ?? '')).join(','));
  return `${lines.join('\n')}\n`;
}

/** The tables whose rows have a name that others refer to. */
export type NamedTable = 'fields.csv' | 'machines.csv' | 'soils.csv' | 'destinations.csv';

/** Names that other tables use of this one, whether its rows introduce them or not. */
export function namesUsed(files: Record<string, string>, table: NamedTable): string[] {
  const used = new Set<string>();
  for (const other of Object.keys(tables) as TableName[]) {
    for (const column of tables[other].columns) {
      if (!('refers' in column) || column.refers !== table) continue;
      for (const row of fromText(other, files[other])) {
        const name = row[column.name as keyof typeof row];
        if (name) used.add(name);
      }
    }
  }
  return [...used].sort();
}

/** Words under which fields speak of rows that this table need not have. */
export function wordsUsed(files: Record<string, string>, table: NamedTable): string[] {
  const used = new Set<string>();
  for (const other of Object.keys(tables) as TableName[]) {
    for (const column of tables[other].columns) {
      if (!('explained' in column) || column.explained !== table) continue;
      for (const row of fromText(other, files[other])) used.add(row[column.name as keyof typeof row] ?? '');
    }
  }
  return [...used].filter(Boolean).sort();
}

/** Cells of a text as the server writes it. */
function cells(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let isQuoted = false;
  for (let i = 0; i < text.length; ++i) {
    const c = text[i]!;
    if (isQuoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') cell += text[++i];
      else isQuoted = false;
    } else if (c === '"') isQuoted = true;
    else if (c === ',') {
      row.push(cell);
      cell = '';
    } else if (c === '\n') {
      row.push(cell);
      rows.push(row);
      row = [];
      cell = '';
    } else if (c !== '\r') cell += c;
  }
  if (cell || row.length) rows.push([...row, cell]);
  return rows;
}

/** The last text of each table and what it says: a season's tables are long, and many screens ask for them. */
const lastRead = new Map<TableName, { text: string; rows: Row[] }>();

/** Rows that are shared: to be copied by whoever changes them. */
export function fromText<T extends TableName>(table: T, text: string | undefined): Row<T>[] {
  if (!text) return [];
  let last = lastRead.get(table);
  if (last?.text !== text) {
    last = { text, rows: readText(table, text) };
    lastRead.set(table, last);
  }
  return last.rows as Row<T>[];
}

function readText<T extends TableName>(table: T, text: string): Row<T>[] {
  const [header, ...rows] = cells(text);
  const columns = tables[table].columns;
  const names = (header ?? []).map((cell) => columns.find((column) => column.header === cell || column.name === cell)?.name);
  return rows.map((row) => {
    const read: Row<T> = {};
    row.forEach((cell, i) => {
      const name = names[i];
      if (name && cell !== '') read[name as ColumnOf<T>] = cell;
    });
    return read;
  });
}

/** A short text that is another where one of these is (FNV-1a, 32 bits). */
export function stampOf(texts: string[]): string {
  let hash = 0x811c9dc5;
  for (const text of texts) {
    for (let i = 0; i < text.length; ++i) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
    hash = Math.imul(hash ^ 0x1e, 0x01000193); // where one ends and the next begins
  }
  return (hash >>> 0).toString(36);
}

/** Tables with the rows of others put after theirs; both as the server writes them. */
export function withAdditions(files: Record<string, string>, added: Record<string, string>): Record<string, string> {
  const all = { ...files };
  for (const [table, text] of Object.entries(added)) {
    all[table] = all[table] ? all[table] + text.slice(text.indexOf('\n') + 1) : text;
  }
  return all;
}
