// What the piles' screens reckon by themselves: colours, places, covers, loads, and their sentences.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { marks } from '../../../web/src/screens/pile/axis.ts';
import { coversNow } from '../../../web/src/screens/pile/covers.ts';
import { cellAt, lengthOf, nearest, neighbour, placeOf, pulled, slope, stretchAt, tapeStep } from '../../../web/src/screens/pile/geometry.ts';
import { hasPlace, loadsOf, placed } from '../../../web/src/screens/pile/placing.ts';
import { readingsNear } from '../../../web/src/screens/pile/probes.ts';
import { asFahrenheit, inTheirUnits, sideText, stretchText, warningText, waysText, wholeText } from '../../../web/src/screens/pile/reading.ts';
import { colourOf, extent, steps } from '../../../web/src/screens/pile/scale.ts';
import { alsoDue, chanceSentence, dueSentence, soonest } from '../../../web/src/screens/pile/sentence.ts';

/** Four cells wide, two high; the upper corners hold no beets. */
const picture = {
  part: 0, across: 4, up: 2, cell_across_m: 2, cell_up_m: 1, has_beet: [1, 1, 1, 1, 0, 1, 1, 0],
  frames: [{ day: '2031-12-04', celsius: [1, 2, 3, 4, 0, 6, 7, 0], low_C: [], high_C: [], sugar_left: [1, 1, 1, 1, 0, 1, 0.9, 0], killed: [0, 0, 0, 0, 0, 0, 0, 0], air_across_m_s: [], air_up_m_s: [] }],
};

test('a cell lies where the grid has it, and a tap finds the nearest with beets', () => {
  assert.deepEqual(placeOf(picture, 0), { across: -3, height: 0.5 });
  assert.deepEqual(placeOf(picture, 6), { across: 1, height: 1.5 });
  assert.equal(cellAt(picture, 0.9, 1.4), 6);
  assert.equal(cellAt(picture, 3.2, 1.6), 3, 'the corner above holds none');
  assert.equal(neighbour(picture, 1, 0, 1), 5);
  assert.equal(neighbour(picture, 0, 0, 1), 0, 'no beets up there');
  assert.equal(neighbour(picture, 3, 1, 0), 3, 'the edge');
});

test('colours go by round steps from light to dark, over all that has beets', () => {
  const reach = extent(picture, 'celsius');
  assert.deepEqual([reach.least, reach.most], [1, 7]);
  const all = steps('celsius', reach.least, reach.most);
  assert.deepEqual([all[0].from, all.at(-1).to], [1, 7]);
  assert.ok(all.length <= 9);
  const lightness = all.map((one) => parseInt(one.colour.slice(1, 3), 16) + parseInt(one.colour.slice(3, 5), 16) + parseInt(one.colour.slice(5), 16));
  assert.deepEqual([...lightness].sort((a, b) => b - a), lightness);
  assert.equal(colourOf(all, 1.5), all[0].colour);
  assert.equal(colourOf(all, -40), all[0].colour, 'beyond the ends the end');
  assert.equal(colourOf(all, 99), all.at(-1).colour);
  assert.equal(extent(picture, 'sugar').least, 0);
  assert.deepEqual(extent(picture, 'killed'), { least: 0, most: 1, isBelow: false, isAbove: false });
  for (const [least, most] of [[-12.3, 31.8], [0, 0.04], [0, 100], [5, 5]]) {
    const some = steps('celsius', least, most);
    assert.ok(some.length >= 1 && some.length <= 9, `${some.length} steps from ${least} to ${most}`);
    assert.ok(some[0].from <= least + 1e-9 && some.at(-1).to >= most - 1e-9);
  }
});

test('marks of an axis are round and within it', () => {
  assert.deepEqual(marks(-18, 18, 8).map((one) => one.text), ['−15', '−10', '−5', '0', '5', '10', '15']);
  assert.deepEqual(marks(0, 0.5, 5).map((one) => one.text), ['0.0', '0.1', '0.2', '0.3', '0.4', '0.5']);
  assert.deepEqual(marks(3, 3, 5), []);
});

