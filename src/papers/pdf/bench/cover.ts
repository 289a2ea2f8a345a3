/** First page: whose bench sheet this is, the board in plan and profile, its key figures, safety and findings. */
import { breaks, evalSpline } from '../../../../geometry/curves/bspline';
import { speciesById } from '../../../../geometry/design/timber';
import { panelAt, panelProbe } from '../../../../geometry/hull/panel';
import { allFindings } from '../../../../geometry/rail/decisions';
import { stopsOf } from '../../../../geometry/rail/laid';
import { nearestSample } from '../../../../geometry/rail/samples';
import type { Finding, Plan } from '../../../../geometry/types';
import { findingPlace } from '../../../say/findings';
import { textOf } from '../../../say/said';
import { fixed } from '../../../say/units';
import { unitName } from '../../stamp';
import { SEVERITY_WORDS } from '../../../say/words';
import { codesLine } from './codes';
import { deg, len, lenUnit, type Kit } from './kit';

/** Outline points, tail to nose, (x, half-breadth). */
export function outlinePoints(plan: Plan, n = 160): number[] {
  const spans = breaks(plan.hull.outline.knots);
  const end = spans[spans.length - 1];
  const at = new Float64Array(6);
  const basis = new Float64Array(12);
  const out: number[] = [];
  for (let i = 0; i <= n; i++) {
    evalSpline(plan.hull.outline, (end * i) / n, at, basis);
    out.push(at[0], at[1]);
  }
  return out;
}

/** Rocker and deck on the centreline, (x, z), there and back. */
export function profilePoints(plan: Plan, n = 120): number[] {
  const probe = panelProbe();
  const at = (face: 'bottom' | 'deck', i: number): number[] => {
    const x = (plan.hull.length * i) / n;
    return [x, panelAt(plan.hull[face], x, 0, probe).z];
  };
  const steps = Array.from({ length: n + 1 }, (_, i) => i);
  return [...steps.flatMap((i) => at('bottom', i)), ...steps.reverse().flatMap((i) => at('deck', i))];
}

/** Plan and profile to one scale, tail left; ribs by number, box face, stops of the rows. Advances the flow. */
function boardDrawing(kit: Kit): void {
  const { flow, plan } = kit;
  const { pen } = flow;
  const k = flow.width / plan.hull.length;
  const half = plan.hull.widest.halfBreadth * k;
  const middle = flow.y + half + 5;
  const px = (x: number): number => flow.left + x * k;
  const outline = outlinePoints(plan);
  const side = (sign: 1 | -1, points: ArrayLike<number>): Float64Array =>
    Float64Array.from(points, (v, i) => (i % 2 === 0 ? px(v) : middle + sign * v * k));
  const port = side(-1, outline);
  const star = side(1, outline);
  const whole = [...star];
  for (let i = port.length - 2; i >= 0; i -= 2) whole.push(port[i], port[i + 1]);
  pen.path(whole, { fill: 0.97, width: 0.5 });
  pen.line(flow.left - 2, middle, flow.left + flow.width + 2, middle, { width: 0.12, dash: [6, 1.5, 1, 1.5] });
  const { samples, ribs } = plan.rail;
  const face: number[] = [];
  const every = Math.max(1, Math.floor(samples.n / 200));
  for (let i = 0; i < samples.n; i += every) face.push(samples.x[i], samples.y[i]);
  face.push(samples.x[samples.n - 1], samples.y[samples.n - 1]);
  for (const sign of [1, -1] as const) pen.path(side(sign, face), { width: 0.2 });
  for (const rib of ribs) {
    pen.line(px(rib.x), middle - rib.ribY * k, px(rib.x), middle + rib.ribY * k, { width: 0.35 });
    pen.circle(px(rib.x), middle, 2.7, { fill: 1, width: 0.25 });
    pen.text(px(rib.x), middle + 1.15, String(rib.index + 1), { size: 9, face: 'bold', align: 'centre' });
  }
  for (const stop of stopsOf(plan.rail)) {
    const i = nearestSample(samples, stop.s);
    for (const sign of [1, -1]) pen.circle(px(samples.x[i]), middle + sign * samples.y[i] * k, 0.9, { fill: 0, bare: true });
  }
  pen.text(flow.left, middle - half - 1.2, 'TAIL', { size: 8, face: 'bold' });
  pen.text(flow.left + flow.width, middle - half - 1.2, 'NOSE', { size: 8, face: 'bold', align: 'right' });
  flow.y = middle + half + 4;
  const profile = profilePoints(plan);
  const top = Math.max(...profile.filter((_, i) => i % 2 === 1));
  const bench = flow.y + top * k + 2;
  pen.path(Float64Array.from(profile, (v, i) => (i % 2 === 0 ? px(v) : bench - v * k)), { fill: 0.93, width: 0.4 });
  pen.line(flow.left, bench, flow.left + flow.width, bench, { width: 0.2, grey: 0.5 });
  flow.y = bench + 4.5;
  pen.text(flow.left, flow.y, 'Above: seen from the deck, starboard below. Numbers: ribs. Dots: where a spacer row starts or stops. Below: from the side, on the bench.', { size: 7.5, grey: 0.25 });
  flow.space(4);
}

