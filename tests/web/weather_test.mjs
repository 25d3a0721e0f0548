// Weather in a real browser against a real server: the coming days on Today, what stands in a field and what
// waiting is worth, with and without the server, and files of weather brought in.
// Usage: node weather_test.mjs <folder of the built programs> [folder for pictures]
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { selectors } from 'playwright-core';
import { demoSeason, inStep, joinBy, launch, listen, look, open, serve, sizes } from './lib.mjs';

selectors.setTestIdAttribute('data-test');
const [bin, wantedPictures] = process.argv.slice(2);
const demo = demoSeason(bin);
const pictures = wantedPictures ?? join(demo.work, 'pictures');
mkdirSync(pictures, { recursive: true });
const complaints = [];
const problems = [];
const field = 'Cuckoo Pen';

const server = await serve(bin, demo.season);
const browser = await launch();
const steps = [];
const step = async (name, run) => {
  const start = performance.now();
  await run();
  steps.push(`${name} (${((performance.now() - start) / 1000).toFixed(1)} s)`);
};
const device = async (size, options = {}) => {
  const context = await browser.newContext({ viewport: sizes[size], hasTouch: size !== 'desk', ...options });
  const page = await context.newPage();
  listen(page, complaints);
  page.setDefaultTimeout(15_000);
  return { context, page };
};
const days = (page) => page.locator('[data-test=sky] li');
const whole = (text) => Number(text.replace(/[^\d−-].*$/s, '').replace('−', '-'));

/** A day later: the hours that the station has noted since, in its own words and units. */
function moreHours(hours, change = (row) => row) {
  let text = 'hour_beginning [dd.mm.yyyy hh:mm +01:00];temperature [°F];humidity [%];wind [mph];rain [in];cloud [%]\n';
  for (let hour = 6; hour < 6 + hours; ++hour) text += `${change(`04.12.2031 ${String(hour).padStart(2, '0')}:00;41.5;90;6;0.00;40`, hour)}\n`;
  return text;
}
const bring = async (page, part, name, text) => {
  await page.getByRole('button', { name: part, exact: true }).click();
  await page.getByTestId('weather-file').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
};
const weatherOf = (page) => page.evaluate(async () => Object.keys(await (await fetch('/api/v1/weather')).json()).sort());

