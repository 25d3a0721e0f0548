// The app in a real browser against a real server: every screen at tablet and phone size in both systems
// of units, counting, working without the server, two devices on one field, people.
// Usage: node app_test.mjs <folder of the built programs> [folder for pictures]
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { demoSeason, launch, listen, look, serve, sizes } from './lib.mjs';
import { fromNothing, machinesAndDestinations, passwords } from './managing_steps.mjs';
import { soilsAndWheels, standingCrop, standingScreens } from './standing_steps.mjs';

const [bin, wantedPictures] = process.argv.slice(2);
const demo = demoSeason(bin);
const pictures = wantedPictures ?? join(demo.work, 'pictures');
mkdirSync(pictures, { recursive: true });
let password = 'beets in long rows';
const complaints = [];
/** What is not as it should be on screens that are looked at on the way. */
const problems = [];
const field = 'Upper Sallow';

let server = await serve(bin, demo.season);
const browser = await launch();

const device = async (size, options = {}) => {
  const context = await browser.newContext({ viewport: sizes[size], hasTouch: size !== 'desk', ...options });
  const page = await context.newPage();
  listen(page, complaints);
  page.setDefaultTimeout(15_000);
  return { context, page };
};
const open = async (page, ...parts) => {
  await page.evaluate((hash) => (location.hash = hash), `#/${parts.map(encodeURIComponent).join('/')}`);
  await page.waitForTimeout(150);
};
const join_ = async (page, link, name) => {
  await page.goto(link);
  await page.getByLabel('Name').fill(name);
  await page.getByLabel(/Choose a password/).fill(password);
  await page.getByRole('button', { name: 'Join' }).click();
  await page.getByRole('navigation').waitFor();
};
const inStep = (page) => page.getByText('In step with the server').waitFor();
/** Until the server has all that was recorded: what waits is shown as soon as it is recorded. */
const sent = async (page) => {
  await page.getByTestId('waiting').waitFor({ state: 'detached' });
  await inStep(page);
};
/** As many beets as given, each by two taps. */
const tapBeets = async (page, beets) => {
  for (const [crown, tail] of beets) {
    await page.getByRole('button', { name: crown, exact: true }).click();
    await page.getByRole('button', { name: tail, exact: true }).click();
  }
};
const startCount = async (page, name) => {
  await open(page, 'count', name);
  await page.getByTestId('start').click();
  await page.getByText('Spot 1').waitFor();
};
const recordCount = async (page) => {
  await page.getByRole('button', { name: 'Finish' }).click();
  await page.getByTestId('record').click();
  await page.getByText('Recorded on this device.').waitFor();
};
const sheetsOf = async (page, name) =>
  page.evaluate(async (wanted) => {
    const files = await (await fetch('/api/v1/season')).json();
    const rows = files['beets.csv'].trim().split('\n').slice(1).map((line) => line.split(','));
    const sheets = new Map();
    for (const row of rows) if (row[2] === wanted) sheets.set(row[0], (sheets.get(row[0]) ?? 0) + 1);
    return [...sheets.values()];
  }, name);
const serverLedger = (page, name) => page.evaluate(async (wanted) => (await fetch(`/api/v1/ledger?field=${encodeURIComponent(wanted)}`)).json(), name);
const paidShown = async (page, name) => {
  await open(page, 'fields', name);
  return page.locator('dl.figures div', { hasText: 'Paid' }).locator('dd').innerText();
};

