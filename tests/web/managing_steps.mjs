// What managers and owners do: steps of app_test.mjs, which gives them its owner's page and its ways of
// opening, joining and counting.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { look, serve, sizes } from './lib.mjs';

export async function machinesAndDestinations({ owner, open }) {
  const { page } = owner;
  const file = async (name) => page.evaluate(async (wanted) => (await (await fetch('/api/v1/season')).json())[wanted], name);
  await open(page, 'fields');
  await page.getByRole('link', { name: 'Machines' }).click();
  await page.getByRole('link', { name: /Harvester North/ }).click();
  await page.getByLabel('Name').fill('Harvester of the north');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('alert').filter({ hasText: /is named by .*sheets of beets.*what was seen is not edited/ }).waitFor();
  page.once('dialog', (dialog) => dialog.accept());
  await page.getByRole('button', { name: 'Remove this machine' }).click();
  await page.getByRole('alert').filter({ hasText: 'it stays, so that what was seen keeps its meaning' }).waitFor();
  await page.getByRole('button', { name: 'Close' }).click();
  await page.getByRole('link', { name: 'Add a machine' }).click();
  await page.getByLabel('Name').fill('Harvester West');
  await page.getByLabel('What kind of machine').fill('hired');
  await page.getByLabel('Rows lifted at once').fill('5.5');
  await page.getByLabel(/From row to row/).fill('18');
  await page.getByText('A whole number.').waitFor();
  assert.ok(await page.getByRole('button', { name: 'Keep it' }).isDisabled());
  await page.getByLabel('Rows lifted at once').fill('6');
  await page.getByLabel(/From row to row/).fill('45');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('link', { name: /Harvester West.*hired, 6 rows at 45 cm, 0 fields/ }).waitFor();
  await open(page, 'fields', 'New Corner');
  await page.getByRole('button', { name: 'Change what is known of it' }).click();
  await page.getByLabel('Machine').selectOption('Harvester West');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByLabel(/^Area/).waitFor({ state: 'detached' });
  // Nothing that was seen names it: it is renamed, and its field follows.
  await open(page, 'machines', 'Harvester West');
  await page.getByLabel('Name').fill('Harvester Far West');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('link', { name: /Harvester Far West.*1 field/ }).waitFor();
  // The list may show a new name before all is kept; the address follows at the end.
  await page.waitForFunction(() => location.hash === '#/machines');
  assert.match(await file('fields.csv'), /^New Corner,.*,Harvester Far West,/m);
  assert.match(await file('machines.csv'), /^Harvester Far West,hired,6,45,,,,,,$/m);
  await page.getByRole('link', { name: 'Destinations' }).click();
  await page.getByRole('link', { name: 'Add a destination' }).click();
  await page.getByLabel('Name').fill('Yard pile');
  assert.ok(await page.getByRole('button', { name: 'Keep it' }).isDisabled(), 'a kind must be chosen');
  await page.getByLabel('Factory or pile').selectOption('pile');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('link', { name: /Yard pile.*pile, 0 fields/ }).click();
  page.once('dialog', (dialog) => dialog.accept());
  await page.getByRole('button', { name: 'Remove this destination' }).click();
  await page.getByRole('link', { name: /Yard pile/ }).waitFor({ state: 'detached' });
  assert.doesNotMatch(await file('destinations.csv'), /Yard pile/);
}

/** Changes the owner's password, and gives the new one back. */
export async function passwords({ owner, device, open, inStep, pictures, problems }, password) {
  const fresh = 'sugar in long rows';
  const { page } = owner;
  await open(page, 'settings', 'device');
  await page.getByRole('button', { name: 'Change your password' }).click();
  await page.getByLabel('Your password now').fill('not this one');
  await page.getByLabel(/The new one/).fill(fresh);
  await page.getByRole('button', { name: 'Use this password' }).click();
  await page.getByRole('alert').filter({ hasText: 'not your password now' }).waitFor();
  await page.getByLabel('Your password now').fill(password);
  await page.getByRole('button', { name: 'Use this password' }).click();
  await page.getByText('Your password is changed').waitFor();
  // Bero, who was signed in on the phone, forgot his.
  await open(page, 'settings', 'people');
  await page.getByRole('button', { name: 'Forgot the password? Bero' }).click();
  await page.getByText('Send this link to Bero alone').waitFor();
  const link = await page.locator('a[href*="#/join/"]').getAttribute('href');
  const phone = await device('phone');
  await phone.page.goto(link);
  await phone.page.getByText('Bero, choose a new password').waitFor();
  await look(phone.page, 'a new password', problems);
  await phone.page.screenshot({ path: join(pictures, 'new-password-phone.png') });
  await phone.page.getByLabel(/Choose a password/).fill('many sweet roots');
  await phone.page.getByRole('button', { name: 'Use this password' }).click();
  await inStep(phone.page);
  await open(phone.page, 'settings');
  await phone.page.getByText('Bero, operator').waitFor();
  await phone.page.getByRole('button', { name: 'Change your password' }).click();
  await look(phone.page, 'changing a password', problems);
  await phone.page.screenshot({ path: join(pictures, 'change-password-phone.png'), fullPage: true });
  assert.equal(await phone.page.getByText('Who did what').count(), 0, 'for owners');
  phone.page.once('dialog', (dialog) => dialog.accept());
  await phone.page.getByRole('button', { name: 'Sign out everywhere' }).click();
  await phone.page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await phone.page.goto(link);
  await phone.page.reload();
  await phone.page.getByRole('alert').filter({ hasText: 'has been used' }).waitFor();
  await phone.context.close();
  await open(page, 'settings', 'audit');
  await page.getByRole('button', { name: 'Show it' }).click();
  const deeds = page.locator('#part-audit ~ ul li');
  await deeds.filter({ hasText: 'Bero signed out everywhere.' }).waitFor();
  for (const words of ['Bero chose a new password by a link.', 'Anna made a link for Bero to choose a new password.', 'Anna changed their own password.', 'Anna took the destination Yard pile out of the season.', 'Anna renamed a machine: Harvester West to Harvester Far West.', 'Anna changed the machines.']) {
    assert.ok((await deeds.filter({ hasText: words }).count()) > 0, words);
  }
  assert.match(await deeds.first().innerText(), /^\d\d:\d\d\s+Bero signed out everywhere\.$/);
  await look(page, 'who did what', problems);
  await page.screenshot({ path: join(pictures, 'audit-tablet.png') });
  return fresh;
}

