// The screen of the ground in a real browser against a real server: files brought in and refused, zones worked out and
// kept, the map on phone, tablet and desk, borders and zones drawn with a finger, where one is without a network.
// Usage: node ground_test.mjs <folder of the built programs> [folder for pictures]
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { selectors } from 'playwright-core';
import { at, borderFile, corners, crossedFile, dragOnMap, field, hasColour, logFile, swappedFile, tapMap } from './ground_steps.mjs';
import { demoSeason, inStep, joinBy, launch, listen, look, open, sent, serve, sizes } from './lib.mjs';

selectors.setTestIdAttribute('data-test');
const [bin, wantedPictures] = process.argv.slice(2);
const demo = demoSeason(bin);
const pictures = wantedPictures ?? join(demo.work, 'pictures');
mkdirSync(pictures, { recursive: true });
const complaints = [];
const wrong = [];
const server = await serve(bin, demo.season);
const browser = await launch();
const steps = [];
const step = async (name, run) => {
  const start = performance.now();
  await run();
  steps.push(`${name} (${((performance.now() - start) / 1000).toFixed(1)} s)`);
};

const context = await browser.newContext({ viewport: sizes.phone, hasTouch: true, timezoneId: 'UTC', permissions: ['geolocation'], geolocation: { ...at(0.5, 0.5), accuracy: 1 } });
const page = await context.newPage();
const cdp = await context.newCDPSession(page);
listen(page, complaints);
page.setDefaultTimeout(30_000);

const ask = async (method, path, body) => {
  const cookie = (await context.cookies()).map((one) => `${one.name}=${one.value}`).join('; ');
  const response = await fetch(new URL(path, server.url), { method, body, headers: { Cookie: cookie, 'X-Beetwright': '1', Origin: new URL(server.url).origin, ...(typeof body === 'string' ? { 'Content-Type': 'application/json' } : {}) } });
  assert.ok(response.ok, `${method} ${path}: ${response.status}`);
  return response;
};
const groundOf = async (name) => (await (await ask('GET', '/api/v1/ground')).json()).fields.find((one) => one.field === name);
const ground = async (part = 'map', name = field) => {
  await open(page, 'ground', name, part);
  if (part === 'map' || part === 'here') await page.locator('[data-test=map][data-ready]').waitFor();
};
const bring = async (part, ...files) => {
  await page.getByTestId(`bring-${part}`).click();
  await page.getByTestId('ground-file').setInputFiles(files);
};
const setUnits = async (label) => {
  await open(page, 'settings');
  await page.getByLabel(label).check();
};
const measured = () => page.getByTestId('measure').innerText();
/** Where on the map a place lies, from its middle, as long as all of the field is on it, clear of the buttons at its right. */
async function onMap([longitude, latitude]) {
  const scale = page.getByTestId('scale');
  const px = await scale.locator('.bar').evaluate((bar) => parseFloat(bar.style.width));
  const metres = Number((await scale.innerText()).match(/(\d+) m$/)[1]);
  const middle = (i) => (Math.min(...corners.map((one) => one[i])) + Math.max(...corners.map((one) => one[i]))) / 2;
  const perDegree = 111_300;
  const aside = (92 - 34) / 2;
  return [-aside + ((longitude - middle(0)) * perDegree * Math.cos((54 * Math.PI) / 180) * px) / metres, (-(latitude - middle(1)) * perDegree * px) / metres];
}
/** Metres on from the middle of the hollow, the way the field is driven. */
const fromHollow = (metres) => ({ longitude: 7.00278 + (metres / 804) * (corners[1][0] - corners[0][0]), latitude: 54.00126 + (metres / 804) * (corners[1][1] - corners[0][1]) });
const stand = async (place, accuracy = 1) => {
  await context.setGeolocation({ ...place, accuracy });
  await page.waitForTimeout(250); // the browser tells a new position by itself
};

