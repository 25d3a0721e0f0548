// Tables as others make them: what their headings mean, and what is left of their lines.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { guess, lookAt, offsetText, orderOf, textOf, underOurHeadings } from '../../../web/src/sync/their_table.ts';

const otherWords = { field: ['parcel'], at: ['date'], gross: ['net weight'], ticket: ['docket no'] };

test('separators, remarks and quotes before the headings', () => {
  assert.deepEqual(lookAt('a;b,c;"d;e"\n1;2;3\n').headings, ['a', 'b,c', 'd;e']);
  assert.deepEqual(lookAt('a\tb\n').headings, ['a', 'b']);
  assert.deepEqual(lookAt('sep=|\na|"b ""x"""\n1|2').headings, ['a', 'b "x"']);
  const remarks = lookAt('# from the weighbridge\r\n\r\nParcel,Net weight (kg)\r\nLong Acre,"1,5"\r\n');
  assert.deepEqual(remarks.headings, ['Parcel', 'Net weight (kg)']);
  assert.deepEqual(remarks.example, ['Long Acre', '1,5']);
  for (const nothing of ['', '\n\n', '# only this\n']) assert.equal(lookAt(nothing), undefined);
});

test('text of spreadsheets older than UTF-8', () => {
  assert.equal(textOf(Uint8Array.of(0x5a, 0xfc, 0x67, 0x65)), 'Züge');
  assert.equal(textOf(new TextEncoder().encode('\uFEFFZüge')), 'Züge');
});

test('days as they show themselves', () => {
  assert.equal(orderOf('4.10.2031 09:30', false), 'dd.mm.yyyy');
  assert.equal(orderOf('14/10/2031', true), 'dd/mm/yyyy');
  assert.equal(orderOf('10/14/2031', false), 'mm/dd/yyyy');
  assert.equal(orderOf('10/04/2031', true), 'mm/dd/yyyy');
  assert.equal(orderOf('10/04/2031', false), 'dd/mm/yyyy');
  assert.equal(orderOf('2031-10-04', true), '');
  assert.deepEqual([120, -300, 345, 0].map(offsetText), ['+02:00', '-05:00', '+05:45', '+00:00']);
});

test('their headings become ours, and their lines stay where they are', () => {
  const text = 'sep=;\n# autumn\nDocket no.;Date;Parcel;Driver (van);Net weight (kg)\nT-1;04.10.2031;Long Acre;x;25100\n\nT-2;05.10.2031;Long Acre;y;24900\n';
  const their = lookAt(text);
  const meanings = guess('loads.csv', their, otherWords, 'metric');
  assert.deepEqual(
    ['ticket', 'at', 'field', 'gross', 'destination'].map((name) => meanings[name].place),
    [0, 1, 2, 4, -1],
  );
  assert.equal(meanings.gross.unit, 'kg');
  assert.equal(meanings.at.order, 'dd.mm.yyyy');
  const ours = underOurHeadings('loads.csv', their, meanings, '+02:00');
  assert.equal(ours, text.replace(/Docket.*/, 'ticket;at [dd.mm.yyyy hh:mm +02:00];field;(Driver  van);gross [kg]'));
  // A unit that cannot stand there is not taken over; the usual one is.
  const pounds = guess('loads.csv', lookAt('Net weight (furlong)\n1\n'), otherWords, 'us');
  assert.equal(pounds.gross.unit, 'short ton');
});