/** `file`: a season file that is not there yet. */
export async function fromNothing({ device, open, join_, inStep, sent, tapBeets, recordCount, pictures, problems }, bin, file) {
  const server = await serve(bin, file, { args: ['--new'] });
  const { page, context } = await device('phone');
  await join_(page, server.joinLink, 'Carla');
  await inStep(page);
  const list = page.getByTestId('beginning');
  const stepsLeft = async (n) => {
    await open(page, 'today');
    await page.waitForFunction((left) => (document.querySelectorAll('[data-test=beginning] li').length) === left, n);
    await look(page, `beginning, ${n} steps left`, problems);
    await page.screenshot({ path: join(pictures, `beginning-${6 - n}-phone.png`), fullPage: true });
  };
  const keep = () => page.getByRole('button', { name: 'Keep it' }).click();
  await stepsLeft(6);
  for (const [size, viewport] of Object.entries(sizes)) {
    await page.setViewportSize(viewport);
    await look(page, `beginning ${size}`, problems);
    await page.screenshot({ path: join(pictures, `beginning-${size}.png`) });
  }
  await page.setViewportSize(sizes.phone);
  assert.match(await list.locator('li').first().innerText(), /what the season is called/);
  // Other screens of a season that has nothing yet.
  for (const screen of ['count', 'fields', 'season', 'loads', 'numbers', 'settings']) {
    await open(page, screen);
    await look(page, `empty ${screen}`, problems);
    await page.screenshot({ path: join(pictures, `empty-${screen}-phone.png`), fullPage: true });
  }
  await open(page, 'today');
  await list.getByRole('link', { name: 'Name the season' }).click();
  await page.getByText('Give the season its currency first').waitFor();
  await page.getByLabel('Name of the season').fill('Our first season');
  await page.getByLabel('Currency').fill('USD');
  await page.getByLabel('Units everybody starts with').selectOption('us');
  await page.getByLabel('First day of lifting').fill('2031-09-20');
  await keep();
  await page.getByText('Saved.').waitFor();
  await stepsLeft(5);
  await page.getByRole('heading', { name: 'Our first season' }).waitFor();
  await list.getByRole('link', { name: 'Add a machine' }).click();
  await page.getByLabel('Name').fill('Six rows');
  await page.getByLabel(/Rows lifted at once/).fill('6');
  await page.getByLabel(/From row to row, in/).fill('20');
  await keep();
  await page.getByText('Next: Enter where beets go').waitFor();
  await page.screenshot({ path: join(pictures, 'beginning-next-phone.png'), fullPage: true });
  await page.getByRole('link', { name: 'Add a destination' }).last().click();
  await page.getByLabel('Name').fill('Lower pile');
  await page.getByLabel('Factory or pile').selectOption('pile');
  await keep();
  await page.getByRole('link', { name: /Lower pile/ }).waitFor();
  await stepsLeft(3);
  await list.getByRole('link', { name: 'Enter the payment terms' }).click();
  await page.getByLabel('Name of the contract').fill('First contract');
  await page.getByLabel(/Base price of clean beet/).fill('36 USD/short ton');
  await page.getByRole('button', { name: 'Use these terms' }).click();
  await page.getByText('Saved.').waitFor();
  await stepsLeft(2);
  await list.getByRole('link', { name: 'Add a field' }).click();
  await page.getByLabel('Name').fill('Home Field');
  await page.getByLabel(/^Area, acre/).fill('30');
  await page.getByLabel('Machine').selectOption('Six rows');
  await page.getByLabel('Where its beets go').selectOption('Lower pile');
  await page.getByLabel(/Way to the factory/).fill('12');
  await page.getByLabel('Lifted on').fill('2031-10-04');
  await page.screenshot({ path: join(pictures, 'add-field-phone.png'), fullPage: true });
  await keep();
  await page.getByRole('heading', { name: 'Home Field' }).waitFor();
  await stepsLeft(1);
  await list.getByRole('link', { name: 'Count' }).click();
  await page.getByTestId('start').click();
  await tapBeets(page, [['Cut right', '0.8 to 1.6 in'], ['Too deep', 'tail on']]);
  await recordCount(page);
  await sent(page);
  await open(page, 'today');
  await list.waitFor({ state: 'detached' });
  await open(page, 'fields', 'Home Field');
  await page.locator('dl.figures').getByText('USD/acre').first().waitFor();
  assert.match(await page.getByTestId('days').innerText(), /^\d+ days$/);
  await page.screenshot({ path: join(pictures, 'first-ledger-phone.png'), fullPage: true });
  const files = await page.evaluate(async () => (await fetch('/api/v1/season')).json());
  assert.match(files['season.json'], /"name": "Our first season"[^]*"first_day": "2031-09-20"/);
  // Its currency stays now.
  await open(page, 'settings');
  assert.ok(await page.getByLabel('Currency').evaluate((input) => input.readOnly));
  await context.close();
  await server.stop();
}
