// What a browser fetches before the app works, compressed, against its budget of 350 kB.
// Usage: node size_test.mjs <app.pack>
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const budget = 350_000;
const pack = readFileSync(process.argv[2]);
const head = pack.subarray(0, pack.indexOf('\n\n')).toString();
const files = head.split('\n').slice(1).map((line) => {
  const [path, , , , compressed] = line.split(' ');
  return { path, compressed: Number(compressed) };
});
assert.ok(files.some((file) => file.path.endsWith('.wasm')), 'the engine is among them');
const sum = files.reduce((all, file) => all + file.compressed, 0);
for (const file of files) console.log(`${String(file.compressed).padStart(8)}  ${file.path}`);
console.log(`${String(sum).padStart(8)}  of ${budget}`);
assert.ok(sum <= budget, `${sum} bytes are more than ${budget}`);
