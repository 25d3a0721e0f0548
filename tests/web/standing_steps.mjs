// What people do in a crop that still stands, and what they say of soils and wheels: steps of app_test.mjs,
// which gives them its owner's page and its ways of opening and recording.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { look, sizes } from './lib.mjs';

const field = 'Station Piece';
const rowsOf = (page, file) => page.evaluate(async (wanted) => (await (await fetch('/api/v1/season')).json())[wanted].trim().split('\n').map((line) => line.split(',')), file);
const units = async (page, open, label) => {
  await open(page, 'settings');
  await page.getByLabel(label).check();
};
const standing = async (page, open, part) => {
  await open(page, 'count', field, 'standing');
  await page.getByRole('button', { name: part }).click();
};
const recorded = async (page, sent) => {
  await page.getByTestId('record').click();
  await page.getByText('Recorded on this device.').waitFor();
  await sent(page);
};

/** Until so many crowns are on the device's disk. */
const kept = (page, crowns) =>
  page.waitForFunction(
    (wanted) =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('beetwright');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const reading = opening.result.transaction('facts').objectStore('facts').get('look');
          reading.onsuccess = () => {
            opening.result.close();
            resolve(reading.result?.crowns.length === wanted);
          };
        };
      }),
    crowns,
  );

/** A dug sample, leaf and twenty crowns, in both systems of units, the last of them without the server. */
export async function standingCrop({ owner, open, sent }) {
  const { page, context } = owner;
  await units(page, open, /Metric/);
  await open(page, 'count', field);
  await page.getByRole('button', { name: 'Standing crop' }).click();
  assert.ok(await page.getByTestId('record').isDisabled(), 'nothing is said yet');
  await page.getByLabel('Spots dug').fill('6');
  await page.getByLabel(/Clean beet from it/).fill('148.5');
  await page.getByRole('alert').filter({ hasText: 'need the area' }).waitFor();
  await page.getByLabel(/Area dug/).fill('1.8');
  await page.getByRole('alert').filter({ hasText: 'No field grows that much' }).waitFor();
  assert.ok(await page.getByTestId('record').isDisabled());
  await page.getByLabel(/Area dug/).fill('18');
  await page.getByTestId('per-area').getByText('82.5 t/ha').waitFor();
  await page.getByLabel(/^Sugar/).fill('16.2');
  await page.getByRole('button', { name: 'Leaf', exact: true }).click();
  await page.getByRole('button', { name: '25 %' }).click();
  await page.getByRole('button', { name: '10 %' }).click();
  await page.getByRole('button', { name: 'yes', exact: true }).click();
  await page.getByTestId('said').getByText('So far: roots dug, laboratory figures, 10 % of the leaf sick, leaf frozen.').waitFor();
  await recorded(page, sent);
  const dug = (await rowsOf(page, 'standing.csv')).at(-1);
  assert.deepEqual(dug.slice(4), ['6', '18', '148.5', '16.2', '', '', '', '10', 'yes', '', '', '', '', '', '']);

  // Crowns by taps, the device closed in between, without the server, told by the engine on the device.
  await context.setOffline(true);
  await standing(page, open, 'Crown heights');
  const tap = async (heights) => {
    for (const one of heights) await page.getByRole('button', { name: `${one} cm`, exact: true }).click();
  };
  await tap(['5', '5', '5', '5', '5']);
  await page.getByTestId('told').getByText('all beets are of one height').waitFor();
  await tap(['14']);
  await page.getByTestId('undo').click();
  await kept(page, 5);
  await page.reload();
  await open(page, 'today');
  await page.getByText(`A look at the standing crop of ${field} is under way.`).waitFor();
  await page.getByRole('link', { name: 'Go on with it' }).click();
  await page.getByRole('button', { name: 'Crown heights' }).click();
  await page.getByText('5 of 20 crowns').waitFor();
  await tap(['6', '4', '5', '6', '4', '5', '\u22121', '7', '5', '4', '6', '5', '6', '5', '4']);
  await page.getByText('20 of 20 crowns').waitFor();
  await page.getByTestId('evenness').getByText(/even \d+ %/).first().waitFor();
  assert.match(await page.getByTestId('heights').innerText(), /^5 {2}5 {2}5 {2}5 {2}5 {2}6 .*\u22121 /);
  await page.getByTestId('record').click();
  await page.getByText('1 record waits').waitFor();
  await context.setOffline(false);
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await sent(page);
  assert.equal((await rowsOf(page, 'standing.csv')).at(-1).at(-1), '5 5 5 5 5 6 4 5 6 4 5 -1 7 5 4 6 5 6 5 4');

  // In inches a key is half an inch; a correction stands by what it corrects.
  await units(page, open, /US customary/);
  await open(page, 'fields', field);
  await page.locator('li', { hasText: 'a look at the standing crop' }).filter({ hasText: '20 crowns' }).getByRole('link', { name: 'Correct it' }).first().click();
  await page.getByText('The earlier one stays').waitFor();
  await page.getByRole('button', { name: 'Crown heights' }).click();
  for (const one of ['2\u00bd in', '4 in', '3\u00bd in']) await page.getByRole('button', { name: one, exact: true }).click();
  await page.getByText('2 more crowns and it tells something.').waitFor();
  await page.getByRole('button', { name: '3\u00bd in', exact: true }).click();
  await page.getByRole('button', { name: 'Higher ones' }).click();
  await page.getByRole('button', { name: '9\u00bd in', exact: true }).click();
  await page.locator('dd', { hasText: ' in' }).first().waitFor();
  await recorded(page, sent);
  const corrected = (await rowsOf(page, 'standing.csv')).at(-1);
  assert.equal(corrected.at(-1), '6.35 10.16 8.89 8.89 24.13');
  assert.notEqual(corrected[1], '');
  await open(page, 'fields', field);
  await page.locator('li', { hasText: '20 crowns' }).filter({ hasText: 'corrected later' }).waitFor();
  await units(page, open, /Metric/);
}

