// What the ground's screens reckon by themselves: a field's plane, outlines, contours, where one is and what comes.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isSame, perhaps, Track, whatComes, whereIs } from '../../../web/src/screens/ground/ahead.ts';
import { contourStep, levelsWithin, linesAt, smoothed } from '../../../web/src/screens/ground/contours.ts';
import { withDrawn, without } from '../../../web/src/screens/ground/combine.ts';
import { area_m2, begun, faultOf, heldAt, lastSide, moved, now, undone, withCorner, withoutHeld } from '../../../web/src/screens/ground/outline.ts';
import { asSent, asShape } from '../../../web/src/screens/ground/parts_of_shape.ts';
import { Plane, planeOf } from '../../../web/src/screens/ground/plane.ts';
import { areaOf, contains, crossing, inside } from '../../../web/src/screens/ground/polygon.ts';
import { paint, placed, placingOf } from '../../../web/src/screens/ground/relief_picture.ts';
import { barFor } from '../../../web/src/screens/ground/scale_bar.ts';
import { allIn, changesBetween, switchedIn } from '../../../web/src/screens/ground/settings.ts';

const near = (value, wanted, within) => assert.ok(Math.abs(value - wanted) <= within, `${value} is not ${wanted} within ${within}`);
const square = (west, south, side) => [[west, south], [west + side, south], [west + side, south + side], [west, south + side]];
/** A field of 100 m with a hollow of 20 m in it. */
const border = [[square(0, 0, 100)]];
const reading = (control, value) => ({ control, words: control, value, text: '', unit: 'mm', amount: value * 1000, display: null });
const level = { number: 1, lie: 'level ground', area_ha: 0.96, controls: [reading('depth', 0.07), reading('speed', 5), reading('bed', 0.03)] };
const hollow = { number: 2, lie: 'hollow', area_ha: 0.04, controls: [reading('depth', 0.055), reading('bed', 0.12)] };
const areas = [
  { zone: level, polygons: [[square(0, 0, 100), square(40, 40, 20)]] },
  { zone: hollow, polygons: [[square(40, 40, 20)]] },
];

test('a degree of latitude and of longitude is as long as the ellipsoid has it', () => {
  // WGS 84 from its radii: at 54° N the meridian curves by a(1-e²)/(1-e²sin²)^1.5, the parallel's radius is
  // a cos/(1-e²sin²)^0.5; a hundredth of a degree is short enough for both.
  const [a, e2, phi] = [6_378_137, 0.00669437999014, (54 * Math.PI) / 180];
  const w = 1 - e2 * Math.sin(phi) ** 2;
  const hundredth = (0.01 * Math.PI) / 180;
  const plane = new Plane([7, 54]);
  near(plane.to([7, 54.005])[1] - plane.to([7, 53.995])[1], ((a * (1 - e2)) / w ** 1.5) * hundredth, 1e-3);
  near(plane.to([7.005, 54])[0] - plane.to([6.995, 54])[0], ((a * Math.cos(phi)) / Math.sqrt(w)) * hundredth, 1e-3);
});

test('there and back is the same place, on either side of the antimeridian and of the equator', () => {
  for (const origin of [[7, 54], [179.999, -17], [-64, -33], [0, 0], [25, 69.5]]) {
    const plane = new Plane(origin);
    for (const point of [[0, 0], [1200, -800], [-2500, 2500]]) {
      const back = plane.to(plane.from(point));
      near(back[0], point[0], 1e-6);
      near(back[1], point[1], 1e-6);
    }
  }
  const across = planeOf([{ type: 'MultiPolygon', coordinates: [[[[179.999, 10], [-179.999, 10], [-179.999, 10.002], [179.999, 10]]]] }]);
  near(Math.abs(across.origin[0]), 180, 1e-9);
  near(areaOf(across.polygons({ type: 'MultiPolygon', coordinates: [[[[179.999, 10], [-179.999, 10], [-179.999, 10.002], [179.999, 10]]]] })), (219.27 * 221.22) / 2, 40);
});