try {
  const { page, context } = await device('tablet');
  await joinBy(page, server.joinLink, 'Anna', 'beets in long rows');
  await inStep(page);

  await step('ten days ahead, with hours, chance and reason, of a usual soil and of a field', async () => {
    await days(page).nth(9).waitFor();
    assert.equal(await days(page).count(), 10);
    assert.match(await days(page).first().innerText(), /Thu 4 Dec\s+\d+ of 18 h/);
    const told = await page.evaluate(async () => (await fetch('/api/v1/sky')).json());
    for (const [i, day] of told.days.entries()) {
      const shown = await days(page).nth(i).innerText();
      assert.ok(shown.includes(`${Math.round(day.open_h.value)} of ${day.hours} h`), `${shown} as the server says ${day.open_h.value}`);
      assert.ok(shown.includes(`${Math.round(100 * day.useful_chance)} % for 6 h or more`), shown);
    }
    await page.getByTestId('sky-field').selectOption(field);
    const ofField = await page.evaluate(async (name) => (await fetch(`/api/v1/sky?field=${encodeURIComponent(name)}`)).json(), field);
    const last = ofField.days[9];
    await days(page).nth(9).getByText(`${Math.round(last.open_h.value)} of ${last.hours} h`).waitFor();
    // Who does not lift at night says so once, on this device.
    await page.getByTestId('nights').uncheck();
    await days(page).nth(1).getByText(/dark 1\d h/).waitFor();
    await page.reload();
    await days(page).nth(1).getByText(/dark 1\d h/).waitFor();
    await page.getByTestId('nights').check();
    await days(page).nth(1).getByText(/dark/).waitFor({ state: 'detached' });
  });

  await step('what stands in a field, and what each wait is worth', async () => {
    await open(page, 'fields', field);
    const card = page.getByTestId('standing');
    await card.getByText('What waiting is worth').waitFor();
    assert.match(await card.innerText(), /sandy loam: \d+ % water, (hard|crumbly|plastic|sticky)/);
    assert.match(await card.innerText(), /Under the heaviest wheel of Harvester South, 11.2 t:/);
    assert.match(await card.innerText(), /2 digs here/);
    assert.match(await card.innerText(), /Leaf on Wed 3 Dec: frozen/);
    assert.match(await card.innerText(), /Crowns on Wed 3 Dec: 5\.\d cm over the ground \(4\.\d cm to 5\.\d cm\)/);
    await card.getByText('What to mind on wheels').click();
    await card.getByText('a slope asks for more').waitFor();
    const sugar = async () => whole(await page.getByTestId('wait').locator('dd').first().innerText());
    const week = await sugar();
    await page.locator('#wait').fill('28');
    await page.getByTestId('wait-days').getByText('28 days').waitFor();
    await page.waitForFunction((before) => !document.querySelector('[data-test=wait]').textContent.includes(before), `${week} kg/ha`);
    assert.ok((await sugar()) > week, 'four weeks bring more than one, if all goes well');
    const told = await page.evaluate(async (name) => (await fetch(`/api/v1/standing?field=${encodeURIComponent(name)}&wait=28d`)).json(), field);
    assert.match(await card.innerText(), new RegExp(`${Math.round(100 * told.wait.chance_of_loss)} % chance that it loses sugar`));
    // A field that was lifted has no such card.
    await open(page, 'fields', 'Upper Sallow');
    await page.locator('dl.figures').waitFor();
    assert.equal(await page.getByTestId('standing').count(), 0);
  });

  await step('the same without the server, after the app was closed', async () => {
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.reload();
    await inStep(page);
    await open(page, 'today');
    await days(page).nth(9).waitFor();
    const before = await page.getByTestId('sky').innerText();
    await context.setOffline(true);
    await page.reload();
    await page.getByText('No server in reach').waitFor();
    await open(page, 'today');
    await days(page).nth(9).waitFor();
    assert.equal(await page.getByTestId('sky').innerText(), before);
    await open(page, 'weather');
    await page.getByText('A manager brings files of weather while the server is in reach.').waitFor();
    assert.equal(await page.locator('svg[role=img]').count(), 3);
    await context.setOffline(false);
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await inStep(page);
  });

  await step('a file with mistakes is told of and nothing is kept', async () => {
    await open(page, 'weather');
    // It does not say where: what was measured goes on at its place, anything else must be said.
    await bring(page, 'Measured', 'pump house.csv', moreHours(6));
    await page.getByRole('heading', { name: 'Read from pump house.csv' }).waitFor();
    await page.getByText('What the file does not say').click();
    assert.equal(await page.getByLabel(/^Latitude/).inputValue(), '54');
    await page.getByLabel(/^Latitude/).fill('north');
    await page.getByRole('alert').getByText("'north' is not a number").waitFor();
    await page.getByLabel(/^Latitude/).fill('54');
    await bring(page, 'Measured', 'pump house.csv', moreHours(6, (row, hour) => (hour === 8 ? row.replace('41.5', 'mild') : row)));
    await page.getByRole('alert').getByText('line 4').waitFor();
    assert.equal(await page.getByTestId('keep-weather').count(), 0);
    // In order by itself, and at odds with what the season has.
    await bring(page, 'Measured', 'pump house.csv', moreHours(6).replaceAll('04.12.2031', '03.12.2031'));
    await page.getByTestId('keep-weather').click();
    await page.getByRole('alert').getByText(/has another .* than the season has/).waitFor();
  });

  await step('hours measured since go behind those that are there; a forecast out and in again', async () => {
    await bring(page, 'Measured', 'pump house.csv', moreHours(12));
    await page.getByText('Add its hours to those that are there').waitFor();
    await page.getByTestId('keep-weather').click();
    await page.getByText('The season has the weather of pump house.csv.').waitFor();
    await page.getByText('2298 hours').waitFor();
    const forecast = readFileSync(join(demo.folder, 'weather_forecast.csv'), 'utf8');
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Take it out' }).nth(1).click();
    await page.getByText('Bring a forecast hour by hour').waitFor();
    assert.deepEqual(await weatherOf(page), ['weather_observed.csv', 'weather_usual.csv']);
    await open(page, 'today');
    await days(page).nth(1).getByText('beyond the forecast').waitFor();
    await open(page, 'weather');
    await bring(page, 'Forecast', 'runs.csv', forecast);
    await page.getByText('30 runs.').waitFor();
    await page.getByText('It takes the place of what is there.').waitFor();
    await page.getByTestId('keep-weather').click();
    await page.getByText('The season has the weather of runs.csv.').waitFor();
    await open(page, 'today');
    await days(page).first().waitFor();
    assert.match(await days(page).first().innerText(), /of 6 h/); // from 18:00 on
    await page.getByText('beyond the forecast').first().waitFor({ state: 'detached' });
    await open(page, 'settings');
  });

  await step('who may not bring weather reads it', async () => {
    await page.getByRole('button', { name: 'Make the link' }).click();
    const link = await page.locator('a[href*="#/join/"]').getAttribute('href');
    const other = await device('phone');
    await joinBy(other.page, link, 'Bero', 'beets in long rows');
    await inStep(other.page);
    await open(other.page, 'weather');
    await other.page.locator('svg[role=img]').first().waitFor();
    assert.equal(await other.page.getByTestId('weather-file').count(), 0);
    const refused = await other.page.evaluate(async () => (await fetch('/api/v1/weather/usual', { method: 'DELETE', headers: { 'X-Beetwright': '1' } })).status);
    assert.equal(refused, 403);
    await other.context.close();
  });

  await step('every screen at three sizes, in both systems of units', async () => {
    const state = await context.storageState();
    for (const size of Object.keys(sizes)) {
      const here = await device(size, { storageState: state });
      await here.page.goto(server.url);
      await inStep(here.page);
      for (const system of ['metric', 'us']) {
        await open(here.page, 'settings');
        await here.page.getByLabel(system === 'us' ? /US customary/ : /Metric/).check();
        for (const [name, parts, there] of [['sky', ['today'], '[data-test=sky] li'], ['standing', ['fields', field], '[data-test=wait] dd'], ['weather', ['weather'], 'svg[role=img]']]) {
          await open(here.page, ...parts);
          await here.page.locator(there).first().waitFor();
          await here.page.screenshot({ path: join(pictures, `${name}-${size}-${system}.png`), fullPage: true });
          await look(here.page, `${name} ${size} ${system}`, problems);
        }
        const text = await here.page.locator('main').innerText();
        assert.ok(text.includes(system === 'us' ? ' ft' : ' m'), `${system} on ${size}`);
      }
      await here.context.close();
    }
  });

  assert.deepEqual(complaints, []);
  assert.deepEqual(problems, []);
  console.log(steps.map((one) => `  ${one}`).join('\n'));
} finally {
  await browser.close();
  await server.stop();
  demo.remove();
}