/** What people come to each screen for, once. */
const mainPaths = async (page, system) => {
  const us = system === 'us';
  const recorded = async () => {
    await page.getByText('Recorded on this device.').waitFor();
    await sent(page);
  };
  await open(page, 'settings');
  await page.getByLabel(us ? /US customary/ : /Metric/).check();
  await page.getByTestId('example').waitFor();
  await open(page, 'today');
  await page.getByText('Counts that would settle most money').waitFor();
  await page.getByRole('link', { name: 'Count there' }).first().click();
  await page.getByTestId('start').waitFor();
  await startCount(page, 'Kiln Close');
  await tapBeets(page, [['Cut right', us ? '0.8 to 1.6 in' : '2 to 4 cm'], [us ? 'Stalks over 0.8 in' : 'Stalks over 2 cm', 'tail on']]);
  await recordCount(page);
  await recorded();
  await page.getByRole('button', { name: 'Typed in' }).click();
  await page.locator('#field').selectOption('Kiln Close');
  await page.getByLabel('tail on').fill('9');
  await page.getByTestId('record').click();
  await recorded();
  await page.getByRole('button', { name: 'Dug strip' }).click();
  await page.locator('#field').selectOption('Kiln Close');
  await page.getByLabel(/Length by the tape/).fill('20');
  await page.getByTestId('area').getByText(us ? 'sq ft' : 'm²').waitFor();
  await page.getByLabel(/Tails with bucket/).fill('1.5');
  await page.getByTestId('record').click();
  await recorded();
  await open(page, 'fields');
  await page.getByRole('link', { name: /Kiln Close/ }).click();
  await page.locator('[data-line=storage_tail_wounds]').click();
  await page.locator('section.card').getByText(us ? 'lb/acre' : 'kg/ha').first().waitFor();
  await page.locator('#days').fill('90');
  await page.getByTestId('days').getByText('90 days').waitFor();
  await open(page, 'season');
  await page.getByRole('button', { name: 'Machines' }).click();
  await page.getByRole('rowheader', { name: 'Harvester North' }).waitFor();
  await page.getByRole('columnheader', { name: us ? /short ton\/acre/ : /t\/ha/ }).waitFor();
  await open(page, 'loads');
  await page.getByRole('button', { name: 'A tare sample' }).click();
  await page.locator('#field').selectOption('Kiln Close');
  await page.getByLabel(/The sample as taken/).fill('22');
  await page.getByLabel(/Soil on it/).fill('2');
  await page.getByTestId('record').click();
  await recorded();
  await page.getByLabel('Grower').selectOption({ index: 1 });
  await page.locator('p.total').getByText(us ? 'short ton' : /\d t of/).waitFor();
  await open(page, 'numbers');
  await page.getByLabel('Find').fill('wound');
  await page.getByRole('status').getByText(/\d+ numbers/).waitFor();
};

const playwright = await import('playwright-core');
playwright.selectors.setTestIdAttribute('data-test');

const steps = [];
const step = async (name, run) => {
  const start = performance.now();
  await run();
  steps.push(`${name} (${((performance.now() - start) / 1000).toFixed(1)} s)`);
};

