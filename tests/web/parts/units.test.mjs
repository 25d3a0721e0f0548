// The app's units and figures, against definitions and against what the engine writes.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { tables } from '../../../web/src/generated/schema.ts';
import { decimalsFor, figure, fileNumber, quantityOf, shown, toMetric, toPeople, typed } from '../../../web/src/units/units.ts';

const near = (a, b) => assert.ok(Math.abs(a - b) <= 1e-12 * Math.abs(b), `${a} is not ${b}`);

test('conversions follow the definitions of the pound, the foot and the acre', () => {
  near(toPeople(0.45359237, 'mass', 'us'), 1);
  near(toPeople(0.90718474, 'load', 'us'), 1);
  near(toPeople(0.3048, 'tape', 'us'), 1);
  near(toPeople(2.54, 'diameter', 'us'), 1);
  near(toPeople(0.09290304, 'stripArea', 'us'), 1);
  near(toPeople(0.40468564224, 'fieldArea', 'us'), 1);
  near(toPeople(1.609344, 'way', 'us'), 1);
  near(toPeople(25.4, 'waterDepth', 'us'), 1);
  near(toPeople(5, 'temperature', 'us'), 41);
  near(toMetric(-40, 'temperature', 'us'), -40);
  near(toPeople(5, 'temperatureDifference', 'us'), 9);
  // NIST Special Publication 811, appendix B.9: 249.0889 Pa, 4.719474e-4 m3/s, 745.6999 W, 1 psi = 6.894757 kPa.
  assert.equal(toMetric(1, 'fanPressure', 'us').toFixed(4), '249.0889');
  assert.equal((toMetric(1, 'airFlow', 'us') / 3600).toFixed(10), '0.0004719474');
  assert.equal(toMetric(1, 'power', 'us').toFixed(7), '0.7456999');
  assert.equal(toMetric(1, 'pressure', 'us').toFixed(8), '0.06894757');
  // 907.18474 kg and 0.45359237 kg, over 0.40468564224 ha, divided by hand.
  assert.equal(toMetric(1, 'beetPerArea', 'us').toFixed(6), '2.241702');
  assert.equal(toMetric(1, 'sugarPerArea', 'us').toFixed(6), '1.120851');
  near(toPeople(100, 'moneyPerArea', 'us'), 40.468564224);
});

test('there and back is the same, and metric is left alone', () => {
  for (const quantity of ['mass', 'load', 'tape', 'diameter', 'skin', 'waterDepth', 'pressure', 'hours', 'stripArea', 'fieldArea', 'way', 'beetPerArea', 'temperature', 'temperatureDifference', 'airFlow']) {
    near(toMetric(toPeople(12.34, quantity, 'us'), quantity, 'us'), 12.34);
    assert.equal(toPeople(12.34, quantity, 'metric'), 12.34);
  }
});

test('every column that has a unit is of a quantity, or its numbers would pass for plain ones', () => {
  const known = Object.entries(tables).flatMap(([file, table]) => table.columns.map((column) => [file, column]));
  for (const [file, column] of known) assert.equal('metric' in column, quantityOf(column) !== 'count', `${file}, ${column.name}`);
});

test('figures have a proper minus, thousands apart, and no minus nothing', () => {
  assert.equal(figure(-310, 0), '\u2212310');
  assert.equal(figure(12345.67, 1), '12\u202f345.7');
  assert.equal(figure(1234, 0), '1234');
  assert.equal(figure(-0.04, 1), '0.0');
});

test('no more digits than the interval bears', () => {
  assert.equal(decimalsFor(-187, -47), 0);
  assert.equal(decimalsFor(82.5, 84.8), 1);
  assert.equal(decimalsFor(0.01, 0.02), 4);
  assert.equal(decimalsFor(5, 5), 0);
  const one = shown({ value: 83.61, low: 82.46, high: 84.83 }, 'beetPerArea', 'metric');
  assert.deepEqual(one, { value: '83.6', interval: '82.5 to 84.8', unit: 't/ha' });
  assert.equal(shown({ value: null, low: null, high: null }, 'mass', 'us').value, '–');
});

test('what people type is read, with a comma or a point, and nothing else', () => {
  assert.equal(typed('2,5'), 2.5);
  assert.equal(typed(' .5 '), 0.5);
  assert.equal(typed('-3'), -3);
  for (const wrong of ['', 'x', '1.2.3', '1,000.5', '1e3', '0x10', 'Infinity']) assert.equal(typed(wrong), undefined, wrong);
});

test('numbers for files have no exponent and no noise', () => {
  assert.equal(fileNumber(0.1 + 0.2), '0.3');
  assert.equal(fileNumber(4.5359237), '4.5359237');
  assert.equal(fileNumber(1e-7), '0.0000001');
  assert.equal(fileNumber(1234567), '1234567');
});