test('outlines go out closed, the outer ring against the clock', () => {
  const plane = new Plane([7, 54]);
  const { coordinates } = plane.outline([[[...square(0, 0, 100)].reverse(), square(40, 40, 20)]]);
  assert.deepEqual(coordinates[0][0][0], coordinates[0][0].at(-1));
  const turn = (ring) => ring.slice(1).reduce((sum, b, i) => sum + (ring[i][0] - 7) * (b[1] - 54) - (b[0] - 7) * (ring[i][1] - 54), 0);
  assert.ok(turn(coordinates[0][0]) > 0 && turn(coordinates[0][1]) < 0);
  near(areaOf(plane.polygons({ type: 'MultiPolygon', coordinates })), 9600, 0.01);
});

test('inside is inside, holes are not, and a number stands within', () => {
  assert.ok(contains(areas[0].polygons, [10, 10]));
  assert.ok(!contains(areas[0].polygons, [50, 50]));
  assert.ok(!contains(areas[0].polygons, [150, 50]));
  const horseshoe = [[[[0, 0], [100, 0], [100, 100], [80, 100], [80, 20], [20, 20], [20, 100], [0, 100]]]];
  for (const polygons of [horseshoe, areas[0].polygons, areas[1].polygons]) assert.ok(contains(polygons, inside(polygons)), `${inside(polygons)}`);
});

test('an outline that crosses or touches itself is found, with the place', () => {
  assert.equal(crossing([[square(0, 0, 10)]]), undefined);
  assert.deepEqual(crossing([[[[0, 0], [10, 10], [10, 0], [0, 10]]]]), [5, 5]);
  assert.ok(crossing([[[[0, 0], [10, 0], [5, 0], [5, 5]]]]), 'it goes back over itself');
  assert.ok(crossing([[square(0, 0, 10), square(5, 5, 10)]]), 'a hole leaves its ring');
  assert.equal(crossing([[square(0, 0, 10), square(2, 2, 3)]]), undefined);
});

test('corners are set, taken back, taken away; what is wrong is told at once', () => {
  let outline = begun([]);
  for (const corner of [[0, 0], [100, 0], [100, 50]]) outline = withCorner(outline, corner);
  assert.deepEqual([faultOf(outline).fault, area_m2(outline), lastSide(outline)], [undefined, 2500, 50]);
  const crossed = withCorner(outline, [50, -20]);
  assert.equal(faultOf(crossed).fault, 'crosses');
  near(faultOf(crossed).at[1], 0, 1e-9);
  assert.equal(faultOf(undone(crossed)).fault, undefined);
  // Only the side that would close it crosses: it may go on round.
  let open = begun([]);
  for (const corner of [[0, 0], [100, 0], [100, 100], [50, 100], [50, -0.5 + 30], [120, 30.5]]) open = withCorner(open, corner);
  assert.equal(faultOf(open).fault, 'crosses');
  let hook = begun([]);
  for (const corner of [[0, 0], [100, 0], [100, 100], [60, 100], [60, 40], [80, 60]]) hook = withCorner(hook, corner);
  assert.equal(faultOf(hook).fault, 'closes');
  assert.equal(withCorner(hook, [80, 60]), hook, 'twice on one place is one corner');
  const held = heldAt(outline, [99, 1], 5);
  assert.deepEqual(held.held, [100, 0]);
  assert.equal(now(withoutHeld(held))[0][0].length, 2);
  const square4 = begun(border);
  assert.equal(now(withoutHeld(heldAt(square4, [0, 0], 1)))[0][0].length, 3);
  const three = withoutHeld(heldAt(square4, [0, 0], 1));
  assert.equal(withoutHeld(heldAt(three, [100, 0], 1)).steps.length, three.steps.length, 'three corners stay');
  assert.equal(now(undone(moved(square4, [[square(0, 0, 90)]]))), border);
  assert.equal(faultOf(begun([])).fault, 'few');
});

