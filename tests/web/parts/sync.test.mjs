// Tables as text, ids, and what was recorded.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bearsOn } from '../../../web/src/sync/bearing.ts';
import { newId } from '../../../web/src/sync/ids.ts';
import { fromAnswer, fromKept, nobody } from '../../../web/src/sync/received.ts';
import { recordsOf } from '../../../web/src/sync/records.ts';
import { fromText, namesUsed, toText, withAdditions, stampOf } from '../../../web/src/sync/tables.ts';

test('rows come back as they went, whatever stands in them', () => {
  const rows = [
    { sheet: 'a', field: 'Long "Acre", lower', at: '2031-10-04', spot: '1', tip_break: '>8' },
    { sheet: 'b', field: 'two\nlines', at: '2031-10-04', spot: '2', topping: 'too deep' },
  ];
  assert.deepEqual(fromText('beets.csv', toText('beets.csv', rows)), rows);
  assert.deepEqual(fromText('beets.csv', undefined), []);
});

test('headers may leave columns out or stand in another order', () => {
  assert.deepEqual(fromText('tares.csv', 'field,soil [kg],gross [kg]\r\nHome,1,20\r\n'), [{ field: 'Home', soil: '1', gross: '20' }]);
});

test('an id is a version 7 UUID, sorts by time, and is never the same', () => {
  const made = Array.from({ length: 1000 }, () => newId());
  for (const id of made) assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  assert.equal(new Set(made).size, made.length);
  // RFC 9562, appendix A.6: the example of version 7.
  const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  assert.equal(newId(0x017f22e279b0, random), '017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
  assert.ok(newId(1000) < newId(2000));
});

test('what was recorded is told newest first, with what corrects it', () => {
  const files = {
    'beets.csv': toText('beets.csv', [
      { sheet: 'one', field: 'Home', at: '2031-10-04T08:00:00Z', spot: '1' },
      { sheet: 'one', field: 'Home', at: '2031-10-04T08:00:00Z', spot: '2' },
    ]),
  };
  const waiting = [{ id: 'two', table: 'beets.csv', rows: [{ sheet: 'two', supersedes: 'one', field: 'Home', at: '2031-10-04T09:00:00Z', spot: '1' }] }];
  const all = recordsOf(files, waiting, 'Home');
  assert.deepEqual(all.map((one) => [one.id, one.correctedBy, one.summary]), [
    ['two', '', '1 beet at 1 spot'],
    ['one', 'two', '2 beets at 2 spots'],
  ]);
  assert.deepEqual(recordsOf(files, waiting, 'Elsewhere'), []);
});

test('notes of settings, new parts and what was judged by eye are told in few words', () => {
  const about = { id: 'a', at: '2031-10-04T07:00:00Z', machine: 'Old Six', field: 'Home' };
  const files = {
    'settings.csv': toText('settings.csv', [
      { ...about, answer: 'other', control: 'share.depth', value: '75', unit: 'mm' },
      { ...about, answer: 'other', control: 'turbine_1.guard', value: 'closed' },
      { ...about, id: 'b', at: '2031-10-05T07:00:00Z', answer: 'declined' },
    ]),
    'parts.csv': toText('parts.csv', [{ id: 'c', machine: 'Old Six', at: '2031-10-03', stage: 'scalper', what: 'new knives' }]),
    'standing.csv': toText('standing.csv', [{ id: 'd', field: 'Home', at: '2031-10-02', evenness: 'fair', crowns: '4 5' }]),
  };
  assert.deepEqual(recordsOf(files, []).map((one) => [one.id, one.field, one.summary]), [
    ['b', 'Home', 'Old Six, advice declined'],
    ['a', 'Home', 'Old Six, 2 controls set, otherwise than advised'],
    ['c', '', 'Old Six, new knives'],
    ['d', 'Home', 'soil and stand by eye, 2 crowns'],
  ]);
});

test('what was seen of a pile is told in few words', () => {
  const files = {
    'covers.csv': toText('covers.csv', [
      { id: 'a', pile: 'Yard', at: '2031-11-20', cover: 'fleece' },
      { id: 'b', supersedes: 'a', pile: 'Yard', at: '2031-11-21', cover: 'none' },
    ]),
    'probes.csv': toText('probes.csv', [{ id: 'c', pile: 'Yard', at: '2031-11-22', probe: '7', along: '12', height: '2', temperature: '5.5' }]),
    'removals.csv': toText('removals.csv', [{ id: 'd', pile: 'Yard', at: '2031-11-23', to: '12', gross: '180' }]),
  };
  assert.deepEqual(recordsOf(files, []).map((one) => [one.id, one.correctedBy, one.summary]), [
    ['d', '', 'Yard'],
    ['c', '', 'Yard, probe 7'],
    ['b', '', 'Yard, lies open'],
    ['a', 'b', 'Yard, fleece'],
  ]);
  assert.ok(recordsOf(files, []).every((one) => one.place === 'Yard' && one.field === ''), 'it is about the pile, and no field');
});

test('what was added is put after what one has', () => {
  const old = { 'tares.csv': 'id,field\na,Home\n', 'season.json': '{}' };
  const added = { 'tares.csv': 'id,field\nb,Home\n', 'labs.csv': 'id,field\nc,Home\n' };
  assert.deepEqual(withAdditions(old, added), { 'tares.csv': 'id,field\na,Home\nb,Home\n', 'labs.csv': 'id,field\nc,Home\n', 'season.json': '{}' });
  assert.deepEqual(withAdditions(old, {}), old);
});

test('who sent what: additions join, a whole answer takes the place of all', () => {
  const one = { a: { by: 'Anna', at: '2031-10-04T08:00:00Z' } };
  const two = { b: { by: 'Bero', at: '2031-10-04T09:00:00Z' } };
  const first = fromAnswer(nobody, one, false, 'W/"x.1"');
  const second = fromAnswer(first, two, true, 'W/"x.2"');
  assert.deepEqual(second, { tag: 'W/"x.2"', all: { ...one, ...two } });
  // The server was started anew, perhaps with a file that lacks the first.
  assert.deepEqual(fromAnswer(second, two, false, 'W/"y.1"'), { tag: 'W/"y.1"', all: two });
  assert.deepEqual(fromKept(second), second);
  for (const fact of [undefined, one, {}]) assert.deepEqual(fromKept(fact), nobody);
});

test('a count bears on the lines that rest on what was judged in it', () => {
  const sheet = [{ sheet: 'a', topping: 'correct', tip_break: '', rot: 'no', frost: 'no' }, { sheet: 'a', topping: '', tip_break: 'whole', rot: 'no', frost: 'no' }];
  assert.ok(bearsOn('beets.csv', sheet, 'over_topping'));
  assert.ok(bearsOn('beets.csv', sheet, 'storage_tail_wounds'), 'a tail that is whole was judged');
  assert.ok(!bearsOn('beets.csv', sheet, 'storage_skin_wounds'));
  assert.ok(!bearsOn('beets.csv', sheet, 'storage_rot_and_frost'), 'no is said unasked');
  assert.ok(bearsOn('beets.csv', [...sheet, { rot: 'yes' }], 'storage_rot_and_frost'));
  assert.ok(bearsOn('spots.csv', [{ tip_2_4: '0' }], 'tails'));
  assert.ok(bearsOn('strips.csv', [{ whole_roots: '0' }], 'whole_roots'), 'nothing found is found');
  assert.ok(!bearsOn('strips.csv', [{ whole_roots: '3' }], 'haul'));
  assert.ok(!bearsOn('loads.csv', [{ gross: '25' }], 'haul'));
});

test('names that are used, whether a table introduces them or not', () => {
  const files = { 'fields.csv': 'name,area [ha],machine\nHome,3,North\nMill,4,\n', 'strips.csv': 'field,machine,at,area [m2]\nHome,East,2031-10-04,40\n' };
  assert.deepEqual(namesUsed(files, 'machines.csv'), ['East', 'North']);
  assert.deepEqual(namesUsed(files, 'fields.csv'), ['Home']);
  assert.deepEqual(namesUsed({}, 'destinations.csv'), []);
});

test('a stamp is another where a text is, or where it ends', () => {
  const stamp = stampOf(['a,b\n1,2\n', '']);
  assert.equal(stampOf(['a,b\n1,2\n', '']), stamp);
  for (const other of [['a,b\n1,3\n', ''], ['', 'a,b\n1,2\n'], ['a,b\n', '1,2\n'], ['a,b\n1,2\n']]) assert.notEqual(stampOf(other), stamp);
});
