/** How far figures may vary, and the board as it was measured: plus and minus, readings, corrected figures. */
import { isFixed } from '../../../../geometry/rail/laid';
import { said } from '../../../../geometry/said';
import { READING_FIELDS } from '../../../../geometry/trust/readings';
import { signed, spreadText } from '../../../say/bands';
import { textOf } from '../../../say/said';
import { angleText } from '../../../say/units';
import { capital, SEVERITY_WORDS } from '../../../say/words';
import { measuredBatch, measuredRibs, methodText, type MeasuredSide, type Trust } from '../../trust';
import { len, lenUnit, signOf, type Kit } from './kit';

const finer = (rad: number): string => angleText(rad, 2);

/** Stops and figures as value, plus and minus. */
export function toleranceChapter(kit: Kit, bands: NonNullable<Trust['bands']>): void {
  const { flow, plan } = kit;
  const sign = signOf(kit);
  const mm = (v: number) => len(kit, v, 2);
  flow.chapter('Plus and minus: how far stops and figures may vary', 10);
  const { strip, skin, glueLine, kerf, ribHeight } = plan.design.spread;
  flow.text(
    `Each band holds about 95 of 100 boards, by ${methodText(bands)}, where strips and spacers come within ±${mm(strip)}, skins ±${mm(skin)}, ` +
      `glue lines ±${mm(glueLine)}, the kerf ±${mm(kerf)} and rib heights ±${lenUnit(kit, ribHeight, 2)}. A stop outside its band: measure before you cut.`, 10.5,
  );
  flow.space(1.5);
  // Stops on the left, ribs on the right: one table, as long as the longer of the two.
  const { stops, ribs } = bands;
  const [left, gutter] = [82, 6];
  const each = (flow.width - left - gutter - 10) / 6;
  flow.table([
    { title: ['row'], width: 10, align: 'centre', face: 'bold', size: 13 }, { title: ['toward'], width: 18, align: 'left' },
    { title: ['stop, along', `rail ${sign}`], width: 28, face: 'bold' }, { title: ['plus and', 'minus'], width: left - 56 },
    { title: [''], width: gutter }, { title: ['rib'], width: 10, align: 'centre', face: 'bold', size: 13 },
    { title: ['gap', sign], width: each, face: 'bold' }, { title: ['plus and', 'minus'], width: each },
    { title: ['bevel'], width: each, face: 'bold' }, { title: ['plus and', 'minus'], width: each },
    { title: ['cover', sign], width: each, face: 'bold' }, { title: ['plus and', 'minus'], width: each },
  ], Array.from({ length: Math.max(stops.length, ribs.length) }, (_, i) => {
    const [stop, rib] = [stops.at(i), ribs.at(i)];
    return [
      ...(stop ? [String(stop.row), stop.end, len(kit, stop.s.value), isFixed(stop) ? 'fixed' : spreadText(stop.s, (v) => len(kit, v))] : ['', '', '', '']), '',
      ...(rib ? [
        String(rib.index + 1), mm(rib.bands.gap.value), spreadText(rib.bands.gap, mm), finer(rib.bands.bevel.value), spreadText(rib.bands.bevel, finer), mm(rib.bands.cover.value), spreadText(rib.bands.cover, mm),
      ] : ['', '', '', '', '', '', '']),
    ];
  }), { rowHeight: 4.9, size: 9.5 });
}

