// Where the answer about a field's zones is kept on the device, and what it mostly follows from.
import type { TableName } from '../../sync/tables.ts';

export const answerKey = (field: string): string => `zones ${field}`;
export const zoneTables: readonly TableName[] = ['fields.csv', 'machines.csv', 'controls.csv', 'dials.csv'];
