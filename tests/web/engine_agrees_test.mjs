// The engine in WebAssembly against the same engine native: every question on the demo season, numbers
// alike to 1e-12 of their size, words alike to the letter.
// Usage: node engine_agrees_test.mjs <folder of the built programs> <engine.wasm>
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Engine, Refused } from '../../web/src/engine/engine.ts';
import { serve } from './lib.mjs';

const [bin, wasm] = process.argv.slice(2);
const work = mkdtempSync(join(tmpdir(), 'beetwright-agrees-'));
const tolerance = 1e-12;
let numbers = 0;

/** Both are JSON; `at` says where they part. */
function alike(native, browser, at) {
  if (typeof native === 'number') {
    numbers += 1;
    const off = Math.abs(native - browser);
    // Differences of nearly equal amounts have no digits to compare: 1e-9 is below every unit's dust. What is said of
    // a machine rests on a season's checks, each learned by steps that add to such differences, and on draws in long
    // chains: its money is alike to a ten-thousandth of a cent, its figures to a millionth of a per cent.
    const dust = /^(advice|setup|response|machine) .*(_per_ha|\.figures\.|\.now\.)/.test(at) ? 1e-6 : 1e-9;
    assert.ok(off <= tolerance * Math.abs(native) || off < dust, `${at}: ${native} native, ${browser} in the browser`);
    return;
  }
  if (native === null || typeof native !== 'object') {
    assert.equal(browser, native, at);
    return;
  }
  assert.deepEqual(Object.keys(browser), Object.keys(native), at);
  for (const key of Object.keys(native)) alike(native[key], browser[key], `${at}.${key}`);
}

