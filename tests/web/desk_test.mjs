// What is done at a desk in the evening, in a real browser against a real server: files of loads and samples
// as others made them, a report that takes long, a newer version of the app.
// Usage: node desk_test.mjs <folder of the built programs> [folder for pictures]
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync } from 'node:fs';
import http from 'node:http';
import { join } from 'node:path';
import playwright from 'playwright-core';
import { demoSeason, inStep, joinBy, launch, listen, look, open, sent, serve, sizes } from './lib.mjs';

const [bin, wantedPictures] = process.argv.slice(2);
const demo = demoSeason(bin);
const pictures = wantedPictures ?? join(demo.work, 'pictures');
mkdirSync(pictures, { recursive: true });
playwright.selectors.setTestIdAttribute('data-test');

/**
 * Stands before the server and passes everything on, as a proxy does. Once `isNewer`, the app that comes
 * through is another version: its page says so, and its service worker has another number.
 */
function proxyOf(url) {
  const before = new URL(url);
  const proxy = { isNewer: false };
  const passOn = (request, response) => {
    const headers = { ...request.headers, 'accept-encoding': 'identity' };
    if (proxy.isNewer) delete headers['if-none-match']; // of the older version
    const passed = http.request({ host: before.hostname, port: before.port, path: request.url, method: request.method, headers }, (answer) => {
      const isApp = proxy.isNewer && ['/', '/service-worker.js'].includes(request.url);
      if (!isApp) {
        response.writeHead(answer.statusCode, answer.headers);
        answer.pipe(response);
        return;
      }
      let text = '';
      answer.setEncoding('utf8').on('data', (part) => (text += part));
      answer.on('end', () => {
        const changed = request.url === '/' ? text.replace('<head>', '<head><meta name="edition" content="newer">') : text.replace(/const version = "[0-9a-f]+"/, 'const version = "newer"');
        assert.notEqual(changed, text, request.url);
        response.writeHead(200, { 'content-type': answer.headers['content-type'], 'cache-control': 'no-cache' });
        response.end(changed);
      });
    });
    passed.on('error', () => response.destroy());
    request.pipe(passed);
  };
  const listener = http.createServer(passOn);
  return new Promise((resolve) => {
    listener.listen(0, '127.0.0.1', () => resolve(Object.assign(proxy, { port: listener.address().port, close: () => new Promise((done) => (listener.closeAllConnections(), listener.close(done))) })));
  });
}

const complaints = [];
const wrong = [];
const server = await serve(bin, demo.season);
const proxy = await proxyOf(server.url);
const browser = await launch();
const context = await browser.newContext({ viewport: sizes.desk, acceptDownloads: true, timezoneId: 'UTC' });
const page = await context.newPage();
listen(page, complaints);
page.setDefaultTimeout(15_000);

const rowsOf = (table) => page.evaluate(async (name) => ((await (await fetch('/api/v1/season')).json())[name] ?? '').trim().split('\n').slice(1), table);
const give = (name, text) => page.getByTestId('file').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.isBuffer(text) ? text : Buffer.from(text) });
/** Records what was found in a file, until the server has it. */
const recordFile = async (rows) => {
  await page.getByTestId('record-file').click();
  await page.getByText(`${rows} recorded on this device`).waitFor();
  await sent(page);
};
const edition = () => page.evaluate(() => document.querySelector('meta[name=edition]')?.content ?? 'first');