export async function soilsAndWheels({ owner, open }) {
  const { page } = owner;
  /** The list may show a new name before all is kept; the address follows at the end. */
  const keep = async (place) => {
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.waitForFunction((wanted) => location.hash === wanted, `#/${place}`);
  };
  await units(page, open, /US customary/);
  await open(page, 'machines', 'Harvester North');
  await page.getByLabel(/Pressure in its tyre/).fill('30');
  await keep('machines');
  const north = (await rowsOf(page, 'machines.csv')).find((row) => row[0] === 'Harvester North');
  // 30 psi of 6.894757 kPa; the other numbers as they were.
  assert.ok(Math.abs(Number(north[5]) - 2.0684271) < 1e-6, north.join());
  assert.deepEqual([north[4], north[6], north[7], north[8], north[9]], ['9.4', '80', '190', 'turbines', '345']);
  assert.equal((await rowsOf(page, 'dials.csv')).filter((row) => row[0] === 'Harvester North').length, 15, 'what its displays mean stays');
  await page.getByRole('link', { name: 'Soils' }).click();
  await page.getByRole('link', { name: /heavy clay.*clay, \d fields/ }).waitFor();
  await page.getByRole('link', { name: 'Add a soil' }).click();
  await page.getByLabel(/^Name/).fill('silt loam');
  await page.getByLabel('What it is').selectOption('silt loam');
  await page.getByLabel(/Rain in a day/).fill('0.25');
  await page.getByLabel(/One stops lifting/).fill('80');
  await page.getByLabel(/It drains by itself/).fill('85');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('alert').filter({ hasText: 'drains to the filling' }).waitFor();
  await page.getByLabel(/It drains by itself/).fill('70');
  await keep('soils');
  await page.getByRole('link', { name: /silt loam.*4 fields/ }).click();
  assert.deepEqual((await rowsOf(page, 'soils.csv')).find((row) => row[0] === 'silt loam'), ['silt loam', 'silt loam', '', '80', '70', '', '6.35']);
  // The class can be taken back, and the name goes with its fields.
  await page.getByLabel('What it is').selectOption('');
  await page.getByLabel(/^Name/).fill('river silt');
  await keep('soils');
  await page.getByRole('link', { name: /river silt.*4 fields/ }).click();
  assert.equal((await rowsOf(page, 'fields.csv')).filter((row) => row[3] === 'river silt').length, 4);
  page.once('dialog', (dialog) => dialog.accept());
  await page.getByRole('button', { name: 'Remove this soil' }).click();
  await page.getByRole('alert').filter({ hasText: 'is named by 4 fields' }).waitFor();
  await page.getByRole('button', { name: 'Close' }).click();
  await units(page, open, /Metric/);
}

/** The screens of these steps at every size, in both systems: they fit, can be touched, and axe finds nothing. */
export async function standingScreens({ owner, device, open, inStep, pictures }, url) {
  const wrong = [];
  const state = await owner.context.storageState();
  for (const size of Object.keys(sizes)) {
    const { context, page } = await device(size, { storageState: state });
    await page.goto(url);
    await inStep(page);
    for (const [system, label] of [['metric', /Metric/], ['us', /US customary/]]) {
      const us = system === 'us';
      await units(page, open, label);
      const seen = async (name) => {
        await page.waitForTimeout(250);
        await look(page, `${name} ${size} ${system}`, wrong, !us || size === 'phone');
        await page.screenshot({ path: join(pictures, `${name}-${size}-${system}.png`), fullPage: !name.includes('crowns') });
      };
      await standing(page, open, 'Dug sample');
      await page.getByLabel('Spots dug').fill('6');
      await page.getByLabel(/Area dug/).fill(us ? '200' : '18');
      await page.getByLabel(/Clean beet from it/).fill(us ? '330' : '148');
      await seen('standing-dug');
      await page.getByRole('button', { name: 'Leaf', exact: true }).click();
      await page.getByRole('button', { name: '10 %' }).click();
      await seen('standing-leaf');
      await page.getByRole('button', { name: 'Crown heights' }).click();
      for (const one of us ? ['2 in', '2\u00bd in', '1 in', '3 in', '2 in', '1\u00bd in'] : ['5 cm', '6 cm', '3 cm', '8 cm', '5 cm', '4 cm']) await page.getByRole('button', { name: one, exact: true }).click();
      await page.getByTestId('evenness').waitFor();
      await seen('standing-crowns');
      page.once('dialog', (dialog) => dialog.accept());
      await page.getByRole('button', { name: 'Throw it away' }).click();
      await page.getByTestId('said').getByText('Nothing is said yet').waitFor();
      await open(page, 'soils', 'heavy clay');
      await seen('soils');
      await open(page, 'machines', 'Harvester South');
      await seen('machines-wheels');
      await open(page, 'fields', field);
      await page.getByText('a look at the standing crop').first().waitFor();
      await seen('field-standing');
    }
    await context.close();
  }
  assert.deepEqual(wrong, []);
}
