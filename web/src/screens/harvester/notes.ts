// What a crew did to its machine, as rows of the season.
import type { Reading } from '../../engine/harvester_answers.ts';
import { newId } from '../../sync/ids.ts';
import { season } from '../../sync/season.svelte.ts';
import type { Row } from '../../sync/tables.ts';
import { fileNumber } from '../../units/units.ts';

export type Answer = '' | 'accepted' | 'declined' | 'other';

/** A control and what it was set to: the display's number, an amount in its unit, or a word. */
export type Set = Pick<Reading, 'control' | 'text' | 'unit' | 'amount' | 'display'>;

function cells(set: Set): Pick<Row<'settings.csv'>, 'control' | 'value' | 'unit'> {
  if (set.display !== null) return { control: set.control, value: fileNumber(set.display), unit: 'display' };
  if (set.amount !== null) return { control: set.control, value: fileNumber(set.amount), unit: set.unit };
  return { control: set.control, value: set.text };
}

/** Records it, unless the engine finds something wrong with it: then nothing stays, and that is thrown. */
async function recordSound(id: string, field: string, table: 'settings.csv' | 'parts.csv', rows: Row[]): Promise<void> {
  await season.record({ id, field, table, rows });
  const problems = season.refused.find((one) => one.id === id)?.problems;
  if (!problems) return;
  await season.forget(id);
  throw new Error(problems.map((one) => `${one.what}. ${one.fix}`).join(' '));
}

/** Safe on this device once it settles. */
export async function noteSettings(machine: string, field: string, answer: Answer, sets: Set[]): Promise<void> {
  const id = newId();
  const at = new Date().toISOString();
  const rows = sets.map((set): Row<'settings.csv'> => ({ id, at, machine, field, answer, ...cells(set) }));
  await recordSound(id, field, 'settings.csv', rows as Row[]);
}

export async function noteParts(machine: string, stage: string, what: string): Promise<void> {
  const id = newId();
  const row: Row<'parts.csv'> = { id, machine, at: new Date().toISOString(), stage, what };
  await recordSound(id, '', 'parts.csv', [row as Row]);
}
