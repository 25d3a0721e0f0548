// What managers and owners do: steps of app_test.mjs, which gives them its owner's page and its ways of
// opening, joining and counting.
import assert from 'node:assert/strict';

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
  assert.match(await file('fields.csv'), /^New Corner,.*,Harvester Far West,/m);
  assert.match(await file('machines.csv'), /^Harvester Far West,hired,6,45$/m);
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