try {
  await joinBy(page, `http://127.0.0.1:${proxy.port}/${new URL(server.joinLink).hash}`, 'Anna', 'beets in long rows');
  await inStep(page);

  // A weighbridge's list: its own headings, kilograms, days with points, a column that is nobody's business here.
  const loads = await rowsOf('loads.csv');
  const list = [
    '# October',
    'Docket no;Date;Parcel;Lorry;Net weight (kg)',
    'W-71;04.10.2031 14:05;Upper Sallow;L 3;25140',
    'W-72;04.10.2031 15:20;Uper Sallow;L 1;24880,5',
    '',
  ];
  await open(page, 'loads');
  await give('october.csv', list.join('\r\n'));
  await page.getByText('october.csv: say what stands under which heading').waitFor();
  await page.getByText('1 thing to mend').waitFor();
  const told = await page.getByRole('alert').innerText();
  assert.match(told, /Line 4, Field: .*Uper Sallow.*Upper Sallow/s);
  await look(page, 'a file with a mistake', wrong);
  await page.locator('.meanings').scrollIntoViewIfNeeded();
  await page.screenshot({ path: join(pictures, 'file-problems-desk.png') });
  // 04.10. in a list of another country is another day: what is said of the heading counts.
  await page.getByLabel('How days are written').selectOption('2031-10-04');
  await page.getByText('2 things to mend').or(page.getByText('3 things to mend')).waitFor();
  await page.getByLabel('How days are written').selectOption('04.10.2031');
  await page.getByText('1 thing to mend').waitFor();
  assert.deepEqual(await rowsOf('loads.csv'), loads, 'nothing is recorded while anything is wrong');

  list[3] = list[3].replace('Uper', 'Upper');
  await give('october.csv', list.join('\r\n'));
  await page.getByTestId('found').getByText('2 rows to record').waitFor();
  await page.locator('#their-clock').selectOption('+02:00');
  await page.getByTestId('found').getByText('2 rows to record').waitFor();
  await page.setViewportSize(sizes.phone);
  await look(page, 'a file on a phone', wrong);
  await page.locator('.meanings').evaluate((meanings) => meanings.scrollIntoView());
  await page.screenshot({ path: join(pictures, 'file-phone.png') });
  await page.setViewportSize(sizes.desk);
  await recordFile('2 rows');
  const added = (await rowsOf('loads.csv')).filter((row) => !loads.includes(row));
  assert.equal(added.length, 2);
  assert.match(added.find((row) => row.includes('W-71')), /,Upper Sallow,2031-10-04T12:05:00\S*,,W-71,25\.14,,$/);
  assert.match(added.find((row) => row.includes('W-72')), /,W-72,24\.8805,,$/);
  // The same list with two more at its end, saved anew by a spreadsheet: what is known is known, the
  // headings are remembered.
  list.splice(4, 0, 'W-73;05.10.2031 08:00;Hollow Oak;L 3;26000');
  await give('october again.csv', list.join('\r\n'));
  await page.getByTestId('found').getByText('1 row to record; 2 rows of this file are in the season already').waitFor();
  await recordFile('1 row');
  assert.equal((await rowsOf('loads.csv')).length, loads.length + 3);

  // A laboratory's sheet in the encoding of an older spreadsheet, in its own units.
  await page.getByRole('button', { name: 'A laboratory result' }).click();
  const labs = await rowsOf('labs.csv');
  await give('lab.csv', Buffer.from('Sugar [%],K [mg/kg],Na [mg/kg],alpha amino N [mg/kg],Remark \xfc,field,at\n17.31,1564,92,140,\xfc,Hollow Oak,2031-10-05\n', 'latin1'));
  await page.getByTestId('found').getByText('1 row to record').waitFor();
  await recordFile('1 row');
  const lab = (await rowsOf('labs.csv')).find((row) => !labs.includes(row)).split(',');
  // 1564 mg of potassium are 40.00 mmol (39.0983 g/mol, CIAAW).
  assert.deepEqual([lab[2], Number(lab[4]), Number(Number(lab[5]).toFixed(2))], ['Hollow Oak', 17.31, 4]);
  await give('letter.csv', '\n\n');
  await page.getByText('no heading line').waitFor();
  await page.reload();

  // A report of many draws: how far it is shows, it can be stopped, and it comes as a file.
  await inStep(page);
  await open(page, 'season');
  await page.getByRole('button', { name: 'The report with steadier ranges' }).click();
  await page.waitForFunction(() => document.querySelector('progress')?.value > 0);
  await look(page, 'a report under way', wrong);
  await page.screenshot({ path: join(pictures, 'season-report-under-way-desk.png') });
  await page.getByRole('button', { name: 'Stop' }).click();
  await page.getByRole('progressbar').waitFor({ state: 'detached' });
  const download = page.waitForEvent('download', { timeout: 120_000 });
  await page.getByRole('button', { name: 'The report with steadier ranges' }).click();
  const saved = await (await download).path();
  const report = readFileSync(saved, 'utf8');
  assert.match(report, /^<!doctype html>/i);
  assert.match(report, /Upper Sallow/);

  // A newer version comes beside the one in use, is told of, and takes its place when somebody says so;
  // what waits to be sent is still there.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await inStep(page);
  assert.equal(await edition(), 'first');
  proxy.isNewer = true;
  await open(page, 'loads');
  await page.locator('#field').selectOption('Hollow Oak');
  await page.getByLabel(/Beet as weighed/).fill('25');
  await page.evaluate(() => (globalThis.isSameDocument = true));
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.getByText('A newer version of the app').waitFor();
  assert.equal(await edition(), 'first', 'not while somebody works');
  assert.equal(await page.getByLabel(/Beet as weighed/).inputValue(), '25');
  assert.equal(await page.evaluate(() => globalThis.isSameDocument), true);
  await page.screenshot({ path: join(pictures, 'newer-version-desk.png') });
  await server.kill();
  await page.getByTestId('record').click();
  await page.getByText('1 record waits').waitFor();
  // Without a network it is complete as well: it was fetched whole before it was told of.
  await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: 'Use it now' }).click()]);
  await page.getByText('1 record waits').waitFor();
  assert.equal(await edition(), 'newer');
  assert.deepEqual(await page.evaluate(() => caches.keys()), ['beetwright-newer'], 'the older one is gone');

  assert.deepEqual(wrong, []);
  assert.deepEqual(complaints, []);
} catch (error) {
  console.error(complaints.join('\n'));
  await page.screenshot({ path: join(pictures, 'failed-desk.png'), fullPage: true }).catch(() => undefined);
  throw error;
} finally {
  await browser.close();
  await proxy.close();
  await server.kill();
  if (!wantedPictures) demo.remove();
}
