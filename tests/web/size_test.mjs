// What a browser fetches before the app works, compressed, against its budget of 350 kB; and what follows once it
// does, for the screens that come when they are first gone to.
// Usage: node size_test.mjs <app.pack> <folder of the built app>
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const budget = 350_000;
const [packFile, folder] = process.argv.slice(2);
const pack = readFileSync(packFile);
const head = pack.subarray(0, pack.indexOf('\n\n')).toString();
const files = head.split('\n').slice(1).map((line) => {
  const [path, , , , compressed] = line.split(' ');
  return { path, compressed: Number(compressed) };
});

/** What a file needs before it runs: what it names, but for what it fetches later with import(). */
function needs(path) {
  const text = readFileSync(join(folder, path), 'utf8');
  if (path.endsWith('.html')) return [...text.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((match) => match[1]);
  if (!path.endsWith('.js') || path === '/service-worker.js') return [];
  const imported = [...text.matchAll(/(?:\bimport|\bfrom)\s*["']\.\/([^"']+)["']/g)].map((match) => `/assets/${match[1]}`);
  const named = [...text.matchAll(/["'`](?:\.|\/assets)?\/?((?:worker|engine)-[\w-]+\.(?:js|wasm))["'`]/g)].map((match) => `/assets/${match[1]}`);
  return [...imported, ...named];
}
const first = new Set(['/index.html', '/service-worker.js']);
for (const path of first) for (const needed of needs(path)) first.add(needed);

const isFirst = ({ path }) => first.has(path);
for (const path of first) assert.ok(files.some((file) => file.path === path), `${path} is in the pack`);
assert.ok(files.some((file) => isFirst(file) && file.path.endsWith('.wasm')), 'the engine is needed at once');
assert.ok(files.some((file) => isFirst(file) && /\/worker-/.test(file.path)), 'and the thread that it runs on');
const sum = (list) => list.reduce((all, file) => all + file.compressed, 0);
for (const file of files) console.log(`${String(file.compressed).padStart(8)}  ${file.path}${isFirst(file) ? '' : ', later'}`);
console.log(`${String(sum(files.filter(isFirst))).padStart(8)}  of ${budget} at once, ${sum(files)} in all`);
assert.ok(sum(files.filter(isFirst)) <= budget, `${sum(files.filter(isFirst))} bytes are more than ${budget}`);