test('a shape that is pulled stays one', () => {
  const shape = { base: 36, top: 24, height: 5 };
  // atan(5 / 6)
  assert.ok(Math.abs(slope(shape) - 39.806) < 0.001);
  assert.deepEqual(pulled(shape, 'base', 20), { base: 20, top: 20, height: 5 }, 'the top is no wider than the ground');
  assert.deepEqual(pulled(shape, 'top', -3), { base: 36, top: 0, height: 5 });
  assert.deepEqual(pulled(shape, 'height', 99).height, 15);
  // 4.87 m are 15.98 ft, and half a foot is 0.1524 m.
  assert.equal(pulled(shape, 'height', 4.87, tapeStep('us')).height, 4.8768);
  assert.equal(pulled(shape, 'height', 4.87, tapeStep('metric')).height, 4.9);
});

test('a load is proposed as long as it is large, inside the pile', () => {
  const shape = { base: 36, top: 24, height: 5 };
  // 150 m2 at 0.65 t/m3 hold 97.5 t a metre
  assert.equal(lengthOf(390, shape), 4);
  assert.equal(lengthOf(20, shape), 3, 'no shorter than what tips it');
  assert.deepEqual(stretchAt(0.5, 4, 100), { from: 0, to: 4 });
  assert.deepEqual(stretchAt(50, 4, 100), { from: 48, to: 52 });
  assert.deepEqual(stretchAt(99, 400, 100), { from: 0, to: 100 });
});

test('loads that were corrected are gone, and a place is a correction', () => {
  const rows = [
    { id: 'aaaa-1', destination: 'Yard', at: '2031-11-02', gross: '20', field: 'A', ticket: '7' },
    { id: 'bbbb-2', destination: 'Yard', at: '2031-11-01', gross: '21', field: 'A' },
    { id: 'cccc-3', destination: 'Factory', at: '2031-11-01', gross: '21', field: 'A' },
    { id: 'dddd-4', supersedes: 'aaaa', destination: 'Yard', at: '2031-11-02', gross: '22', field: 'A', ticket: '7' },
  ];
  assert.deepEqual(loadsOf(rows, 'Yard').map((load) => load.id), ['bbbb-2', 'dddd-4']);
  const now = placed(rows[3], 'eeee-5', 12.5, 15.5);
  assert.deepEqual(now, { ...rows[3], id: 'eeee-5', supersedes: 'dddd-4', along_from: '12.5', along_to: '15.5' });
  assert.deepEqual(loadsOf([...rows, now], 'Yard').filter(hasPlace).map((load) => load.id), ['eeee-5']);
});

test('what lies on a pile is the last word on each stretch', () => {
  const rows = [
    { id: '1', pile: 'Yard', at: '2031-11-01', cover: 'fleece' },
    { id: '2', pile: 'Yard', at: '2031-11-05', from: '0', to: '40', cover: 'plastic' },
    { id: '3', pile: 'Yard', at: '2031-11-09', from: '10', to: '20', cover: 'none' },
    { id: '4', pile: 'Other', at: '2031-11-09', cover: 'straw' },
  ];
  assert.deepEqual(coversNow(rows, 'Yard', 100).map((one) => [one.cover, one.from, one.to]), [['plastic', 0, 10], ['plastic', 20, 40], ['fleece', 40, 100]]);
  assert.equal(coversNow(rows.slice(0, 1), 'Yard', 100)[0].isWhole, true);
  assert.deepEqual(coversNow([...rows, { id: '5', pile: 'Yard', at: '2031-11-10', cover: 'none' }], 'Yard', 100), []);
  assert.deepEqual(coversNow([rows[0], { ...rows[0], id: '9', supersedes: '1', cover: 'straw' }], 'Yard', 100).map((one) => one.cover), ['straw']);
});

