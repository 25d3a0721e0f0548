// A shapefile is several files of one name: chosen together they go as one.
import { zipSync } from 'fflate';

const parts = ['shp', 'shx', 'dbf', 'prj', 'cpg'];
const ending = (name: string) => name.split('.').at(-1)?.toLowerCase() ?? '';

export const isOfShape = (name: string): boolean => parts.includes(ending(name));
/** Whether files belong together, and are all that reading them needs. */
export function asShape(names: string[]): 'whole' | 'no shape' | 'several' {
  if (!names.every((name) => isOfShape(name))) return 'several';
  const shapes = names.filter((name) => ending(name) === 'shp');
  if (shapes.length === 0) return 'no shape';
  const base = (name: string) => name.slice(0, name.lastIndexOf('.')).toLowerCase();
  return shapes.length === 1 && names.every((name) => base(name) === base(shapes[0]!)) ? 'whole' : 'several';
}

async function archive(files: File[], name: string): Promise<File> {
  const contents: Record<string, Uint8Array> = {};
  for (const file of files) contents[file.name] = new Uint8Array(await file.arrayBuffer());
  // At once: packing beside would want a worker made of text, which the page's policy forbids.
  const bytes = zipSync(contents, { level: 6 });
  return new File([bytes as Uint8Array<ArrayBuffer>], name, { type: 'application/zip' });
}

export function zipped(files: File[]): Promise<File> {
  const shape = files.find((file) => ending(file.name) === 'shp')!;
  return archive(files, `${shape.name.slice(0, -'.shp'.length)}.zip`);
}

/** A server takes 8 MB at once; a log of a large field is more, and a fifth of it packed. */
const large_bytes = 1_000_000;
const isArchive = async (file: File) => String.fromCharCode(...new Uint8Array(await file.slice(0, 2).arrayBuffer())) === 'PK';

/** A file as it goes out: a large one packed, under its own name. */
export async function asSent(file: File): Promise<File> {
  return file.size > large_bytes && !(await isArchive(file)) ? archive([file], file.name) : file;
}
