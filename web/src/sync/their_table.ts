// A table as somebody else made it: their headings, their units, their way of writing days. What stands
// under which heading is said once; the heading line is then written as ours and all below it left alone,
// so that what is wrong is told by the line that they see.
import { tables } from '../generated/schema.ts';
import { quoted, type TableName } from './tables.ts';

/** Text of a file: UTF-8, or what spreadsheets of western Europe and America wrote before it. */
export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

export interface TheirTable {
  separator: string;
  /** Lines before the heading line: remarks, blank lines, `sep=;`. */
  before: string;
  headings: string[];
  /** The first row below, to be shown beside its headings. */
  example: string[];
  after: string;
}

/** Cells of the line that begins `text`, and what follows it. */
function cutLine(text: string, separator: string): { cells: string[]; rest: string } {
  const cells: string[] = [];
  let cell = '';
  let isQuoted = false;
  let i = 0;
  for (; i < text.length; ++i) {
    const c = text[i]!;
    if (isQuoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') cell += text[++i];
      else isQuoted = false;
    } else if (c === '"' && cell === '') isQuoted = true;
    else if (c === separator) {
      cells.push(cell.trim());
      cell = '';
    } else if (c === '\n') break;
    else if (c !== '\r') cell += c;
  }
  return { cells: [...cells, cell.trim()], rest: text.slice(i + 1) };
}

/** Undefined where there is no heading line. */
export function lookAt(text: string): TheirTable | undefined {
  const passedOver = /^(?:[ \t]*(?:#[^\n]*|sep=[^\n]*)?\r?\n)*/;
  const before = passedOver.exec(text)?.[0] ?? '';
  const from = text.slice(before.length);
  const line = from.split('\n', 1)[0] ?? '';
  if (!line.trim()) return undefined;
  const declared = /sep=(.)/.exec(before)?.[1];
  const counts = [',', ';', '\t'].map((mark) => ({ mark, count: line.split(mark).length }));
  const separator = declared ?? counts.reduce((best, one) => (one.count > best.count ? one : best)).mark;
  const { cells: headings, rest } = cutLine(from, separator);
  return { separator, before, headings, example: cutLine(rest, separator).cells, after: rest };
}

export type DayOrder = '' | 'dd.mm.yyyy' | 'dd/mm/yyyy' | 'mm/dd/yyyy';
/** What stands under one of our columns: the place of their heading (-1: none of them), and how it is written. */
export interface Meaning {
  place: number;
  unit: string;
  order: DayOrder;
}
export type Meanings = Record<string, Meaning>;

type Column = (typeof tables)[TableName]['columns'][number];
const plain = (heading: string) => heading.toLowerCase().replace(/[[(].*$/, '').replaceAll(/[^\p{L}\p{N}]+/gu, ' ').trim();
const unitsOf = (column: Column): readonly string[] => ('units' in column ? column.units : []);

/** The unit that their heading names, if it names one that may stand there. */
function unitIn(heading: string, column: Column): string | undefined {
  const named = /[[(]([^\])]+)[\])]/.exec(heading)?.[1]?.trim().toLowerCase();
  return unitsOf(column).find((unit) => unit.toLowerCase() === named);
}

/** How their days are written, as far as one of them shows; `monthFirst` settles what may be either. */
export function orderOf(example: string, monthFirst: boolean): DayOrder {
  if (/^\d{1,2}\.\d{1,2}\.\d{4}/.test(example)) return 'dd.mm.yyyy';
  const parts = /^(\d{1,2})\/(\d{1,2})\/\d{4}/.exec(example);
  if (!parts) return '';
  if (Number(parts[1]) > 12) return 'dd/mm/yyyy';
  return Number(parts[2]) > 12 || monthFirst ? 'mm/dd/yyyy' : 'dd/mm/yyyy';
}

/** A first idea of what stands where, by our columns' names and other words for them. */
export function guess(table: TableName, their: TheirTable, words: Record<string, string[]>, system: 'metric' | 'us'): Meanings {
  const taken = new Set<number>();
  const meanings: Meanings = {};
  for (const column of tables[table].columns as readonly Column[]) {
    const names = [column.name.replaceAll('_', ' '), ...(words[column.name] ?? [])];
    const found = names.map((name) => their.headings.findIndex((heading, i) => !taken.has(i) && plain(heading) === name)).find((place) => place >= 0) ?? -1;
    if (found >= 0) taken.add(found);
    const units = unitsOf(column);
    const usual = 'metric' in column ? (system === 'us' ? column.us : column.metric) : '';
    meanings[column.name] = {
      place: found,
      unit: (found >= 0 ? unitIn(their.headings[found]!, column) : undefined) ?? (units.includes(usual) ? usual : ''),
      order: column.kind === 'instant' && found >= 0 ? orderOf(their.example[found] ?? '', system === 'us') : '',
    };
  }
  return meanings;
}

/** "+02:00": what this device's clock is ahead of UTC at some instant. */
export function offsetText(minutes: number): string {
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${String(Math.floor(size / 60)).padStart(2, '0')}:${String(size % 60).padStart(2, '0')}`;
}

/** Their table under our headings; what has no meaning for us is put in brackets, and so passed over. */
export function underOurHeadings(table: TableName, their: TheirTable, meanings: Meanings, offset: string): string {
  const headings = their.headings.map((heading) => `(${heading.replaceAll(/[()]/g, ' ').trim()})`);
  for (const column of tables[table].columns as readonly Column[]) {
    const meaning = meanings[column.name];
    if (!meaning || meaning.place < 0) continue;
    const bracket = column.kind === 'instant' ? `${meaning.order} hh:mm ${offset}`.trim() : meaning.unit;
    headings[meaning.place] = bracket ? `${column.name} [${bracket}]` : column.name;
  }
  const cell = (heading: string) => (heading.includes(their.separator) ? `"${heading.replaceAll('"', '""')}"` : quoted(heading));
  return `${their.before}${headings.map(cell).join(their.separator)}\n${their.after}`;
}