test('where one is, what comes on the way, and what it may be as well', () => {
  assert.equal(whereIs(areas, border, [10, 50]).zone.number, 1);
  assert.equal(whereIs(areas, border, [50, 50]).zone.number, 2);
  assert.equal(whereIs(areas, border, [120, 50]), 'outside');
  assert.equal(whereIs([areas[1]], border, [10, 50]), 'field');
  const next = whatComes(areas, border, [10, 50], [1, 0]);
  near(next.distance_m, 30, 1e-9);
  assert.equal(next.where.zone.number, 2);
  const out = whatComes(areas, border, [70, 50], [1, 0]);
  assert.deepEqual([out.where, Math.round(out.distance_m)], ['outside', 30]);
  assert.equal(whatComes(areas, border, [120, 50], [1, 0]), undefined);
  assert.equal(perhaps(areas, border, [35, 50], 3), undefined);
  assert.equal(perhaps(areas, border, [38, 50], 5).zone.number, 2);
  // Drawn over level ground, before the server has parted them: what stands out goes first.
  assert.equal(whereIs([{ zone: level, polygons: border }, areas[1]], border, [50, 50]).zone.number, 2);
  assert.ok(isSame('outside', 'outside') && !isSame('outside', areas[0]));
});

test('the way goes by the device, else by where one was, once that is far enough', () => {
  const track = new Track();
  track.add([0, 0], 4, null, null);
  track.add([1, 0], 4, NaN, 0);
  assert.equal(track.towards, undefined, 'within a receiver’s wander');
  track.add([0, 6], 4, null, null);
  near(track.towards[1], 6 / Math.hypot(1, 6), 1e-9);
  track.add([0, 7], 4, 90, 1.5);
  near(track.towards[0], 1, 1e-9);
});

test('settings are those of level ground but for what a zone has otherwise', () => {
  const zones = [level, hollow];
  assert.deepEqual(allIn(zones, hollow).map((one) => one.value), [0.055, 5, 0.12]);
  assert.deepEqual(switchedIn(zones, level).map((one) => [one.control, one.value]), [['depth', 0.07], ['bed', 0.03]]);
  assert.deepEqual(changesBetween(zones, hollow, level).map((one) => [one.from.value, one.to.value]), [[0.055, 0.07], [0.12, 0.03]]);
  assert.deepEqual(changesBetween(zones, level, undefined), []);
});

test('a drawn zone keeps within the border and takes its ground from the others', () => {
  const plane = new Plane([7, 54]);
  const kept = areas.map(({ zone, polygons }) => ({ ...zone, geometry: plane.outline(polygons) }));
  const drawn = { number: 3, lie: 'knoll', polygons: [[[[50, 50], [120, 50], [120, 90], [50, 90]]]], controls: [] };
  const zones = withDrawn(plane, border, kept, drawn, []);
  assert.deepEqual(zones.map((one) => [one.number, one.lie]), [[1, 'level ground'], [2, 'hollow'], [3, 'knoll']]);
  const [of1, of2, of3] = zones.map((one) => 10_000 * one.area_ha);
  near(of3, 50 * 40, 0.1);
  near(of2, 400 - 100, 0.1);
  near(of1 + of2 + of3, 10_000, 0.1);
  assert.equal(zones[0].controls, kept[0].controls);
  const less = without(plane, border, zones, 3);
  near(10_000 * less[0].area_ha, 10_000 - 300, 0.1);
  assert.equal(withDrawn(plane, border, kept, { ...drawn, polygons: [[square(200, 200, 10)]] }, []).length, 2, 'nothing of it lies within');
});

