// What this device keeps: the season as it last came from the server, what waits to be sent, and the
// count that is under way. IndexedDB; a transaction is on the disk before anybody is told "recorded".
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Files, Problem } from '../engine/engine.ts';
import type { Row, TableName } from './tables.ts';

export interface Person {
  /** All zeros where there are no accounts; not known of somebody kept by an earlier version. */
  id?: string;
  name: string;
  role: 'viewer' | 'operator' | 'manager' | 'owner';
}

export interface KeptSeason {
  files: Files;
  tag: string;
  at: number;
}

/** The weather's files, as they last came. */
export interface KeptWeather {
  files: Files;
  tag: string;
}

/** One thing that somebody saw: a sheet of beets, a dug strip, a load, a sample. */
export interface Waiting {
  id: string;
  made: number;
  by: string;
  field: string;
  table: TableName;
  rows: Row[];
  /**
   * sent: the server has it, the season kept here does not yet; refused: the server found something
   * wrong with it, and a person must look.
   */
  state: 'waiting' | 'sent' | 'refused';
  problems?: Problem[];
}

/** A photograph of what was recorded, until the server has it. */
export interface WaitingPhoto {
  id: string;
  observation: string;
  field: string;
  made: number;
  /** JPEG: made small and without what the camera wrote beside it, unless that is wanted. */
  picture: Blob;
  keepsMetadata: boolean;
  state: 'waiting' | 'refused';
  problems?: Problem[];
}

/** What the server worked out, which took long: looked at until it is worked out anew, and without a network. */
export interface KeptAnswer {
  text: string;
  /** Which season and weather it is about. */
  revision: string;
  /** Of that, what it mostly follows from. */
  stamp: string;
  /** When it came. */
  at: number;
  /** Of what shape it is, as the version of the app that kept it takes answers. */
  form: number;
}

interface Schema extends DBSchema {
  answers: { key: string; value: KeptAnswer };
  facts: { key: string; value: unknown };
  outbox: { key: string; value: Waiting };
  photos: { key: string; value: WaitingPhoto };
}

let opened: Promise<IDBPDatabase<Schema>> | undefined;
const database = () =>
  (opened ??= openDB<Schema>('beetwright', 3, {
    upgrade(db, before) {
      if (before < 1) {
        db.createObjectStore('facts');
        db.createObjectStore('outbox', { keyPath: 'id' });
      }
      if (before < 2) db.createObjectStore('photos', { keyPath: 'id' });
      if (before < 3) db.createObjectStore('answers');
    },
    // Another tab has a newer app: let it, rather than keep it waiting.
    blocking: (_current, _next, event) => (event.target as IDBDatabase).close(),
  }));

export async function fact<T>(name: string): Promise<T | undefined> {
  return (await (await database()).get('facts', name)) as T | undefined;
}

/** Settles once it is on the disk. */
async function put<Name extends 'answers' | 'facts' | 'outbox' | 'photos'>(store: Name, value: Schema[Name]['value'], key?: string): Promise<void> {
  const tx = (await database()).transaction(store, 'readwrite', { durability: 'strict' });
  await tx.store.put(value, key);
  await tx.done;
}

// Each settles once it is on the disk.
export const keepFact = (name: string, value: unknown): Promise<void> => put('facts', value, name);
export const keepAnswer = (name: string, answer: KeptAnswer): Promise<void> => put('answers', answer, name);
export const keepWaiting = (one: Waiting): Promise<void> => put('outbox', one);
export const keepPhoto = (one: WaitingPhoto): Promise<void> => put('photos', one);

/** The season as it came, and without what it holds of what waited: both or neither. */
export async function keepSeason(season: KeptSeason, held: string[]): Promise<void> {
  const tx = (await database()).transaction(['facts', 'outbox'], 'readwrite', { durability: 'strict' });
  await tx.objectStore('facts').put(season, 'season');
  for (const id of held) await tx.objectStore('outbox').delete(id);
  await tx.done;
}

export async function forgetFact(name: string): Promise<void> {
  await (await database()).delete('facts', name);
}

export async function answer(name: string): Promise<KeptAnswer | undefined> {
  return (await database()).get('answers', name);
}

export async function forgetAnswers(): Promise<void> {
  await (await database()).clear('answers');
}

export async function outbox(): Promise<Waiting[]> {
  return (await database()).getAll('outbox');
}

export async function forgetWaiting(id: string): Promise<void> {
  await (await database()).delete('outbox', id);
}

export async function photos(): Promise<WaitingPhoto[]> {
  return (await database()).getAll('photos');
}

export async function forgetPhoto(id: string): Promise<void> {
  await (await database()).delete('photos', id);
}

/** Asks the browser not to throw away what is kept when the disk is short. */
export async function askToKeep(): Promise<void> {
  await navigator.storage?.persist?.();
}
