// Packs the built app into one file for the program to carry: each file as it is and compressed.
// Usage: node pack_app.mjs <folder of the built app> <pack>
// The pack: "beetwright app 1\n", a line a file "path type tag bytes compressed_bytes\n", an empty line,
// then the bytes in that order. src/app/app_files.cpp reads it.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { extname, join, relative } from 'node:path';
import { brotliCompressSync, constants } from 'node:zlib';

const [folder, pack] = process.argv.slice(2);
const types = {
  '.html': 'text/html;charset=utf-8',
  '.js': 'text/javascript;charset=utf-8',
  '.css': 'text/css;charset=utf-8',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

const lines = [];
const parts = [];
for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
  if (!entry.isFile()) continue;
  const file = join(entry.parentPath, entry.name);
  const type = types[extname(file)];
  if (!type) throw new Error(`${file}: no type is known for files of this name; add it to tools/pack_app.mjs`);
  const bytes = readFileSync(file);
  const compressed = brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length } });
  const tag = createHash('sha256').update(bytes).digest('hex').slice(0, 16);
  lines.push(`/${relative(folder, file)} ${type} ${tag} ${bytes.length} ${compressed.length}`);
  parts.push(bytes, compressed);
}
writeFileSync(pack, Buffer.concat([Buffer.from(`beetwright app 1\n${lines.join('\n')}\n\n`), ...parts]));