test('contours of a cone are rings about its top, those of a slope end at the edges', () => {
  const [columns, rows] = [41, 31];
  const cone = Array.from({ length: columns * rows }, (_, i) => 100 - Math.hypot((i % columns) - 20, Math.floor(i / columns) - 15));
  const rings = linesAt({ columns, rows, values: Float32Array.from(cone) }, 90);
  assert.equal(rings.length, 1);
  assert.deepEqual(rings[0][0], rings[0].at(-1), 'it comes back to where it began');
  for (const [column, row] of rings[0]) near(Math.hypot(column - 20, row - 15), 10, 0.05);
  const slope = linesAt({ columns: 5, rows: 4, values: Float32Array.from({ length: 20 }, (_, i) => i % 5) }, 1.5);
  assert.deepEqual(slope.map((line) => line.length), [4]);
  assert.ok(slope[0].every(([column]) => column === 1.5));
  const holed = smoothed([1, 1, null, 1, 1, 1], 3, 2);
  assert.ok(Number.isNaN(holed.values[2]) && holed.values[0] === 1, 'what is not known stays so, and pulls at nothing');
  assert.deepEqual(levelsWithin(27.9, 31.3, 0.5), [28, 28.5, 29, 29.5, 30, 30.5, 31]);
  assert.equal(contourStep(3.4), 0.5);
});

test('a relief lies where its corners say, and is dark where it is low', () => {
  const plane = new Plane([7, 54]);
  // Three columns along the north, two rows towards the west.
  const corners = [[0, 0], [0, 15], [-10, 15], [-10, 0]].map((point) => plane.from(point));
  const relief = { field: '', columns: 3, rows: 2, cell_m: 5, corners, heights_cm: [0, 50, 100, 0, 50, null], low_m: 0, high_m: 1, height_sd_m: 0.01 };
  const placing = placingOf(relief, plane);
  const [east, north] = placed(placing, [2, 1]);
  near(east, -7.5, 1e-6);
  near(north, 12.5, 1e-6);
  const grid = { columns: 3, rows: 2, values: Float32Array.from(relief.heights_cm, (one) => one ?? NaN) };
  const { width, height, scale, rgba } = paint(relief, grid, placing);
  assert.deepEqual([width, height], [3 * scale, 2 * scale]);
  const at = (x, y) => [...rgba.slice(4 * (y * width + x), 4 * (y * width + x) + 4)];
  assert.ok(at(0, 0)[0] < at(scale + 1, 0)[0], 'low is darker');
  assert.equal(at(width - 1, height - 1)[3], 0, 'nothing is drawn where nothing is known');
});

test('a scale is a round length in the person’s units', () => {
  assert.deepEqual(barFor(1, 'metric', 130), { text: '100 m', px: 100 });
  assert.equal(barFor(20, 'metric', 130).text, '2 km');
  const feet = barFor(1, 'us', 130);
  assert.equal(feet.text, '200 ft');
  near(feet.px, 200 * 0.3048, 1e-9);
});

test('files of one shapefile go together, others do not', () => {
  assert.equal(asShape(['Oak.shp', 'oak.SHX', 'Oak.dbf', 'Oak.prj']), 'whole');
  assert.equal(asShape(['oak.shx', 'oak.dbf']), 'no shape');
  assert.equal(asShape(['oak.shp', 'elm.shp']), 'several');
  assert.equal(asShape(['oak.shp', 'oak.geojson']), 'several');
});

test('a long log goes packed, under its own name; what is short or packed already goes as it is', async () => {
  const log = new File(['2031-11-10T06:30:00.000Z,53.99666909,6.99557019,28.809\n'.repeat(30_000)], 'log.csv');
  const sent = await asSent(log);
  assert.equal(sent.name, 'log.csv');
  assert.ok(sent.size < log.size / 5, `${sent.size} of ${log.size} bytes`);
  const { unzipSync } = await import('fflate');
  const inside = unzipSync(new Uint8Array(await sent.arrayBuffer()));
  assert.deepEqual(Object.keys(inside), ['log.csv']);
  assert.equal(new TextDecoder().decode(inside['log.csv']), await log.text());
  const short = new File(['short'], 'log.csv');
  assert.equal(await asSent(short), short);
  const packed = new File(['PK', new Uint8Array(2_000_000)], 'log.zip');
  assert.equal(await asSent(packed), packed);
});
