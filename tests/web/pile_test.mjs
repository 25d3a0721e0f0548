// The screens of piles in a real browser against a real server: what is due when, a section through time, what
// might be done, what is recorded, how a pile is laid out and where its loads lie; without the server as well.
// Usage: node pile_test.mjs <folder of the built programs> [folder for pictures]
import assert from 'node:assert/strict';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import playwright from 'playwright-core';
import { demoSeason, inStep, joinBy, launch, listen, look, open, sent, serve, sizes } from './lib.mjs';

const [bin, wantedPictures] = process.argv.slice(2);
// Learning from probes is most of the server's work: the season begins without any, and has a few at the end.
const demo = demoSeason(bin, (folder) => {
  const file = join(folder, 'probes.csv');
  writeFileSync(file, readFileSync(file, 'utf8').split('\n', 1)[0] + '\n');
});
const pictures = wantedPictures ?? join(demo.work, 'pictures');
mkdirSync(pictures, { recursive: true });
playwright.selectors.setTestIdAttribute('data-test');

const complaints = [];
const wrong = [];
let server = await serve(bin, demo.season);
const browser = await launch();
const context = await browser.newContext({ viewport: sizes.phone, timezoneId: 'UTC', hasTouch: true });
const evening = new Date('2031-12-05T17:00:00Z');
await context.clock.setSystemTime(evening);
const page = await context.newPage();
listen(page, complaints);
page.setDefaultTimeout(120_000); // a question to the server takes seconds, and more on a machine that is busy
// The screens ask for eight ways in which all may go; two are enough to look at what is done with them.
const asked = [];
await page.route('**/api/v1/jobs', async (route) => {
  if (route.request().method() !== 'POST') return route.continue();
  const wish = JSON.parse(route.request().postData());
  asked.push(wish);
  await route.continue({ postData: JSON.stringify({ ...wish, parameters: { ...wish.parameters, members: '2' } }) });
});