try {
  const owner = await device('tablet');
  const app = { owner, device, open, join_, inStep, sent, tapBeets, recordCount, pictures, problems };
  await step('the owner joins by the link of the first start, once', async () => {
    assert.ok(server.joinLink, 'a season that nobody owns comes with a link');
    await join_(owner.page, server.joinLink, 'Anna');
    await inStep(owner.page);
    const other = await device('desk');
    await other.page.goto(server.joinLink);
    await other.page.getByRole('alert').waitFor();
    await other.context.close();
  });

  await step('a step of the band shows its figures, and the day of slicing moves it', async () => {
    const { page } = owner;
    await open(page, 'fields', field);
    await page.locator('[data-line=tails]').click();
    const figures = () => page.locator('section.card dd').last().innerText();
    await page.locator('section.card').waitFor();
    const planned = await figures();
    await page.locator('#days').fill('2');
    await page.getByTestId('days').getByText('2 days').waitFor();
    await page.waitForFunction((before) => !document.querySelector('section.card').textContent.includes(before), planned.split('\n')[0]);
    const early = await figures();
    await page.locator('#days').fill('120');
    await page.waitForFunction((before) => !document.querySelector('section.card').textContent.includes(before), early.split('\n')[0]);
    const late = await figures();
    const first = (text) => Number(text.replace(/[^\d.].*$/s, ''));
    assert.ok(first(late) > 2 * first(early), `a broken tail costs more later: ${early} and ${late}`);
  });

  await step('beets are counted by taps, one is undone, the count is recorded and sent', async () => {
    const { page } = owner;
    const before = await sheetsOf(page, field);
    await startCount(page, field);
    const ten = [...Array(8).fill(['Cut right', 'tail on']), ['Too deep', '4 to 6 cm'], ['Slanted', 'up to 2 cm']];
    await tapBeets(page, ten);
    await page.getByText('walk on to the next spot').waitFor();
    await tapBeets(page, [['Too deep', 'over 8 cm']]);
    await page.getByTestId('undo').click();
    // Told as kept once the disk has it; on a busy machine that takes a while.
    await page.locator('[data-test=tally][aria-busy=false]', { hasText: '10 beets at 1 spot' }).waitFor();
    await page.getByText('1 of 10').first().waitFor();
    // Closed in the middle, it goes on where it was.
    await page.reload();
    await open(page, 'today');
    await page.getByRole('link', { name: 'Go on counting' }).click();
    await page.getByText('10 beets at 1 spot').waitFor();
    await recordCount(page);
    await sent(page);
    assert.deepEqual(await sheetsOf(page, field), [...before, 10]);
  });

  await step('what is recorded while the season is being fetched goes out right after', async () => {
    const { page } = owner;
    const before = await sheetsOf(page, field);
    let letGo;
    const held = new Promise((resolve) => (letGo = resolve));
    await page.route('**/api/v1/season', async (route) => {
      await held;
      await route.continue();
    });
    const fetching = page.waitForRequest((request) => request.method() === 'GET' && request.url().endsWith('/api/v1/season'));
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await fetching;
    await startCount(page, field);
    await tapBeets(page, [['Cut right', 'tail on']]);
    await recordCount(page);
    await page.getByText('1 record waits').waitFor();
    letGo();
    await sent(page);
    await page.unroute('**/api/v1/season');
    assert.deepEqual(await sheetsOf(page, field), [...before, 1]);
  });

  await step('without the server: the app opens, thirty beets are counted, and it catches up', async () => {
    const { page } = owner;
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.reload(); // from here on the service worker answers
    await inStep(page);
    const before = await sheetsOf(page, 'Hollow Oak');
    await server.kill();
    await page.reload();
    await page.getByText('No server in reach').waitFor();
    await startCount(page, 'Hollow Oak');
    const kinds = [['Cut right', 'tail on'], ['Cut right', '2 to 4 cm'], ['Too deep', 'up to 2 cm'], ['Stalks over 2 cm', 'tail on'], ['Crown whole', '6 to 8 cm']];
    await tapBeets(page, Array.from({ length: 30 }, (_, i) => kinds[i % kinds.length]));
    await recordCount(page);
    await page.getByText('1 record waits').waitFor();
    const shownAlone = await paidShown(page, 'Hollow Oak');
    // The device may go dark in between.
    await page.reload();
    await page.getByText('1 record waits').waitFor();
    assert.equal(await paidShown(page, 'Hollow Oak'), shownAlone);
    server = await serve(bin, demo.season, { port: server.port });
    await page.getByRole('button', { name: 'Send now' }).click();
    await inStep(page);
    await page.getByTestId('waiting').waitFor({ state: 'detached' });
    assert.deepEqual(await sheetsOf(page, 'Hollow Oak'), [...before, 30]);
    assert.equal(await paidShown(page, 'Hollow Oak'), shownAlone, 'the ledger as the device had it alone');
    // The same count entered online elsewhere gives the same ledger to the last digit.
    const online = demoSeason(bin);
    const twin = await serve(bin, online.season, { args: ['--open'] });
    const files = await page.evaluate(async () => (await fetch('/api/v1/season')).json());
    const lines = files['beets.csv'].trim().split('\n');
    const known = await (await fetch(`${twin.url}api/v1/season`)).json();
    const fresh = [lines[0], ...lines.slice(1).filter((line) => !known['beets.csv'].includes(line.split(',')[0]))];
    const sent = await fetch(`${twin.url}api/v1/observations`, { method: 'POST', headers: { 'X-Beetwright': '1' }, body: JSON.stringify({ 'beets.csv': `${fresh.join('\n')}\n` }) });
    assert.equal(sent.status, 200, await sent.text());
    const there = await (await fetch(`${twin.url}api/v1/ledger?field=Hollow%20Oak`)).json();
    assert.deepEqual(await serverLedger(page, 'Hollow Oak'), there);
    await twin.stop();
    online.remove();
  });

  await step('two devices see the same field: both count, a correction says whose it was', async () => {
    const { page } = owner;
    await open(page, 'settings');
    await page.getByRole('button', { name: 'Make the link' }).click();
    const link = await page.locator('a[href*="#/join/"]').getAttribute('href');
    const phone = await device('phone');
    await join_(phone.page, link, 'Bero');
    await inStep(phone.page);
    const before = await sheetsOf(page, 'Crow Park');
    await owner.context.setOffline(true);
    await phone.context.setOffline(true);
    for (const one of [page, phone.page]) {
      await startCount(one, 'Crow Park');
      await tapBeets(one, Array(5).fill(['Cut right', 'tail on']));
      await recordCount(one);
      await one.getByText('1 record waits').waitFor();
    }
    await owner.context.setOffline(false);
    await phone.context.setOffline(false);
    for (const one of [page, phone.page, page]) {
      await one.evaluate(() => dispatchEvent(new Event('online')));
      await sent(one);
    }
    assert.deepEqual(await sheetsOf(page, 'Crow Park'), [...before, 5, 5]);
    // Bero corrects Anna's; it says so.
    await phone.page.reload();
    await inStep(phone.page);
    await open(phone.page, 'fields', 'Crow Park');
    await phone.page.locator('li', { hasText: 'Anna' }).getByRole('link', { name: 'Correct it' }).first().click();
    await phone.page.getByTestId('start').click();
    await tapBeets(phone.page, Array(4).fill(['Too deep', 'tail on']));
    await recordCount(phone.page);
    await sent(phone.page);
    await open(phone.page, 'fields', 'Crow Park');
    await phone.page.locator('li', { hasText: 'corrected later' }).filter({ hasText: 'Anna' }).waitFor();
    // Anna, who has not heard of it, corrects the same sheet: told, kept, for her to decide.
    await page.evaluate(() => undefined);
    await owner.context.setOffline(true);
    await open(page, 'fields', 'Crow Park');
    await page.locator('li', { hasText: 'Anna' }).getByRole('link', { name: 'Correct it' }).first().click();
    await page.getByTestId('start').click();
    await tapBeets(page, Array(3).fill(['Slanted', 'tail on']));
    await recordCount(page);
    await owner.context.setOffline(false);
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await page.getByText('1 record needs a look').click();
    await page.getByText('was corrected before').waitFor();
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText('needs a look').waitFor({ state: 'detached' });
    // An operator may not change terms, and the server says so too.
    await open(phone.page, 'settings');
    assert.equal(await phone.page.getByText('Payment terms').count(), 0);
    const refused = await phone.page.evaluate(async () => (await fetch('/api/v1/season/terms.json', { method: 'PUT', headers: { 'X-Beetwright': '1' }, body: '{}' })).status);
    assert.equal(refused, 403);
    await phone.context.close();
  });

  await step('a flick goes on without a judgement; a tap on the drawing says where the tail broke', async () => {
    const { page } = owner;
    await startCount(page, 'Long Furrow');
    const drawing = await page.locator('.tap svg.tail').boundingBox();
    const middle = drawing.y + drawing.height / 2;
    // The third place of six from above, 4 to 6 cm, ends at the middle.
    await page.mouse.click(drawing.x + drawing.width / 2, middle - 8);
    assert.equal(await page.getByRole('button', { name: '4 to 6 cm', exact: true }).getAttribute('aria-pressed'), 'true');
    await page.mouse.move(drawing.x + 5, middle);
    await page.mouse.down();
    await page.mouse.move(drawing.x + 120, middle, { steps: 4 });
    await page.mouse.up();
    await page.getByText('1 beet at 1 spot').waitFor();
    await page.getByText('1 of 1: 100 %').waitFor();
    await page.getByText('none judged yet').waitFor();
    await page.getByRole('button', { name: 'Finish' }).click();
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Throw it away' }).click();
    await page.getByTestId('start').waitFor();
  });

  await step('the season as a table to sort and to take away, the report as a page, without the server', async () => {
    const { page, context } = owner;
    await context.setOffline(true);
    await open(page, 'season');
    await page.getByRole('button', { name: 'Machines' }).click();
    await page.getByRole('rowheader', { name: 'Harvester North' }).waitFor();
    await page.getByRole('button', { name: 'Fields', exact: true }).click();
    await page.getByRole('button', { name: 'Tails' }).click();
    const tails = await page.locator('tbody tr td:nth-child(5)').evaluateAll((cells) => cells.map((cell) => Number(cell.firstChild.textContent.replace('\u2212', '-').replace(/[^-\d.]/g, ''))));
    assert.ok(tails.length >= 24);
    assert.deepEqual(tails, [...tails].sort((a, b) => b - a));
    const taken = async (button) => {
      const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: button }).click()]);
      return readFileSync(await download.path(), 'utf8');
    };
    const csv = await taken('Download as CSV');
    assert.match(csv, /^Name,Area \[ha\]/);
    assert.equal(csv.split('\r\n').length, 1 + tails.length);
    assert.match(await taken('The report as a page'), /<svg[^]*falling-band/);
    await context.setOffline(false);
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await inStep(page);
  });

  await step('a dug strip by tape and bucket, in US units', async () => {
    const { page } = owner;
    await open(page, 'settings');
    await page.getByLabel(/US customary/).check();
    await open(page, 'count', field);
    await page.getByRole('button', { name: 'Dug strip' }).click();
    await page.getByLabel(/Length by the tape/).fill('100');
    await page.getByLabel('Rows').fill('6');
    await page.getByLabel(/From row to row/).fill('20');
    await page.getByTestId('area').getByText('1000.0 sq ft').waitFor();
    await page.getByLabel(/The bucket alone/).fill('2');
    await page.getByLabel(/Whole roots with bucket/).fill('12');
    await page.getByText('10.00 lb found').waitFor();
    await page.getByTestId('record').click();
    await page.getByText('Recorded on this device.').waitFor();
    await sent(page);
    const strip = await page.evaluate(async () => (await (await fetch('/api/v1/season')).json())['strips.csv'].trim().split('\n').at(-1).split(','));
    assert.ok(Math.abs(Number(strip[5]) - 92.90304) < 1e-6, `1000 sq ft in m2: ${strip[5]}`);
    assert.ok(Math.abs(Number(strip[6]) - 4.5359237) < 1e-6, `10 lb in kg: ${strip[6]}`);
  });

  await step('a standing crop: a dug sample, leaf, twenty crowns without the server, a correction in inches', () => standingCrop(app));

  await step('a count typed in from paper', async () => {
    const { page } = owner;
    await open(page, 'count', field);
    await page.getByRole('button', { name: 'Typed in' }).click();
    await page.getByLabel('Cut right').fill('12');
    await page.getByText('more than the beets of the spot').waitFor();
    assert.ok(await page.getByTestId('record').isDisabled());
    await page.getByLabel('Cut right').fill('8');
    await page.getByLabel('Too deep').fill('2');
    await page.getByLabel('tail on').fill('9');
    await page.getByTestId('record').click();
    await page.getByText('Recorded on this device.').waitFor();
    await sent(page);
  });

  await step('a load in, the settlement out, terms with an example that follows', async () => {
    const { page } = owner;
    await open(page, 'settings');
    await page.getByLabel(/Metric/).check();
    await open(page, 'loads');
    const total = async () => Number((await page.locator('p.total strong').innerText()).replace(/.*: /, '').replace(/[^\d.]/g, ''));
    await page.locator('p.total').waitFor();
    const before = await total();
    await page.locator('#field').selectOption(field);
    await page.getByLabel(/Beet as weighed/).fill('25');
    await page.getByLabel('Ticket').first().fill('T-1');
    await page.getByTestId('record').click();
    await page.waitForFunction((old) => Number(document.querySelector('p.total strong').textContent.replace(/.*: /, '').replace(/[^\d.]/g, '')) > old, before);
    await sent(page);
    await open(page, 'settings');
    const example = page.getByTestId('example');
    const first = await example.innerText();
    await page.getByLabel(/Price of recoverable sugar/).fill('460 EUR/t');
    await page.waitForFunction((old) => document.querySelector('[data-test=example]')?.textContent !== old, first);
    await page.getByLabel(/Price of recoverable sugar/).fill('460 EUR/acre');
    await page.getByText('These terms cannot be used yet').waitFor();
    assert.ok(await page.getByRole('button', { name: 'Use these terms' }).isDisabled());
    await page.getByLabel(/Price of recoverable sugar/).fill('460 EUR/t');
    await page.getByRole('button', { name: 'Use these terms' }).click();
    await page.getByText('Saved.').waitFor();
  });

  await step('a number of one’s own in place of a published one, and back', async () => {
    const { page } = owner;
    await open(page, 'numbers');
    await page.getByLabel('Find').fill('tip.exponent');
    await page.getByRole('button', { name: 'Put in your own' }).first().click();
    await page.getByLabel('Value').fill('2.3');
    await page.getByLabel('Hardly less than').fill('2.4');
    await page.getByRole('button', { name: 'Use this number' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Hardly less than').fill('2.1');
    await page.getByLabel('Hardly more than').fill('2.5');
    await page.getByRole('button', { name: 'Use this number' }).click();
    await page.getByText('your number').waitFor();
    await page.getByRole('button', { name: 'Back to the published one' }).click();
    await page.getByText('your number').waitFor({ state: 'detached' });
  });

  await step('a photograph is made small, loses where it was taken, and stays with what was recorded', async () => {
    const { page } = owner;
    await open(page, 'fields', 'Crow Park');
    // A JPEG made by the browser, with an APP1 segment as a camera writes it spliced in.
    const jpeg = Buffer.from(
      await page.evaluate(async () => {
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [3200, 2400];
        canvas.getContext('2d').fillRect(10, 10, 900, 900);
        const blob = await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg'));
        return [...new Uint8Array(await blob.arrayBuffer())];
      }),
    );
    const secret = Buffer.from('Exif\0\0GPS 53.1 N 8.2 E');
    const marked = Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xe1, 0, secret.length + 2]), secret, jpeg.subarray(2)]);
    await page.locator('input[type=file]').first().setInputFiles({ name: 'beets.jpg', mimeType: 'image/jpeg', buffer: marked });
    await page.locator('.photos a img').first().waitFor();
    // It stands in the card of a step that rests on that count, and asking for it again takes no request.
    const asked = [];
    page.on('request', (request) => request.url().includes('/api/v1/photos?') && asked.push(request.url()));
    await page.locator('[data-line=tails]').click();
    await page.locator('section.card .photos img').waitFor();
    await page.locator('section.card').screenshot({ path: join(pictures, 'card-photo-tablet.png') });
    assert.equal(await page.locator('section.card input[type=file]').count(), 0);
    await page.locator('[data-line=haul]').click();
    await page.locator('section.card .photos').waitFor({ state: 'detached' });
    await page.locator('[data-line=haul]').click();
    assert.deepEqual(asked, []);
    const kept = await page.evaluate(async () => {
      const { photos } = await (await fetch('/api/v1/photos?field=Crow%20Park')).json();
      const bytes = new Uint8Array(await (await fetch(`/api/v1/photos/${photos[0].id}`)).arrayBuffer());
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
      return { count: photos.length, by: photos[0].by, width: bitmap.width, text: new TextDecoder('latin1').decode(bytes) };
    });
    assert.equal(kept.count, 1);
    assert.equal(kept.by, 'Anna');
    assert.equal(kept.width, 1600);
    assert.ok(!kept.text.includes('GPS'));
    // Where somebody wants it kept, it is.
    await open(page, 'settings');
    await page.getByLabel('Photographs keep where').check();
    await open(page, 'fields', 'Crow Park');
    await page.locator('input[type=file]').first().setInputFiles({ name: 'beets.jpg', mimeType: 'image/jpeg', buffer: marked });
    await page.locator('.photos a img').nth(1).waitFor();
    const all = await page.evaluate(async () => {
      const { photos } = await (await fetch('/api/v1/photos?field=Crow%20Park')).json();
      return Promise.all(photos.map(async (one) => new TextDecoder('latin1').decode(await (await fetch(`/api/v1/photos/${one.id}`)).arrayBuffer())));
    });
    assert.equal(all.filter((text) => text.includes('GPS')).length, 1);
    await page.locator('input[type=file]').first().setInputFiles({ name: 'not.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no picture') });
    await page.getByText('not a picture').waitFor();
  });

  await step('a field is added, and what is known of one is changed', async () => {
    const { page } = owner;
    await open(page, 'fields');
    await page.getByRole('link', { name: 'Add a field' }).click();
    await page.getByLabel('Name').fill(field);
    await page.getByText('has a field of this name').waitFor();
    await page.getByLabel('Name').fill('New Corner');
    await page.getByLabel(/^Area/).fill('7.5');
    await page.getByLabel('Machine').selectOption('Harvester South');
    await page.getByLabel('Lifted on').fill('2031-10-09');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByRole('heading', { name: 'New Corner' }).waitFor();
    await page.locator('dl.figures').waitFor();
    await page.getByRole('button', { name: 'Change what is known of it' }).click();
    await page.getByLabel(/^Area/).fill('8');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByLabel(/^Area/).waitFor({ state: 'detached' });
    const rows = await page.evaluate(async () => (await (await fetch('/api/v1/season')).json())['fields.csv']);
    assert.match(rows, /^New Corner,,8,,,Harvester South,.*2031-10-09/m);
    assert.equal(rows.match(/New Corner/g).length, 1);
  });

  await step('machines and destinations are added, changed, renamed; what something seen names stays', () => machinesAndDestinations(app));

  await step('soils and wheels: what is known of them is changed, a name goes with its fields', () => soilsAndWheels(app));

  await step('one’s own password, a forgotten one, signing out everywhere, and who did what', async () => {
    password = await passwords(app, password);
  });

  await step('from an empty season to its first ledger, in the app alone', () => fromNothing(app, bin, join(demo.work, 'new season.beet')));

  await step('each screen’s main path, on tablet and phone, in metric and US units', async () => {
    const state = await owner.context.storageState();
    for (const size of ['tablet', 'phone']) {
      const { context, page } = await device(size, { storageState: state });
      await page.goto(server.url);
      await inStep(page);
      for (const system of ['metric', 'us']) await mainPaths(page, system);
      await context.close();
    }
  });

  await step('every screen, at each size, in both systems: it fits, can be touched, and axe finds nothing', async () => {
    const wrong = [];
    const state = await owner.context.storageState();
    for (const size of Object.keys(sizes)) {
      const { context, page } = await device(size, { storageState: state });
      await page.goto(server.url);
      await inStep(page);
      for (const [system, label] of [['metric', /Metric/], ['us', /US customary/]]) {
        await open(page, 'settings');
        await page.getByLabel(label).check();
        for (const screen of [['today'], ['count', field], ['fields'], ['fields', field], ['machines'], ['machines', 'Harvester North'], ['add', 'destinations'], ['season'], ['loads'], ['numbers'], ['settings'], ['settings', 'people']]) {
          await open(page, ...screen);
          await page.waitForTimeout(350);
          // Units change words alone: axe looks at them where there is least room.
          await look(page, `${screen.join(' ')} ${size} ${system}`, wrong, system === 'metric' || size === 'phone');
          await page.screenshot({ path: join(pictures, `${screen.length === 2 && screen[0] !== 'count' ? `${screen[0]}-${screen[1].split(' ')[0].toLowerCase()}` : screen[0]}-${size}-${system}.png`) });
        }
        await startCount(page, field);
        await tapBeets(page, [['Too deep', system === 'us' ? '1.6 to 2.4 in' : '4 to 6 cm'], ['Cut right', 'tail on']]);
        await page.getByRole('button', { name: 'Slanted' }).click();
        await page.waitForTimeout(250);
        await look(page, `counting ${size} ${system}`, wrong);
        await page.screenshot({ path: join(pictures, `counting-${size}-${system}.png`) });
        await page.getByRole('button', { name: 'Finish' }).click();
        page.once('dialog', (dialog) => dialog.accept());
        await page.getByRole('button', { name: 'Throw it away' }).click();
        await page.getByTestId('start').waitFor();
      }
      await context.close();
    }
    assert.deepEqual(wrong, []);
  });

  await step('standing crops, soils and wheels on every size, in both systems', () => standingScreens(app, server.url));

  await step('signed out, nothing of the season is on the device', async () => {
    const { page } = owner;
    await open(page, 'settings');
    await page.getByRole('button', { name: 'Sign out of this device' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await page.getByLabel('Name').fill('Anna');
    await page.getByLabel('Password').fill('not this one');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Password').fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await inStep(page);
  });

  assert.deepEqual(problems, []);
  assert.deepEqual(complaints, []);
  console.log(`${steps.join('\n')}\npictures: ${pictures}`);
} catch (error) {
  console.error(`after: ${steps.join('; ')}`);
  console.error(complaints.join('\n'));
  const page = browser.contexts().flatMap((context) => context.pages()).at(-1);
  if (page) await page.screenshot({ path: join(pictures, 'failed.png'), fullPage: true }).catch(() => undefined);
  throw error;
} finally {
  await browser.close();
  await server.kill();
  if (!wantedPictures) demo.remove();
}