try {
  const folder = join(work, 'season');
  execFileSync(join(bin, 'beetwright_demo_season'), [folder]);
  const files = {};
  for (const name of readdirSync(folder)) files[name] = readFileSync(join(folder, name), 'utf8');
  const engine = await Engine.load(new WebAssembly.Module(readFileSync(wasm)));
  engine.open(files);
  engine.putWeather(Object.fromEntries(Object.entries(files).filter(([name]) => name.startsWith('weather_'))));

  const native = (...args) =>
    execFileSync(join(bin, 'beetwright'), [...args], { encoding: 'utf8', maxBuffer: 1 << 26 });
  const fields = files['fields.csv'].trim().split('\n').slice(1).map((line) => line.split(',')[0]);
  assert.ok(fields.length > 20);
  const season = ['--season', folder, '--json'];
  const asked = [
    ['ledger', {}, ['ledger', ...season]],
    ['ledger', { by: 'machine' }, ['ledger', ...season, '--by', 'machine']],
    ['settlement', {}, ['settle', ...season]],
    ['constants', {}, ['constants', '--json']],
  ];
  for (const field of fields) {
    asked.push(['ledger', { field, slice_in: '120d' }, ['ledger', ...season, '--field', field, '--slice-in', '120d']]);
  }
  for (const field of fields.slice(0, 6)) asked.push(['check', { field }, ['check', ...season, '--field', field]]);
  // An earlier day, on which the field still stood.
  const standing = [['Cuckoo Pen', '2031-12-04'], ['Station Piece', '2031-12-04'], ['Upper Sallow', '2031-10-05'], ['Reed Side', '2031-11-20']];
  for (const [field, at] of standing) {
    asked.push(['standing', { field, at, wait: '2w' }, ['field', field, ...season, '--at', at, '--wait', '2w']]);
    asked.push(['sky', { field, at, days: '7d' }, ['sky', ...season, '--field', field, '--at', at, '--days', '7d']]);
  }
  // A fault of settings, one where the pile decides, noise, and entries into dry and into wet soil.
  for (const [field, slice_in] of [['Chalk Ridge', '2d'], ['Mill Dam', '120d'], ['Tollgate', '2d']]) {
    asked.push(['advice', { field, slice_in }, ['advise', field, ...season, '--slice-in', slice_in]]);
  }
  for (const [field, at] of [['Lower Sallow', '2031-10-10'], ['Upper Sallow', '2031-10-26']]) {
    asked.push(['setup', { field, at }, ['setup', field, ...season, '--at', at]]);
  }
  asked.push(['setup', { field: 'Lower Sallow', soil_in_hand: 'sticky', crown_height: '5in' }, ['setup', 'Lower Sallow', ...season, '--soil-in-hand', 'sticky', '--crown-height', '5in']]);
  for (const [question, parameters, args] of asked) {
    const answer = engine.ask(question, parameters);
    assert.equal(answer.form, 'json');
    alike(JSON.parse(native(...args)), JSON.parse(answer.text), `${question} ${JSON.stringify(parameters)}`);
  }
  // What is asked while somebody counts or measures has no verb of its own: the server answers natively.
  const file = join(work, 'season.beet');
  execFileSync(join(bin, 'beetwright'), ['import', '--season', file, folder]);
  const server = await serve(bin, file, { args: ['--open'] });
  for (const [question, parameters] of [['enough', { spots: '1/10,0/10,2/7' }], ['crowns', { heights: '4,5.5,6,-1,3' }], ['weather_days', {}], ['machine', { field: 'Warren Top' }], ['response', { field: 'Warren Top', control: 'turbine_1.speed' }], ['response', { field: 'Chalk Ridge', control: 'turbine_1.guard' }]]) {
    const there = await (await fetch(`${server.url}api/v1/${question}?${new URLSearchParams(parameters)}`)).json();
    alike(there, JSON.parse(engine.ask(question, parameters).text), `${question} ${JSON.stringify(parameters)}`);
  }
  await server.stop();

  const page = engine.ask('report', { units: 'us' });
  assert.equal(page.form, 'page');
  const report = join(work, 'report.html');
  execFileSync(join(bin, 'beetwright'), ['report', '--season', folder, '--units', 'us', '--out', report]);
  assert.equal(page.text, readFileSync(report, 'utf8'), 'the report page');

  // Observations that wait count like those that were imported.
  const lines = files['beets.csv'].trim().split('\n');
  const last = lines.at(-1).split(',')[0];
  const isLast = (line) => line.startsWith(`${last},`);
  const without = { ...files, 'beets.csv': `${lines.filter((line) => !isLast(line)).join('\n')}\n` };
  engine.open(without);
  engine.addWaiting({ 'beets.csv': `${[lines[0], ...lines.filter(isLast)].join('\n')}\n` });
  alike(JSON.parse(native('ledger', ...season)), JSON.parse(engine.ask('ledger', {}).text), 'with one sheet waiting');
  // One that the server has taken already counts once.
  engine.open(files);
  engine.addWaiting({ 'beets.csv': `${[lines[0], ...lines.filter(isLast)].join('\n')}\n` });
  alike(JSON.parse(native('ledger', ...season)), JSON.parse(engine.ask('ledger', {}).text), 'with one sheet in both');

  // A file as somebody has it is read, and what is new of it comes back as it would be sent.
  engine.open(files);
  const cells = (line) => line.split(',');
  const [head, first] = files['tares.csv'].trim().split('\n');
  const at = (name) => cells(head).findIndex((cell) => cell.startsWith(name));
  const theirs = `taken;Field;(van);Gross [lb];soil [lb]\n${'04.10.2031 09:30'};${cells(first)[at('field')]};7;50,5;4\n`;
  const headed = theirs.replace('taken;Field', 'at [dd.mm.yyyy hh:mm +02:00];field').replace('Gross', 'gross');
  assert.throws(() => engine.readFile({ 'tares.csv': theirs }), (error) => error instanceof Refused && error.message.includes('known here'));
  const read = engine.readFile({ 'tares.csv': headed });
  assert.deepEqual([read.new, read.known, Object.keys(read.tables)], [1, 0, ['tares.csv']]);
  assert.match(read.tables['tares.csv'], /2031-10-04T07:30:00\S*,22\.90641/);
  engine.addWaiting(read.tables);
  assert.deepEqual([engine.readFile({ 'tares.csv': headed }).new, engine.readFile({ 'tares.csv': headed }).known], [0, 1]);
  engine.addWaiting({});

  // What is wrong is told in the same words, and the engine goes on.
  for (const [question, parameters, says] of [
    ['ledger', { field: 'uper sallow' }, 'Upper Sallow'],
    ['ledger', { slice_in: 'soon' }, 'soon'],
    ['advice', { field: 'chalk rige' }, 'Chalk Ridge'],
    ['enough', { spots: '3/2' }, 'hits/beets'],
    ['crowns', { heights: '4,five' }, 'five'],
    ['crowns', { heights: '4,5,6' }, 'at least 5'],
    ['lodger', {}, 'ledger'],
  ]) {
    assert.throws(() => engine.ask(question, parameters), (error) => error instanceof Refused && error.message.includes(says));
  }
  assert.throws(() => engine.open({ 'season.json': '{' }), (error) => error instanceof Refused && error.message.includes('JSON'));
  const enough = JSON.parse(engine.ask('enough', { spots: '1/10,0/10,2/7' }).text);
  assert.equal(enough.beets, 27);

  const start = performance.now();
  const steps = 20;
  for (let day = 1; day <= steps; ++day) engine.ask('ledger', { field: fields[0], slice_in: `${day}d` });
  const each = (performance.now() - start) / steps;
  console.log(`${asked.length + 7} answers, ${numbers} numbers alike; a field's ledger takes ${each.toFixed(1)} ms in WebAssembly`);
} finally {
  rmSync(work, { recursive: true, force: true });
}