const rowsOf = (file) =>
  page.evaluate(async (wanted) => {
    const lines = ((await (await fetch('/api/v1/season')).json())[wanted] ?? '').trim().split('\n').map((line) => line.split(','));
    return lines.slice(1).map((line) => Object.fromEntries(lines[0].map((name, i) => [name.replace(/ \[.*/, ''), line[i]])));
  }, file);
const setUnits = async (label) => {
  await open(page, 'settings');
  await page.getByLabel(label).check();
};
const windmill = 'Windmill pile';
/** One of the pile's screens, once its answer is there. */
const pile = async (part, shown) => {
  await open(page, 'pile', windmill, part);
  await page.getByTestId(shown).first().waitFor();
};
/** Screens in both systems, on phone, tablet and desk, looked at and kept as pictures. */
async function pictured(screens) {
  for (const [system, label] of [['metric', /Metric/], ['us', /US customary/]]) {
    await setUnits(label);
    for (const [name, go] of Object.entries(screens)) {
      await page.setViewportSize(sizes.phone);
      await go();
      for (const [size, viewport] of Object.entries(sizes)) {
        await page.setViewportSize(viewport);
        await page.waitForTimeout(80); // drawings follow the window's width
        await look(page, `${name} ${size} ${system}`, wrong);
        await page.screenshot({ path: join(pictures, `pile_${name}_${size}_${system}.png`), fullPage: true });
      }
    }
  }
  await page.setViewportSize(sizes.phone);
  await setUnits(/Metric/);
}

try {
  await joinBy(page, server.joinLink, 'Robin', 'five taps in a field');

  // All piles: asked with progress, stopped, asked again; the soonest first.
  await open(page, 'piles');
  await page.getByText(/^Working it out: \d+ %$/).waitFor();
  await page.getByTestId('stop').click();
  await page.getByText('No answer yet.').waitFor();
  assert.equal(await page.getByTestId('piles').getByText('should be sliced').count(), 0);
  await page.getByTestId('ask').click();
  await page.getByTestId('age').first().waitFor();
  assert.match(await page.getByTestId('age').first().innerText(), /^Worked out just now, as things stood on Fri 5 Dec\.$/);
  const lines = await page.getByTestId('piles').locator('.due').allInnerTexts();
  assert.equal(lines.length, 2);
  for (const line of lines) assert.match(line, /^(Copse Road|Windmill) pile, \d[\d\u202f]* t: (the (first|part)|it keeps)/);
  const daysOf = (line) => (/should be sliced now/.test(line) ? 0 : Number(line.match(/within (\d+)/)?.[1] ?? Infinity));
  assert.ok(daysOf(lines[0]) <= daysOf(lines[1]), `the soonest first: ${lines.join(' | ')}`);
  await page.getByTestId('piles').getByText(/By slicing it loses [\d.]+ % of its sugar/).first().waitFor();
  await page.getByTestId('cautions').getByText(/carbon dioxide/).waitFor();

  // In which order all of it is best sliced.
  await page.locator('#rate').fill('900');
  await page.getByTestId('ask-order').click();
  await page.getByTestId('order').locator('li').first().waitFor();
  assert.deepEqual([asked.at(-1).question, asked.at(-1).parameters.rate, asked.at(-1).parameters.taken], ['pile_order', '900', 'either']);
  const order = await page.getByTestId('order').locator('li').allInnerTexts();
  assert.ok(order.length >= 3 && order.every((line) => /^(Copse Road|Windmill) pile, [\d.]+ to [\d.]+ m, \d+ t: /.test(line)), order.join(' | '));

  // One pile: its section, read cell by cell and day by day.
  await page.getByRole('link', { name: `Look into ${windmill}` }).click();
  await page.getByTestId('section').waitFor();
  assert.deepEqual({ ...asked.at(-1).parameters, at: '' }, { at: '', pile: windmill, detail: 'coarse', members: '8' });
  const readout = () => page.getByTestId('readout').innerText();
  const shownDay = () => page.getByTestId('day').innerText();
  assert.match(await readout(), /m (left|right) of the middle, [\d.]+ m over the ground: −?[\d.]+ °C.*sugar lost [\d.]+ %, killed by frost [\d.]+ %/);
  const hottest = await readout();
  const box = await page.getByTestId('section').boundingBox();
  await page.getByTestId('section').click({ position: { x: box.width / 4, y: 16 + (box.height - 50) * 0.7 } });
  const tapped = await readout();
  assert.match(tapped, /left of the middle/);
  await page.keyboard.press('ArrowRight');
  await page.waitForFunction((before) => document.querySelector('[data-test=readout]').innerText !== before, tapped);
  const place = Number((await readout()).match(/^([\d.]+) m left/)[1]);
  assert.ok(Math.abs(Number(tapped.match(/^([\d.]+) m left/)[1]) - place - 1) < 0.01, 'a cell of 1 m to the right');
  assert.notEqual(await readout(), hottest);
  const today = await shownDay();
  assert.match(today, /Dec$/);
  const before = await readout();
  await page.getByTestId('slider').focus();
  for (let i = 0; i < 3; ++i) await page.keyboard.press('ArrowRight');
  assert.notEqual(await shownDay(), today);
  assert.notEqual(await readout(), before, 'another day, another temperature');
  await page.getByText(/in \d+ days$/).waitFor();
  await page.keyboard.press('Home');
  await page.getByText(/\d+ days ago$/).waitFor();
  await page.getByRole('button', { name: 'Today', exact: true }).click();
  assert.equal(await shownDay(), today);
  assert.equal(await readout(), before);
  // All pictures one after another, until told to stop; from the last it begins anew.
  const play = page.getByTestId('play');
  assert.equal(await play.innerText(), 'Play');
  assert.ok((await play.boundingBox()).height >= 48, 'for a thumb in a glove');
  await play.click();
  await page.waitForFunction((day) => document.querySelector('[data-test=day]').innerText !== day, today);
  assert.equal(await play.innerText(), 'Pause');
  await play.click();
  assert.equal(await play.innerText(), 'Play');
  const paused = await shownDay();
  await page.waitForTimeout(1500); // three pictures' time
  assert.equal(await shownDay(), paused, 'it stands still');
  await page.getByTestId('slider').focus();
  await page.keyboard.press('End');
  const lastDay = await shownDay();
  await page.keyboard.press('ArrowLeft');
  await play.click();
  await page.waitForFunction((day) => document.querySelector('[data-test=day]').innerText === day, lastDay);
  await page.getByTestId('play').getByText('Play').waitFor(); // it ends there
  await play.click();
  assert.notEqual(await shownDay(), lastDay);
  await play.click();
  // Whoever wants no motion has none: a press is a picture.
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.getByTestId('slider').focus();
  await page.keyboard.press('Home');
  const begun = await shownDay();
  assert.equal(await play.innerText(), 'Step on');
  await play.click();
  const stepped = await shownDay();
  assert.notEqual(stepped, begun);
  await page.waitForTimeout(1500);
  assert.equal(await shownDay(), stepped, 'nothing moves by itself');
  await page.emulateMedia({ reducedMotion: null });
  await page.getByRole('button', { name: 'Today', exact: true }).click();
  assert.match(await page.getByTestId('legend').innerText(), /°C/);
  await page.getByTestId('look-sugar').click();
  assert.match(await page.getByTestId('legend').innerText(), /%/);
  await page.getByTestId('look-celsius').click();
  await page.getByTestId('air').click();
  assert.match(await page.getByTestId('arrows').getAttribute('d'), /^M[\d.]+/, 'air goes somewhere');
  await page.getByTestId('air-note').getByText(/The longest arrow is [\d.]+ cm\/s/).waitFor();
  await page.getByTestId('learned').getByText(/^Nothing was read in it yet/).waitFor();
  // Another part is asked for, and shown when it has come.
  const sectionTitle = () => page.getByRole('heading', { name: /^Section at/ }).innerText();
  const firstPart = await sectionTitle();
  const other = page.locator('[data-test^=part-][aria-pressed=false]').first();
  const number = Number((await other.getAttribute('data-test')).slice('part-'.length)) + 1;
  await other.click();
  await page.getByTestId('age').first().waitFor();
  await page.getByTestId('section').waitFor();
  assert.notEqual(await sectionTitle(), firstPart);
  assert.equal(asked.at(-1).parameters.part, `${number}`);

  // Its course, and what might be done.
  await pile('course', 'course');
  assert.ok((await page.getByTestId('course').locator('svg').count()) >= 2, 'temperatures and sugar');
  await page.locator('#of').selectOption('1');
  await page.getByRole('heading', { name: /^The part at/ }).waitFor();
  await pile('deeds', 'compare');
  for (const one of ['bare', 'fan', 'fleece']) await page.getByTestId(`deed-${one}`).click();
  const days = page.getByLabel('Look for the best days for a cover');
  assert.ok((await days.isDisabled()) && (await page.getByTestId('compare').isDisabled()), 'nothing is chosen');
  await page.getByTestId('deed-fleece').click();
  await days.check();
  await page.getByTestId('compare').click();
  const deed = page.getByTestId('deeds').locator('li');
  await deed.first().waitFor();
  assert.deepEqual([asked.at(-1).parameters.deeds, asked.at(-1).parameters.days], ['fleece', 'yes']);
  assert.match(await deed.innerText(), /^Fleece\n[^]*(Gains|Loses) [^]*EUR[^]*It pays in [0-2] of 2 ways\.[^]*of sugar/);
  assert.match(await page.getByTestId('best-days').innerText(), /No cover pays on any day\.|Fleece, put on \w+ \d+ \w+/);
  await page.getByText('Gain by the day on which it is put on').click();
  assert.ok((await page.getByTestId('best-days').locator('li').count()) >= 3, 'several days were looked through');

  await pictured({
    piles: async () => {
      await open(page, 'piles');
      await page.getByTestId('age').first().waitFor();
    },
    section: async () => {
      await pile('section', 'section');
      if ((await page.getByTestId('arrows').count()) === 0) await page.getByTestId('air').click();
    },
    course: () => pile('course', 'course'),
    what_if: () => pile('deeds', 'deeds'),
    record: async () => {
      await pile('record', 'record-probes');
      await page.getByTestId('record-probes').click();
    },
    shape: async () => {
      await pile('shape', 'waiting-loads');
      await page.getByTestId('waiting-loads').getByRole('button').first().click();
      await page.getByTestId('chosen').waitFor();
    },
  });

  // A cover that was put on.
  await pile('record', 'record-form');
  await page.locator('#seen-from').fill('0');
  await page.locator('#seen-to').fill('40');
  await page.locator('#seen-cover').selectOption('fleece');
  await page.evaluate(() => {
    globalThis.newestNoted = [];
    const list = document.querySelector('[data-test=noted]');
    const note = () => globalThis.newestNoted.push(list.querySelector('li').innerText);
    new MutationObserver(note).observe(list, { childList: true, subtree: true, characterData: true });
  });
  await page.getByTestId('record').click();
  await page.getByText('Recorded on this device.').waitFor();
  await page.getByTestId('lying').getByText(/^fleece, 0 to 40 m, since Fri 5 Dec$/).waitFor();
  await sent(page);
  const cover = (await rowsOf('covers.csv')).at(-1);
  assert.deepEqual([cover.pile, cover.from, cover.to, cover.cover], [windmill, '0', '40', 'fleece']);
  // While it went out and came back with the season it was on the screen throughout.
  const newest = await page.evaluate(() => globalThis.newestNoted);
  assert.ok(newest.length > 0 && newest.every((text) => /fleece, 0 to 40 m/.test(text)), newest.join(' | '));

  // A mistake is corrected by another row; the earlier one stays and is no longer counted.
  await page.getByTestId('noted').locator('li').first().getByRole('button', { name: 'Correct it' }).click();
  await page.getByText(/^This corrects/).waitFor();
  assert.equal(await page.locator('#seen-to').inputValue(), '40');
  await page.locator('#seen-to').fill('30');
  await page.getByTestId('record').click();
  await page.getByTestId('lying').getByText(/^fleece, 0 to 30 m/).waitFor();
  await page.getByTestId('noted').getByText('corrected later').waitFor();
  await sent(page);
  assert.deepEqual((await rowsOf('covers.csv')).slice(-2).map((row) => [row.supersedes, row.to]), [['', '40'], [cover.id, '30']]);

  // A temperature: one that no pile has may have been Fahrenheit; a place outside the pile is told before it is kept.
  await page.getByTestId('record-probes').click();
  await page.locator('#seen-probe').fill('9');
  await page.locator('#seen-along').fill('20');
  await page.locator('#seen-height').fill('14');
  await page.locator('#seen-temperature').fill('50');
  await page.getByTestId('fahrenheit').getByText(/Was it °F\? 50 °F are 10\.0 °C\./).waitFor();
  assert.ok(await page.getByTestId('record').isDisabled());
  await page.getByRole('button', { name: 'Yes, °F' }).click();
  assert.equal(await page.locator('#seen-temperature').inputValue(), '10');
  await page.getByTestId('record').click();
  await page.getByTestId('record-form').getByRole('alert').waitFor();
  assert.equal((await rowsOf('probes.csv')).filter((row) => row.probe === '9').length, 0);
  await page.locator('#seen-height').fill('1.5');
  await page.getByTestId('record').click();
  await page.getByText('Recorded on this device.').waitFor();
  await sent(page);
  await setUnits(/US customary/);
  await pile('record', 'record-probes');
  await page.getByTestId('record-probes').click();
  await page.locator('#seen-probe').fill('9');
  for (const [column, value] of [['along', '215'], ['height', '5'], ['temperature', '41']]) await page.locator(`#seen-${column}`).fill(value);
  await page.getByTestId('record').click();
  await page.getByText('Recorded on this device.').waitFor();
  await sent(page);
  const probes = (await rowsOf('probes.csv')).filter((row) => row.probe === '9');
  assert.deepEqual(probes.map((row) => [row.along, row.height, row.temperature]), [['20', '1.5', '10'], ['65.532', '1.524', '5']]);
  await setUnits(/Metric/);

  // Its shape: by its corners, by keys, by numbers. What cannot be is refused, and nothing of it is kept.
  await pile('shape', 'handle-height');
  const height = page.getByTestId('handle-height');
  const grip = await height.boundingBox();
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2 + 12, { steps: 4 });
  await page.mouse.up();
  const pulled = Number(await page.locator('#shape-height').inputValue());
  assert.ok(pulled < 5 && pulled > 2, `pulled down to ${pulled} m`);
  await height.focus();
  await page.keyboard.press('ArrowUp');
  assert.ok(Math.abs(Number(await page.locator('#shape-height').inputValue()) - pulled - 0.1) < 1e-6);
  await page.locator('#shape-top_width').fill('35');
  await page.locator('#shape-height').fill('5');
  await page.getByTestId('slope').getByText(/slope by 84°/).waitFor();
  await page.getByTestId('keep-shape').click();
  await page.getByTestId('shape-form').getByRole('alert').waitFor();
  await page.locator('#shape-top_width').fill('25');
  await page.getByTestId('keep-shape').click();
  await page.getByText('Kept.').waitFor();
  const laid = (await rowsOf('piles.csv')).find((row) => row.name === windmill);
  assert.deepEqual([laid.base_width, laid.top_width, laid.height, laid.built], ['36', '25', '5', 'in_layers']);
  assert.equal((await rowsOf('piles.csv')).length, 2, 'the other pile stays as it was');
  await page.getByTestId('fans').getByRole('button').first().click();
  await page.locator('#fan-flow').fill('50000');
  await page.getByTestId('keep-fan').click();
  await page.getByTestId('fans').getByText(/50\u202f000 m³\/h/).waitFor();
  assert.equal((await rowsOf('fans.csv')).length, 2);

  // Loads get their place: tapped and then the pile, dragged, or by numbers.
  const load = page.getByTestId('waiting-loads').locator('li').first();
  const ticket = (await load.innerText()).match(/OM-\d+/)[0];
  await load.getByRole('button').click();
  const length = await page.getByTestId('drop').boundingBox();
  await page.getByTestId('drop').click({ position: { x: length.width / 4, y: 30 } });
  const from = Number(await page.locator('#place-from').inputValue());
  assert.ok(from > 15 && from < 35, `a quarter along, it lies from ${from} m`);
  await page.locator('#place-from').fill('30');
  await page.locator('#place-to').fill('20');
  await page.getByTestId('chosen').getByRole('alert').waitFor();
  await page.locator('#place-to').fill('34.5');
  await page.getByTestId('place').click();
  await page.getByTestId('placed').getByText('lies at 30 to 34.5 m').waitFor();
  await sent(page);
  const rows = (await rowsOf('loads.csv')).filter((row) => row.ticket === ticket);
  assert.equal(rows.length, 2);
  assert.deepEqual([rows[1].supersedes, rows[1].along_from, rows[1].along_to, rows[1].gross], [rows[0].id, '30', '34.5', rows[0].gross]);
  const second = page.getByTestId('waiting-loads').locator('li').first();
  await second.scrollIntoViewIfNeeded();
  const handle = await second.getByTestId('grip').boundingBox();
  const target = await page.getByTestId('drop').boundingBox();
  await page.mouse.move(handle.x + 20, handle.y + 20);
  await page.mouse.down();
  await page.mouse.move(target.x + (target.width * 3) / 4, target.y + 40, { steps: 6 });
  await page.mouse.up();
  const dragged = Number(await page.locator('#place-from').inputValue());
  assert.ok(dragged > 70 && dragged < 100, `dragged to ${dragged} m`);
  await page.getByTestId('place').click();
  await page.getByTestId('placed').getByText(/lies at/).waitFor();
  await sent(page);

  // What was recorded since: a new answer is asked for, the last one is shown until it has come.
  await pile('section', 'section');
  await page.getByText('Something was recorded or forecast since.').waitFor();
  await page.getByTestId('stop').waitFor();
  await page.getByText('Something was recorded or forecast since.').waitFor({ state: 'detached' });
  // Probes stand beside what is worked out for their places; what was learned from them is told.
  await page.getByTestId('part-0').click(); // the one that holds the first probe
  await page.getByTestId('learned').getByText(/^(All \d+|\d+ of \d+) probes are believed\./).waitFor();
  await page.getByTestId('probes').getByText(/measured −?[\d.]+ °C,\s+worked out there −?[\d.]+ °C/).first().waitFor();
  await page.setViewportSize(sizes.desk);
  await look(page, 'section with probes', wrong);
  await page.screenshot({ path: join(pictures, 'pile_probes_desk_metric.png'), fullPage: true });
  await page.setViewportSize(sizes.phone);

  // Without the server the last answer is there, with its age.
  await page.evaluate(() => navigator.serviceWorker.ready);
  await inStep(page);
  await server.stop();
  server = undefined;
  await context.clock.setSystemTime(new Date(evening.getTime() + 3 * 3_600_000));
  await page.reload();
  await page.getByTestId('section').waitFor();
  assert.match(await page.getByTestId('age').first().innerText(), /^Worked out (2|3) hours ago/);
  await page.getByText(/is not in reach: this is the last answer/).waitFor();
  await open(page, 'piles');
  await page.getByTestId('piles').locator('.due').first().waitFor();
  assert.match(await page.getByTestId('age').first().innerText(), /hours ago/);
  assert.equal(await page.getByTestId('ask').count(), 0, 'nobody can be asked');
  await look(page, 'piles without the server', wrong);
  await page.screenshot({ path: join(pictures, 'pile_piles_offline.png'), fullPage: true });

  assert.deepEqual(complaints, []);
  assert.deepEqual(wrong, []);
  console.log(`the screens of piles are as they should be; pictures in ${pictures}`);
} finally {
  await browser.close();
  await server?.stop();
  demo.remove();
}
