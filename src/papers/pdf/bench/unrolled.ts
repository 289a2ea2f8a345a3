/** The rail unrolled, and the list of all that you meet on it, tail to nose. */
import { isHeated, stripName } from '../../../../geometry/parts/stripWords';
import { textOf } from '../../../say/said';
import { bendText, trialWords } from '../../../say/bendWords';
import { BEND_WORDS } from '../../../say/words';
import { railEvents, steamText, type EventKind, type RailEvent } from '../../railTables';
import { tickBox } from '../flow';
import { drawStack } from '../stack';
import type { Pen } from '../pen';
import { len, lenUnit, signOf, type Kit } from './kit';
import { lieTableOf } from './lies';
import { bendLegend } from './marks';

/** The stack along the rail: heights enlarged, ribs, stops, joints, steam. */
function unrolled(kit: Kit): void {
  const { flow, plan, parts } = kit;
  const { pen } = flow;
  const { rail, design } = plan;
  const r = design.rail;
  const k = flow.width / rail.face.length;
  const px = (s: number): number => flow.left + s * k;
  const whole = r.soleThickness + r.capThickness + Math.max(r.spacerHeight, rail.range.gap.max);
  const up = Math.min(2.2, 46 / whole);
  const base = flow.y + whole * up + 16;
  const soleTop = base - r.soleThickness * up;
  for (const rib of rail.ribs) {
    const x = px(rib.section.s);
    pen.line(x, base - whole * up - 4, x, base + 3, { width: 0.25, grey: 0.4, dash: [1.2, 0.8] });
    pen.circle(x, base - whole * up - 7, 2.7, { fill: 1, width: 0.25 });
    pen.text(x, base - whole * up - 5.85, String(rib.index + 1), { size: 9, face: 'bold', align: 'centre' });
  }
  drawStack(pen, plan, parts, {
    across: px, soleTop, up, name: (row, y, high) => pen.text(px((row.tail.s + row.nose.s) / 2), y + high * 0.5 + 1.2, `row ${row.row}`, { size: 8.5, align: 'centre' }),
  });
  // Hundreds of millimetres, or every four inches; each fifth with its figure.
  const tick = kit.stamp.unit === 'mm' ? 100 : 4 * 25.4;
  for (let n = 0; n * tick <= rail.face.length; n++) {
    const s = n * tick;
    const long = n % 5 === 0;
    pen.line(px(s), base + 3, px(s), base + (long ? 6 : 4.6), { width: 0.2 });
    if (long) pen.text(px(s), base + 9.4, len(kit, s, 0), { size: 8, align: s === 0 ? 'left' : 'centre' });
  }
  pen.line(flow.left, base + 3, flow.left + flow.width, base + 3, { width: 0.2 });
  pen.text(flow.left, base - whole * up - 6, 'TAIL', { size: 8, face: 'bold' });
  pen.text(flow.left + flow.width, base - whole * up - 6, 'NOSE', { size: 8, face: 'bold', align: 'right' });
  flow.y = base + 14;
  pen.text(flow.left, flow.y, `One side's rail box unrolled; along the rail from the tail, ${signOf(kit)}; heights ${(up / k).toFixed(0)} times enlarged. Hatched: ${BEND_WORDS.wet}; cross-hatched: ${BEND_WORDS.block}.`, { size: 8.5 });
  pen.text(flow.left, flow.y + 4, 'Diamonds: joints, black on starboard, white on port (white hides black where both are alike: see the list).', { size: 8.5 });
  flow.space(8);
}

/** The bevel as a curve along the rail, with its figures at the ribs. */
function bevelCurve(kit: Kit): void {
  const { flow, plan } = kit;
  const { pen } = flow;
  const { rail } = plan;
  const { samples } = rail;
  const k = flow.width / rail.face.length;
  const high = 26;
  const most = Math.max(5, Math.ceil(((rail.range.bevel.max * 180) / Math.PI) / 5) * 5);
  const least = Math.min(0, Math.floor(((rail.range.bevel.min * 180) / Math.PI) / 5) * 5);
  const y0 = flow.y + high + 2;
  const py = (degrees: number): number => y0 - ((degrees - least) * high) / (most - least);
  for (let d = least; d <= most; d += 5) {
    pen.line(flow.left, py(d), flow.left + flow.width, py(d), { width: 0.1, grey: d === 0 ? 0.2 : 0.65 });
    pen.text(flow.left + 0.5, py(d) - 0.6, `${d}°`, { size: 7, grey: 0.2 });
  }
  const points: number[] = [];
  for (let i = 0; i < samples.n; i += 4) {
    if (samples.s[i] < rail.cap.s0 || samples.s[i] > rail.cap.s1) continue;
    points.push(flow.left + samples.s[i] * k, py((samples.bevel[i] * 180) / Math.PI));
  }
  pen.path(points, { width: 0.5 });
  for (const rib of rail.ribs) {
    const x = flow.left + rib.section.s * k;
    pen.line(x, flow.y, x, y0, { width: 0.15, grey: 0.5, dash: [1.2, 0.8] });
    pen.text(x + 0.8, py((rib.section.bevel * 180) / Math.PI) - 1.2, `${((rib.section.bevel * 180) / Math.PI).toFixed(1)}°`, { size: 8, face: 'bold' });
  }
  flow.y = y0 + 4.5;
  pen.text(flow.left, flow.y, 'Bevel of the cap along the rail, degrees; figures at the ribs.', { size: 8.5 });
  flow.space(5);
}