function keyFigures(kit: Kit): [string, string][] {
  const { plan, parts } = kit;
  const { design, hull, rail } = plan;
  const r = design.rail;
  const species = (id: string): string => speciesById(design, id).name;
  const tallest = rail.rows.reduce((most, row) => Math.max(most, row.row), 0);
  const totals = parts.totals;
  return [
    ['length', lenUnit(kit, hull.length, 0)],
    ['width', lenUnit(kit, 2 * hull.widest.halfBreadth, 0)],
    ['volume', `${fixed(hull.volume / 1e6, 1)} l`],
    ['mass of timber', totals ? `${fixed(totals.mass, 2)} kg` : '–'],
    ['rail length, one side', lenUnit(kit, rail.face.length, 0)],
    ['ribs', String(rail.ribs.length)],
    ['sole and cap', `${len(kit, r.stripWidth)} x ${len(kit, r.soleThickness)} and ${lenUnit(kit, r.capThickness)}`],
    ['spacer rows', `${tallest} of ${len(kit, r.spacerWidth)} x ${lenUnit(kit, r.spacerHeight)}`],
    ['outer skins', `${r.outerLayers} x ${lenUnit(kit, r.outerThickness)}`],
    ['skins, bottom and deck', `${len(kit, design.skins.bottom)} and ${lenUnit(kit, design.skins.deck)}`],
    ['bevel', `${deg(rail.range.bevel.min)} to ${deg(rail.range.bevel.max)}`],
    ['greatest planing depth', lenUnit(kit, rail.range.planing.max)],
    ['rail timber', species(design.timber.rail)],
    ['outer-skin timber', species(design.timber.outer)],
    ['gap', `${len(kit, rail.range.gap.min)} to ${lenUnit(kit, rail.range.gap.max)}`],
    ['least cover', lenUnit(kit, rail.range.cover.min)],
  ];
}

const CAUTIONS = [
  'Wear eye protection at every cut, a dust mask fit for fine wood dust, and gloves at the steamer: steam scalds, and so does a strip fresh from it. Never seal a steam box; let it vent.',
  'Guards on, blade still before you reach. Glue and varnish: read the makers\' data sheets, air the room, keep oily rags wet and outdoors.',
  'Local rules and the makers\' instructions come before this paper. The finished board is not a lifesaving device.',
];

function findingLine(kit: Kit, finding: Finding): string {
  const place = findingPlace(kit.plan, finding);
  return `${textOf(finding.title, kit.stamp.unit)}${place === undefined ? '' : ` (${textOf(place, kit.stamp.unit)})`}. ${textOf(finding.advice, kit.stamp.unit)}`;
}

/** Width of a finding's severity, mm. */
const SIGN = 23;

/** Findings, in their order. */
function findingsChapter(kit: Kit, findings: readonly Finding[]): void {
  const { flow } = kit;
  for (const finding of findings) {
    flow.need(10);
    const black = finding.level === 'cannot';
    flow.pen.rect(flow.left, flow.y + 0.6, SIGN, 4.6, { fill: black ? 0 : 1, width: 0.3 });
    flow.pen.text(flow.left + SIGN / 2, flow.y + 4.1, SEVERITY_WORDS[finding.level].toUpperCase(), { size: 8, face: 'bold', align: 'centre', grey: black ? 1 : 0 });
    flow.text(findingLine(kit, finding), 8.5, 'regular', SIGN + 2);
    flow.space(1.2);
  }
}

/** The whole first page, and the findings, which may run on. */
export function coverChapter(kit: Kit): void {
  const { flow, plan, stamp } = kit;
  flow.space(4);
  flow.fitted(flow.left, flow.y + 7, flow.width, stamp.board, 25, 'bold');
  flow.space(12);
  flow.pen.text(flow.left, flow.y + 2, `Revision ${stamp.revision || 'none'}   ·   ${stamp.date}   ·   all figures in ${unitName(stamp.unit)}`, { size: 13 });
  flow.space(7);
  if (flow.pen.respells(stamp.board)) flow.text('This print lacks letters of the board\'s name; the board file keeps them.', 8.5, 'oblique');
  boardDrawing(kit);
  const figures = keyFigures(kit);
  const columns = 4;
  const wide = flow.width / columns;
  const high = 10.6;
  figures.forEach(([label, value], i) => {
    const x = flow.left + (i % columns) * wide;
    const y = flow.y + Math.floor(i / columns) * high;
    flow.pen.rect(x, y, wide, high, { width: 0.15, grey: 0.5 });
    flow.pen.text(x + 1.8, y + 3.5, label, { size: 8, grey: 0.25 });
    flow.fitted(x + 1.8, y + 8.7, wide - 3.6, value, 13, 'bold');
  });
  flow.space(Math.ceil(figures.length / columns) * high + 3);
  if (plan.design.note) flow.text(plan.design.note, 9, 'oblique', 0, 0.2);
  flow.text(codesLine(kit), 9);
  flow.space(2);
  flow.heading('Safety first', 20);
  for (const caution of CAUTIONS) {
    flow.text(caution, 9.5);
    flow.space(0.6);
  }
  const findings = allFindings(plan, kit.parts);
  flow.heading(findings.length === 0 ? 'Findings: none' : 'Findings', 10);
  findingsChapter(kit, findings);
}