try {
  await joinBy(page, server.joinLink, 'Anna', 'beets in long rows');
  await inStep(page);

  await step('files that cannot be are refused with the reason, and nothing is kept', async () => {
    await page.getByRole('link', { name: 'Ground', exact: true }).click();
    await open(page, 'ground', field);
    await page.getByText('Nothing is known of this field’s ground yet.').waitFor();
    await page.getByRole('link', { name: 'Bring in a file' }).click();
    await page.getByTestId('bring-border').waitFor();
    await bring('border', borderFile, crossedFile);
    await page.getByRole('alert').getByText(/Several files go together only as the parts of one shapefile/).waitFor();
    await bring('border', { name: 'oak.dbf', mimeType: 'application/octet-stream', buffer: Buffer.from('x') }, { name: 'oak.prj', mimeType: 'text/plain', buffer: Buffer.from('x') });
    await page.getByRole('alert').getByText(/the \.shp is missing/).waitFor();
    await bring('border', crossedFile);
    await page.getByRole('alert').getByText(/cross/).waitFor();
    await bring('heights', { name: 'empty.csv', mimeType: 'text/csv', buffer: Buffer.from('nothing\n') });
    await page.getByRole('alert').waitFor();
    assert.equal(await groundOf(field), undefined);
    await look(page, 'files refused', wrong);
  });

  await step('the files of a shapefile go together; its coordinate system is asked for where it is missing', async () => {
    const folder = new URL('../oracles/maps/', import.meta.url);
    const part = (ending) => ({ name: `fields.${ending}`, mimeType: 'application/octet-stream', buffer: readFileSync(new URL(`fields.${ending}`, folder)) });
    await bring('border', part('shp'), part('dbf'));
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Coordinate system of the file').fill('EPSG:25832');
    await page.getByTestId('send-file').click();
    // It is read as meant now: its fields are others.
    const others = page.getByRole('alert').getByText(/none of its areas is named 'Hollow Oak'/);
    await others.waitFor();
    await bring('border', part('shp'), part('dbf'), part('prj'));
    await others.waitFor();
    assert.equal(await page.getByLabel('Coordinate system of the file').count(), 0, 'its .prj says it');
    assert.equal(await groundOf(field), undefined);
  });

  await step('border and heights are brought in, and what the season has of the field is told', async () => {
    await bring('border', borderFile);
    await page.getByTestId('kept').getByText('The season has hollow_oak.geojson.').waitFor();
    await page.getByTestId('has').getByText(/Border: hollow_oak\.geojson, 40\.\d ha\./).waitFor();
    await bring('heights', logFile(bin, demo.work));
    await page.getByTestId('kept').getByText('The season has hollow_oak.csv.').waitFor();
    await page.getByTestId('has').getByText('Heights: hollow_oak.csv.').waitFor();
    // Latitude and longitude in each other's place: that is another part of the world than the heights'.
    await bring('border', swappedFile);
    await page.getByRole('alert').waitFor();
    const kept = await groundOf(field);
    assert.deepEqual([kept.border.from, kept.heights.from, kept.zones], ['hollow_oak.geojson', 'hollow_oak.csv', undefined]);
  });

  await step('zones are worked out, stopped, worked out again, and kept', async () => {
    await ground('zones');
    await page.getByTestId('ask').click();
    await page.getByTestId('stop').click();
    await page.getByText('No answer yet.').waitFor();
    await page.getByTestId('ask').click();
    await page.getByTestId('reason').getByText(/pays for a setting of its own/).waitFor();
    await page.getByTestId('gain').getByText(/All zones together gain \d+ EUR \(−?\d+ to \d+\)/).waitFor();
    const found = await page.getByTestId('found').locator('li').allInnerTexts();
    assert.equal(found.length, 2);
    assert.match(found[1], /Zone 2: hollow, 3\.\d\d ha[^]*Lies 1\.\d m below what is around it; \d+ switches[^]*% likely to pay/);
    assert.match((await page.getByTestId('left-out').locator('li').allInnerTexts())[0], /A knoll of .*left out: .*[^]*Loses/);
    assert.match(await page.getByTestId('settings').innerText(), /Depth of the shares[^]*4 on the display, 70 mm[^]*1\.5 on the display, 55 mm/);
    await page.getByTestId('cautions').getByText(/Never reach in with anything moving/).waitFor();
    await page.getByTestId('keep-zones').click();
    await page.getByText('Kept.', { exact: true }).waitFor();
    await sent(page);
    const { zones } = await groundOf(field);
    assert.deepEqual(zones.zones.map((one) => [one.number, one.lie]), [[1, 'level ground'], [2, 'hollow']]);
    assert.equal(zones.zones[1].controls.find((one) => one.control === 'share.depth').display, 1.5);
  });

  await step('the map, in words as well, in both systems of units', async () => {
    for (const [system, label, area, contour, depth] of [['metric', /Metric/, /^Zone 2: hollow, 3\.\d\d ha$/, 'a line every 1 m of height', '1.5 on the display, 55 mm'], ['us', /US customary/, /^Zone 2: hollow, 9\.\d\d acre$/, 'a line every 5 ft of height', '1.5 on the display, 2.17 in']]) {
      await setUnits(label);
      await ground();
      await page.getByTestId('zones').getByRole('heading', { name: area }).waitFor();
      await page.getByTestId('legend').getByText(contour).waitFor();
      await page.getByTestId('zones').getByText(depth).waitFor();
      await page.getByTestId('zones').getByText(/Gains \d+ EUR/).waitFor();
      for (const [size, viewport] of Object.entries(sizes)) {
        await page.setViewportSize(viewport);
        await page.waitForTimeout(200); // the map follows its frame
        await look(page, `map ${size} ${system}`, wrong);
        await page.screenshot({ path: join(pictures, `ground_map_${size}_${system}.png`), fullPage: true });
        await ground('zones');
        await page.getByTestId('reason').waitFor();
        await page.locator('[data-test=map][data-ready]').waitFor();
        await look(page, `zones ${size} ${system}`, wrong);
        await page.screenshot({ path: join(pictures, `ground_zones_${size}_${system}.png`), fullPage: true });
        await ground();
      }
      await page.setViewportSize(sizes.phone);
    }
    await setUnits(/Metric/);
    await ground();
    // What is drawn, by its ink: the hollow's outline, and a contour. Layers go off and on.
    const [hollow, contour] = [[31, 78, 95], [107, 74, 34]];
    assert.ok((await hasColour(page, hollow)) && (await hasColour(page, contour)));
    await page.getByTestId('layer-zones').click();
    await page.getByTestId('layer-contours').click();
    await page.waitForFunction(() => document.querySelectorAll('[data-test=map] canvas').length > 0);
    await page.waitForTimeout(200);
    assert.ok(!(await hasColour(page, hollow)) && !(await hasColour(page, contour)));
    assert.ok(await page.locator('[data-test=map] .relief canvas').isVisible());
    await page.getByTestId('layer-relief').click();
    await page.locator('[data-test=map] .relief canvas').waitFor({ state: 'detached' });
    for (const layer of ['relief', 'contours', 'zones']) await page.getByTestId(`layer-${layer}`).click();
    // By keyboard: it moves, and becomes larger.
    const scale = () => page.getByTestId('scale').innerText();
    const place = () => page.locator('[data-test=map] .relief canvas').evaluate((canvas) => canvas.style.transform);
    await page.locator('[data-test=map] .relief canvas').waitFor();
    await page.getByTestId('map').focus();
    const [before, scaleBefore] = [await place(), await scale()];
    await page.keyboard.press('ArrowRight');
    await page.waitForFunction((was) => document.querySelector('[data-test=map] .relief canvas').style.transform !== was, before);
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    await page.waitForFunction((was) => document.querySelector('[data-test=scale]').innerText !== was, scaleBefore);
    await page.getByTestId('whole').click();
    await page.waitForFunction((was) => document.querySelector('[data-test=scale]').innerText === was, scaleBefore);
    // Its buttons are for gloves.
    for (const name of ['larger', 'smaller', 'whole']) assert.ok((await page.getByTestId(name).boundingBox()).height >= 56);
  });

  await step('the kept zones as files', async () => {
    const links = await page.getByTestId('downloads').getByRole('link').evaluateAll((all) => all.map((one) => one.getAttribute('href')));
    assert.ok(links.length >= 4);
    for (const link of links) assert.ok((await (await ask('GET', link)).arrayBuffer()).byteLength > 200, link);
  });

  await step('a border is drawn with a finger where nothing was known; one that crosses itself is not kept', async () => {
    await ground('map', 'Chalk Ridge');
    await page.getByTestId('draw-border').click();
    await page.getByTestId('drawing').waitFor();
    assert.ok(await page.getByTestId('done').isDisabled(), 'nothing is drawn yet');
    for (const [right, down] of [[-100, -100], [100, 100], [100, -100]]) await tapMap(page, right, down);
    assert.match(await measured(), /^3 corners, area [\d.]+ ha, last side 1(59|60)\.\d m$/);
    assert.ok(await page.getByTestId('done').isEnabled());
    await tapMap(page, -100, 100);
    await page.getByRole('alert').getByText(/^The outline crosses itself at the mark/).waitFor();
    assert.ok(await page.getByTestId('done').isDisabled());
    await look(page, 'a border that crosses itself', wrong);
    await page.screenshot({ path: join(pictures, 'ground_crossing_phone.png') });
    await page.getByTestId('undo').click();
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await page.getByTestId('undo').click();
    await page.getByTestId('undo').click();
    for (const [right, down] of [[100, -100], [100, 100], [-100, 100]]) await tapMap(page, right, down);
    // A square of 200 pixels of 0.8 m, as near as a finger's pixel.
    assert.match(await measured(), /^4 corners, area 2\.5[5-7] ha, last side 1(59|60)\.\d m$/);
    // A corner is dragged, taken back, tapped and taken away.
    await dragOnMap(page, cdp, [100, 100], [140, 140]);
    await page.getByTestId('measure').getByText(/area 3\.\d+ ha/).waitFor();
    await page.getByTestId('undo').click();
    await page.getByTestId('measure').getByText(/area 2\.5[5-7] ha/).waitFor();
    await tapMap(page, 100, 100);
    await page.getByTestId('take-corner').click();
    await page.getByTestId('measure').getByText(/^3 corners, area 1\.2[78] ha/).waitFor();
    await page.getByTestId('undo').click();
    await page.screenshot({ path: join(pictures, 'ground_drawing_phone.png') });
    await page.getByTestId('done').click();
    await page.getByText('Kept on this device.').waitFor();
    await sent(page);
    const { border } = await groundOf('Chalk Ridge');
    assert.equal(border.from, '');
    assert.ok(Math.abs(border.area_ha - 2.56) < 0.02, `${border.area_ha} ha`);
    assert.equal(border.geometry.coordinates[0][0].length, 5);
  });

  await step('a zone is drawn by hand, has its lie and that lie’s settings, and goes again', async () => {
    await ground();
    await page.getByTestId('draw-zone').click();
    await page.getByTestId('lie-knoll').click();
    await page.getByTestId('larger').click();
    await page.waitForTimeout(400); // it glides there
    for (const [right, down] of [[-60, -20], [20, -20], [20, 50], [-60, 50]]) await tapMap(page, right, down);
    await page.getByTestId('done').click();
    await page.getByTestId('zones').getByRole('heading', { name: /^Zone 3: knoll/ }).waitFor();
    await sent(page);
    const { zones } = await groundOf(field);
    assert.deepEqual(zones.zones.map((one) => one.lie), ['level ground', 'hollow', 'knoll']);
    assert.equal(zones.zones[2].controls.find((one) => one.control === 'share.depth').amount, 60, 'as was worked out for knolls');
    const sum = zones.zones.reduce((all, one) => all + one.area_ha, 0);
    assert.ok(Math.abs(sum - 40.25) < 0.05, `together they are the field: ${sum} ha`);
    await page.setViewportSize(sizes.tablet);
    await page.getByTestId('whole').click();
    await page.waitForTimeout(200);
    await page.screenshot({ path: join(pictures, 'ground_knoll_tablet.png') });
    await page.setViewportSize(sizes.phone);
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByTestId('remove-zone-3').click();
    await page.getByTestId('zones').getByRole('heading', { name: /^Zone 3/ }).waitFor({ state: 'detached' });
    await sent(page);
    assert.equal((await groundOf(field)).zones.zones.length, 2);
  });

  await step('where spots are is noted while beets are counted, and they stand on the map', async () => {
    await ground();
    const places = page.getByText(/^All \d+ places$/);
    const before = Number((await places.innerText()).match(/\d+/)[0]);
    assert.ok(before > 0, 'the season’s own checks have their places');
    await open(page, 'count', field);
    await stand(at(0.4, 0.4), 3.5);
    await page.getByLabel('Note where each spot is, by this device').check();
    await page.getByTestId('start').click();
    for (const tail of ['2 to 4 cm', 'tail on']) {
      await page.getByRole('button', { name: 'Cut right', exact: true }).click();
      await page.getByRole('button', { name: tail, exact: true }).click();
    }
    await page.getByText('2 beets').first().waitFor();
    await page.getByRole('button', { name: 'Finish' }).click();
    await page.getByTestId('record').click();
    await page.getByText('Recorded').first().waitFor();
    const placesAtServer = async () => (await (await ask('GET', '/api/v1/season')).json())['places.csv'].trim().split('\n').slice(1);
    let rows = await placesAtServer();
    for (let i = 0; rows.length <= before && i < 100; ++i, rows = await placesAtServer()) await page.waitForTimeout(100);
    const row = rows.at(-1).split(',');
    const { longitude, latitude } = at(0.4, 0.4);
    assert.ok(Math.abs(row[6] - latitude) < 1e-6 && Math.abs(row[7] - longitude) < 1e-6, `${row} is not at ${latitude}, ${longitude}`);
    assert.equal(Number(row[8]), 3.5);
    await ground();
    await page.getByText(`All ${before + 1} places`).click();
    await page.getByTestId('checks').getByText(/spot 1: 2 beets, 1 of 2 tails broken, 0 of 2 crowns cut too deep, in zone 1/).waitFor();
    await look(page, 'checks', wrong);
    await page.screenshot({ path: join(pictures, 'ground_checks_phone.png'), fullPage: true });
  });

  await step('without a network: a walk through two zones', async () => {
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.reload();
    await inStep(page);
    await context.setOffline(true);
    await page.reload();
    await page.getByText('No server in reach').waitFor();
    await ground('here');
    await stand(fromHollow(-200));
    await page.getByTestId('start').click();
    const zone = page.getByTestId('zone');
    await zone.getByText('Zone 1: level ground').waitFor();
    const settings = () => page.getByTestId('settings').innerText();
    assert.match(await settings(), /Depth of the shares\s+4\s+on the display, 70 mm/i);
    await page.getByTestId('next').getByText('What comes next is told once you move.').waitFor();
    await stand(fromHollow(-180));
    await page.getByTestId('next').getByText(/^In \d+ m, zone 2: hollow$/).waitFor();
    const ahead = async () => Number((await page.getByTestId('next').innerText()).match(/^In (\d+) m/)[1]);
    const far = await ahead();
    assert.match(await page.getByTestId('next').innerText(), /Depth of the shares: 4 to 1\.5 on the display, 55 mm/i);
    await look(page, 'where am I, phone', wrong);
    await page.screenshot({ path: join(pictures, 'ground_here_level_phone.png') });
    await stand(fromHollow(-160));
    assert.ok(Math.abs(far - 20 - (await ahead())) <= 2, `20 m on, ${far} m became ${await ahead()} m`);
    await stand(fromHollow(0));
    await zone.getByText('Zone 2: hollow').waitFor();
    assert.match(await settings(), /Depth of the shares\s+1\.5\s+on the display, 55 mm/i);
    assert.match(await settings(), /Height of the roller bed over the ground\s+120\s+mm/i);
    assert.equal(await page.getByTestId('accuracy').count(), 0);
    const large = await page.getByTestId('settings').locator('strong').first().evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
    assert.ok(large >= 34, `settings are ${large} px high`);
    await page.getByTestId('caution').getByText(/The operator changes settings/).waitFor();
    await page.getByTestId('short-caution').waitFor();
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport);
      await page.waitForTimeout(200);
      await look(page, `where am I, ${size}`, wrong);
      await page.screenshot({ path: join(pictures, `ground_here_hollow_${size}.png`) });
    }
    await page.setViewportSize(sizes.phone);
    // A coarse position says so; near an edge it says what it may be as well.
    await stand(fromHollow(100), 12);
    await page.getByTestId('accuracy').getByText('Position known to 12 m only').waitFor();
    await page.getByTestId('maybe').getByText(/^Near the edge: perhaps zone/).waitFor();
    await stand(at(1.1, 0.5));
    await zone.getByText('Outside the field').waitFor();
    assert.equal(await page.getByTestId('settings').count(), 0);
    await page.getByTestId('stop-here').click();
    await page.getByTestId('start').waitFor();
    // In another field than the one that is shown: the way there is offered.
    await ground('here', 'Chalk Ridge');
    await stand(at(0.1, 0.1));
    await page.getByTestId('start').click();
    await zone.getByText('Outside the field').waitFor();
    await page.getByRole('link', { name: `You are in ${field}: go there` }).click();
    await page.getByTestId('start').waitFor();
    assert.match(page.url(), /Hollow%20Oak\/here$/);
    await page.locator('[data-test=map][data-ready]').waitFor();
  });

  await step('no permission is said in words', async () => {
    await context.clearPermissions();
    await page.getByTestId('start').click();
    await page.getByTestId('here').getByText(/This browser may not know the position/).waitFor();
    await page.getByTestId('stop-here').click();
    await context.grantPermissions(['geolocation']);
  });

  await step('a border corrected without a network waits, survives the app being closed, and arrives', async () => {
    await ground();
    await page.getByTestId('draw-border').click();
    await page.getByTestId('whole').click();
    const [right, down] = await onMap(corners[2]);
    await dragOnMap(page, cdp, [right, down], [right - 30, down + 25]);
    await page.getByTestId('measure').getByText(/^4 corners, area 3\d\.\d ha$/).waitFor();
    await page.screenshot({ path: join(pictures, 'ground_correcting_phone.png') });
    await page.getByTestId('done').click();
    await page.getByTestId('change').getByText(/^The border of Hollow Oak, drawn just now, waits to be sent\.$/).waitFor();
    await page.getByTestId('waiting').getByText('1 record waits to be sent').waitFor();
    await page.reload();
    await page.getByText('No server in reach').waitFor();
    await ground();
    await page.getByTestId('change').getByText(/waits to be sent/).waitFor();
    await look(page, 'a border that waits', wrong);
    await page.screenshot({ path: join(pictures, 'ground_waiting_phone.png') });
    assert.ok(Math.abs((await groundOf(field)).border.area_ha - 40.25) < 0.01, 'the server has heard nothing yet');
    await context.setOffline(false);
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await sent(page);
    await page.getByTestId('change').waitFor({ state: 'detached' });
    const { border } = await groundOf(field);
    assert.ok(border.area_ha < 39.9 && border.from === '', `${border.area_ha} ha`);
    assert.deepEqual(border.geometry.coordinates[0][0].length, 5);
  });

  await step('what somebody else set meanwhile is not written over unasked, and nothing is lost', async () => {
    await context.setOffline(true);
    await page.getByTestId('draw-border').click();
    await page.getByTestId('whole').click();
    const [right, down] = await onMap(corners[0]);
    await dragOnMap(page, cdp, [right, down], [right + 40, down - 30]);
    await page.getByTestId('done').click();
    await page.getByTestId('change').waitFor();
    await ask('PUT', `/api/v1/ground/border?${new URLSearchParams({ field, file: 'theirs.geojson' })}`, borderFile.buffer);
    await context.setOffline(false);
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await page.getByTestId('change').getByText(/somebody else has set this since it was drawn here/).waitFor();
    assert.equal((await groundOf(field)).border.from, 'theirs.geojson');
    await look(page, 'a border that was not taken', wrong);
    await page.screenshot({ path: join(pictures, 'ground_refused_phone.png') });
    await page.getByTestId('send-again').click();
    await page.getByTestId('change').waitFor({ state: 'detached' });
    assert.equal((await groundOf(field)).border.from, '');
  });

  await step('a viewer sees all of it, and neither draws nor brings anything in', async () => {
    const made = await (await ask('POST', '/api/v1/invitations', JSON.stringify({ role: 'viewer' }))).json();
    const other = await browser.newContext({ viewport: sizes.tablet, reducedMotion: 'reduce' });
    const theirs = await other.newPage();
    listen(theirs, complaints);
    theirs.setDefaultTimeout(30_000);
    await joinBy(theirs, new URL(made.link, server.url).href, 'Vera', 'rows of sweet roots');
    await inStep(theirs);
    await open(theirs, 'ground', field);
    await theirs.locator('[data-test=map][data-ready]').waitFor();
    await theirs.getByTestId('zones').getByRole('heading', { name: /^Zone 2: hollow/ }).waitFor();
    assert.equal(await theirs.getByTestId('draw-border').count(), 0);
    // Whoever wants no motion has none: a press is a larger map at once.
    await theirs.locator('[data-test=map] .relief canvas').waitFor();
    await theirs.waitForTimeout(300);
    const moved = await theirs.evaluate(async () => {
      const place = () => document.querySelector('.relief canvas').style.transform;
      const places = new Set([place()]);
      document.querySelector('[data-test=larger]').click();
      for (let frame = 0; frame < 30; ++frame) {
        await new Promise((next) => requestAnimationFrame(next));
        places.add(place());
      }
      return places.size;
    });
    assert.equal(moved, 2);
    await open(theirs, 'ground', field, 'files');
    await theirs.getByText('A manager brings in files while the server is in reach.').waitFor();
    await other.close();
  });

  await step('whoever signs out leaves no ground on the device', async () => {
    await open(page, 'settings', 'device');
    page.once('dialog', (dialog) => dialog.accept());
    await page.getByRole('button', { name: 'Sign out of this device' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    const kept = await page.evaluate(
      () =>
        new Promise((resolve, reject) => {
          const opened = indexedDB.open('beetwright');
          opened.onerror = reject;
          opened.onsuccess = async () => {
            const keys = (store) => new Promise((done) => (opened.result.transaction(store).objectStore(store).getAllKeys().onsuccess = (event) => done(event.target.result)));
            resolve([...(await keys('facts')), ...(await keys('answers'))]);
          };
        }),
    );
    assert.deepEqual(kept.filter((key) => /ground$|ground field|relief|zones/.test(key)), []);
  });

  assert.deepEqual(complaints, []);
  assert.deepEqual(wrong, []);
  console.log(steps.map((one) => `  ${one}`).join('\n'));
} finally {
  await browser.close();
  await server.stop();
  demo.remove();
}