test('of each place the reading nearest to the day', () => {
  const row = { pile: 'Yard', probe: '7', along: '12', height: '1.5' };
  const rows = [
    { ...row, id: '1', at: '2031-12-01T08:00Z', temperature: '5' },
    { ...row, id: '2', at: '2031-12-03T08:00Z', temperature: '6' },
    { ...row, id: '3', at: '2031-11-01T08:00Z', temperature: '9' },
    { ...row, id: '4', at: '2031-12-04T08:00Z', temperature: '8', along: '80' },
    { ...row, id: '5', at: '2031-12-04T08:00Z', temperature: '80', height: '2' },
    { ...row, id: '6', at: '2031-12-04T08:00Z', temperature: '8', height: '2', supersedes: '5' },
  ];
  const part = { from_m: 0, to_m: 50 };
  assert.deepEqual(readingsNear(rows, 'Yard', part, '2031-12-04').map((one) => [one.celsius, one.across]), [[6, 0], [8, 0]]);
  assert.deepEqual(readingsNear(rows, 'Yard', part, '2032-02-01'), []);
});

test('what the engine says is read in their units', () => {
  const words = 'A hot spot comes in 5 days in the part from 0 m to 58 m, 2 K over 10 °C under 15 cm of straw, 3 m/s.';
  assert.equal(inTheirUnits(words, 'metric'), words);
  assert.equal(inTheirUnits(words, 'us'), 'A hot spot comes in 5 days in the part from 0 ft to 190 ft, 4 F° over 50 °F under 6 in of straw, 3 m/s.');
  assert.equal(stretchText(11.5, 22.635, 'metric'), '11.5 to 22.6 m');
  assert.equal(stretchText(0, 57.5, 'us'), '0 to 189 ft');
  assert.equal(sideText(-3.5, 2.5, 'metric'), '3.5 m left of the middle, 2.5 m over the ground');
  assert.equal(sideText(0, 1, 'us'), 'in the middle, 3.3 ft over the ground');
  const warning = { part: 0, words: 'A hot spot is there in the part from 0 m to 11 m, 4 m above the ground.' };
  assert.equal(warningText({ parts: [{ from_m: 0, to_m: 11.436 }] }, warning, 'metric'), 'A hot spot is there in the part from 0 to 11.4 m, 4 m above the ground.');
  assert.equal(warningText({ parts: [{ from_m: 0, to_m: 11.436 }] }, warning, 'us'), 'A hot spot is there in the part from 0 to 38 ft, 13 ft above the ground.');
  assert.equal(wholeText({ value: 4.75, low: 0, high: 12 }), '5 (0 to 12)');
  assert.equal(waysText(0.875, 8), '7 of 8');
});

test('a reading that no pile has may have been Fahrenheit', () => {
  assert.equal(asFahrenheit(50, -40, 40), 10);
  assert.equal(asFahrenheit(39, -40, 40), undefined, 'that may be either');
  assert.equal(asFahrenheit(300, -40, 40), undefined, 'that is neither');
});

const partOf = (from_m, to_m, days, chance = 1, due_for = 'rot') => ({ from_m, to_m, days_left: days === null ? null : { value: days, low: days, high: days + 2 }, chance_due: chance, due_for, sliced: '2032-02-02' });
const pileOf = (parts, due_first = 0) => ({ pile: 'Yard', members: 8, parts, due_first });

test('a pile is a sentence', () => {
  assert.equal(dueSentence(pileOf([partOf(0, 11.4, 0)]), 'metric'), 'the first 11.4 m should be sliced now; rot grows');
  assert.equal(dueSentence(pileOf([partOf(11.5, 22.6, 5, 0.75, 'thaw')]), 'metric'), 'the part at 11.5 to 22.6 m should be sliced within 5 (5 to 7) days; beets that frost has killed thaw and spoil');
  assert.equal(dueSentence(pileOf([partOf(0, 11.4, 60, 0.25)]), 'us'), 'it keeps until it is sliced on Mon 2 Feb');
  assert.equal(dueSentence(pileOf([partOf(0, 11.4, null)], null), 'us'), 'it is gone');
  assert.equal(chanceSentence(pileOf([partOf(0, 11.4, 5, 0.75)])), 'It comes to that in 6 of 8 ways.');
  assert.equal(alsoDue(pileOf([partOf(0, 10, 0), partOf(10, 20, 0.25), partOf(20, 30, 9), partOf(30, 40, 0, 0.25)])), 1);
  const piles = [pileOf([partOf(0, 10, 9)]), pileOf([partOf(0, 10, 60, 0.2)]), pileOf([partOf(0, 10, 2)])];
  assert.deepEqual(piles.map(soonest), [9, Infinity, 2]);
});
