// Which lines of the ledger a count bears on: those that rest on what was judged in it.
import type { TableName } from './tables.ts';

type Cells = Record<string, string | undefined>;

/** For each line the columns that say something about it. */
const judged: Partial<Record<TableName, Record<string, string[]>>> = {
  'beets.csv': {
    over_topping: ['topping'],
    storage_crown_wounds: ['topping'],
    storage_leaf_and_soil: ['topping'],
    crown_and_leaf: ['topping'],
    tails: ['tip_break'],
    storage_tail_wounds: ['tip_break'],
    storage_skin_wounds: ['skin_damage'],
    storage_rot_and_frost: ['rot', 'frost'],
  },
  'spots.csv': {
    over_topping: ['correct', 'too_deep', 'slanted'],
    storage_crown_wounds: ['correct', 'too_deep', 'slanted'],
    storage_leaf_and_soil: ['petioles_long', 'petioles_short', 'crown_untouched'],
    crown_and_leaf: ['petioles_long', 'petioles_short', 'crown_untouched'],
    tails: ['tip_whole', 'tip_0_2', 'tip_2_4', 'tip_4_6', 'tip_6_8', 'tip_over_8'],
    storage_tail_wounds: ['tip_whole', 'tip_0_2', 'tip_2_4', 'tip_4_6', 'tip_6_8', 'tip_over_8'],
    storage_rot_and_frost: ['rot', 'frost'],
  },
  'strips.csv': { whole_roots: ['whole_roots'], pieces: ['pieces'], tails: ['tails'] },
};

/** "no" and "0" are said of every beet, unasked: rot and frost bear only where they were seen. */
const seenOnly = new Set(['rot', 'frost']);
const says = (row: Cells, column: string): boolean => {
  const cell = row[column];
  return cell !== undefined && cell !== '' && !(seenOnly.has(column) && (cell === 'no' || Number(cell) === 0));
};

export function bearsOn(table: TableName, rows: Cells[], line: string): boolean {
  const columns = judged[table]?.[line] ?? [];
  return columns.some((column) => rows.some((row) => says(row, column)));
}