const SIGNS: Readonly<Record<EventKind, string>> = { rib: 'rib', stop: 'STOP', joint: 'joint', bend: 'BEND', block: 'BLOCK', box: 'box' };

/** All that is met, in order, with a box to tick. */
function eventList(kit: Kit, events: readonly RailEvent[]): void {
  const { flow, plan } = kit;
  const total = plan.rail.face.length;
  const draw = (pen: Pen, _: number, x: number, y: number, w: number, h: number): void => tickBox(pen, x + w / 2, y + h / 2, 4);
  const sign = signOf(kit);
  flow.table([
    { title: [''], width: 8, draw },
    { title: ['station', `from tail ${sign}`], width: 19, face: 'bold' },
    { title: ['along rail', `from tail ${sign}`], width: 19 },
    { title: ['along rail', `from nose ${sign}`], width: 19 },
    { title: [''], width: 16, align: 'centre', face: 'bold', size: 8.5 },
    { title: ['what'], width: 49, align: 'left' },
    { title: ['until', sign], width: 18 },
    { title: [''], width: flow.width - 148, align: 'left', size: 10 },
  ], events.map((e) => ['', len(kit, e.x), len(kit, e.s), len(kit, total - e.s), SIGNS[e.kind], e.edge === undefined ? e.what : `${e.what}: ${textOf(e.detail, kit.stamp.unit)}`, e.until === undefined ? '' : len(kit, e.until, 0), [e.side === 'both' ? '' : `${e.side} only`, textOf(e.edge ?? e.detail, kit.stamp.unit)].filter(Boolean).join(', ')]), {
    rowHeight: 4.7, size: 9.5, stress: (i) => events[i].kind === 'rib',
  });
}

/** The rail unrolled, and what is met on the way. */
export function unrolledChapter(kit: Kit): void {
  const { flow, plan, parts } = kit;
  flow.chapter('From tail to nose: stops, joints and methods', 86);
  unrolled(kit);
  flow.need(38);
  bevelCurve(kit);
  flow.space(2);
  flow.text('A row stops at the upper edge of its square cut; where the sole slopes its lower edge lies farther on.', 9);
  eventList(kit, railEvents(plan, parts));
}

/** Zones of every strip: by which method each stretch is brought to its curve. */
export function bendChapter(kit: Kit): void {
  const { flow, parts } = kit;
  if (parts.bending.length === 0) return;
  flow.chapter('Bending: by which method, how long to heat', 11);
  bendLegend(flow.pen, flow.left, flow.y + 4);
  flow.space(8);
  const sign = signOf(kit);
  const lines = parts.bending.flatMap((bent) => bent.zones.map((zone) => ({ bent, zone })));
  flow.table([
    { title: ['strip'], width: 40, align: 'left', face: 'bold' },
    { title: ['method'], width: 32, align: 'left', face: 'bold', size: 10 },
    { title: ['along rail', `from tail ${sign}`], width: 20 },
    { title: ['to', sign], width: 20 },
    { title: ['wrap', sign], width: 18, face: 'bold' },
    { title: ['least radius', sign], width: 22 },
    { title: ['strain', '%'], width: 17 },
    { title: ['wet limit', '%'], width: flow.width - 169 },
  ], lines.map(({ bent, zone }) => [
    stripName(bent.strip), bendText(zone), len(kit, zone.s0, 0), len(kit, zone.s1, 0), isHeated(zone) ? len(kit, zone.wrap, 0) : '–',
    zone.radius < 20000 ? len(kit, zone.radius, 0) : 'straight', (zone.strain * 100).toFixed(2), (bent.limits.wet * 100).toFixed(2),
  ]), { stress: (i) => lines[i].zone.method !== 'cold', rowHeight: 5, size: 10 });
  for (const { strip, advice } of parts.bending) {
    if (!advice || (advice.thickness === undefined && advice.width === undefined)) continue;
    const ways = [
      ...(advice.thickness !== undefined ? [`laminate it from layers no thicker than ${lenUnit(kit, Math.floor(advice.thickness * 10) / 10)}`] : []),
      ...(advice.width !== undefined ? [`rip it no wider than ${lenUnit(kit, Math.floor(advice.width * 10) / 10)}`] : []),
    ];
    flow.text(`${stripName(strip)}: where no accepted method bends it, ${ways.join(', or ')}.`, 10.5, 'bold');
  }
  const trials = trialWords(kit.plan.design, kit.stamp.unit);
  if (trials !== '') flow.text(trials, 10, 'bold');
  lieTableOf(kit);
  flow.space(2);
  flow.text('Strain is at the worst corner of the strip, edgewise and flatwise bending added. Wrap: the zone and a margin at each end, to be kept hot and wet. Bend at once, clamp from the middle of the zone outward, and leave it clamped until it is cold and dry. Steam scalds: gloves, long sleeves, a vented box.', 9.5);
  const steam = steamText(parts);
  if (steam !== '') flow.text(textOf(steam, kit.stamp.unit), 10, 'bold');
}