function sideChapter(kit: Kit, record: NonNullable<Trust['measured']>['record'], measured: MeasuredSide): void {
  const { flow, plan } = kit;
  const { side, built } = measured;
  const sign = signOf(kit);
  const mm = (v: number) => len(kit, v, 2);
  const figure = (field: (typeof READING_FIELDS)[number]) => (field === 'bevel' ? finer : mm);
  flow.page(`As built, ${side}`);
  flow.text(
    `The plan corrected by ${built.used === 1 ? 'one caliper reading' : `${built.used} caliper readings`}. A rib not read counts as drawn, or as the batch; from rib to rib a difference fades into the next, ` +
      'beyond the first and last it stays as it is. The design itself is unchanged. Cut to these figures, not to the drawn ones.', 10.5,
  );
  flow.space(3);
  flow.heading('Stops, along the rail from the tail', 20);
  const wide = (flow.width - 38) / 4;
  flow.table([
    { title: ['row'], width: 14, align: 'centre', face: 'bold', size: 14 }, { title: ['toward'], width: 24, align: 'left', face: 'bold' },
    { title: ['as built', sign], width: wide, face: 'bold' }, { title: ['drawn', sign], width: wide }, { title: ['as built,', `from nose ${sign}`], width: wide }, { title: ['station', `from tail ${sign}`], width: wide },
  ], built.plan.rail.rows.flatMap((row) => [row.tail, row.nose].map((stop) => {
    const change = built.changes.find((c) => c.what === 'stop' && c.row === stop.row && c.end === stop.end && c.is === stop.s);
    const fresh = built.changes.some((c) => c.what === 'rows' && c.row === row.row && c.was === undefined && c.s === row.tail.s);
    return [String(row.row), stop.end, len(kit, stop.s), fresh ? 'none' : len(kit, change?.was ?? stop.s), len(kit, built.plan.rail.face.length - stop.s), len(kit, stop.x)];
  })));
  flow.heading('At the ribs: as built, drawn in brackets', 20);
  const ribs = measuredRibs(plan, record, measured);
  const each = (flow.width - 14 - 22) / 4;
  const pair = (is: string, was: string): string => (is === was ? is : `${is} (${was})`);
  flow.table([
    { title: ['rib'], width: 14, align: 'centre', face: 'bold', size: 14 }, { title: ['gap', sign], width: each, face: 'bold' }, { title: ['rows'], width: 22, align: 'centre', face: 'bold' },
    { title: ['bevel'], width: each, face: 'bold' }, { title: ['planing depth', sign], width: each }, { title: ['cover', sign], width: each },
  ], ribs.map(({ rib, was, is, rows }) => [
    String(rib), pair(mm(is.gap), mm(was.gap)), pair(String(rows[1]), String(rows[0])), pair(finer(is.bevel), finer(was.bevel)), pair(mm(is.planing), mm(was.planing)), pair(mm(is.cover), mm(was.cover)),
  ]));
  flow.heading('Readings, drawn in brackets', 20);
  const read = ribs.filter(({ read: r }) => Object.keys(r).length > 0);
  const batch = new Map(measuredBatch(plan, record, side).map((one) => [one.field, one]));
  const first = 26;
  flow.table([
    { title: ['rib'], width: first, align: 'centre', face: 'bold', size: 14 },
    ...READING_FIELDS.map((field) => ({ title: field === 'bevel' ? [field] : [field, sign], width: (flow.width - first) / READING_FIELDS.length })),
  ], [
    ...(batch.size === 0 ? [] : [['of the batch', ...READING_FIELDS.map((field) => {
      const one = batch.get(field);
      if (!one) return '–';
      return one.read === undefined || one.drawn === undefined ? `${signed(one.off, mm)} at every rib` : `${mm(one.read)} (${mm(one.drawn)})`;
    })]]),
    ...read.map(({ rib, read: r, drawn }) => [
      String(rib), ...READING_FIELDS.map((field) => (r[field] === undefined ? '–' : `${figure(field)(r[field])} (${figure(field)(drawn[field])})`)),
    ]),
  ], { size: 10.5 });
  for (const { field, value, message, allowed } of built.flags) {
    flow.text(textOf(said('{level}: {field}, {value}: {message}. Allowed: {allowed}.', { level: capital(SEVERITY_WORDS.check), field, value, message, allowed }), kit.stamp.unit), 10, 'bold');
  }
}

/** All that was measured, a chapter a side. */
export function builtChapters(kit: Kit, { record, sides }: NonNullable<Trust['measured']>): void {
  for (const side of sides) sideChapter(kit, record, side);
}
