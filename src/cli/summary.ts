/** The rail summary: what `npm run plan` prints and what a builder pins above the bench. */
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import type { Parts } from '../../geometry/parts/types';
import { allFindings, decisionsOf, told } from '../../geometry/rail/decisions';
import type { Finding, Plan, RailSection, RibAtRail } from '../../geometry/types';
import { totalNotes } from '../papers/listTables';
import { findingFigures, findingPlace } from '../say/findings';
import { textOf } from '../say/said';
import { trialWords } from '../say/bendWords';
import { boxText, SEVERITY_WORDS, STOP_CAUSES } from '../say/words';
import { degrees, millimetres, tableText } from './table';

function findingText(plan: Plan, finding: Finding): string {
  const { level, title, advice } = finding;
  const place = findingPlace(plan, finding);
  const where = place === undefined ? '' : `, ${textOf(place, 'mm')}`;
  const figures = findingFigures(finding);
  return `  ${SEVERITY_WORDS[level].toUpperCase().padEnd(11)} ${textOf(title, 'mm')}${where}${figures === undefined ? '' : `: ${textOf(figures, 'mm')}`}\n${' '.repeat(14)}${textOf(advice, 'mm')}`;
}

/** One column of the rib table: which figure of a section, and how it is written. */
interface SectionColumn {
  readonly heading: string;
  readonly field: keyof RailSection;
  /** From the kernel's figure to the one shown: mm as they are, radians in degrees. */
  shown(value: number, plan: Plan): number;
}

const same = (value: number): number => value;
const inDegrees = (value: number): number => (value * 180) / Math.PI;

/** The figures of a place on the rail. */
const SECTION_COLUMNS: readonly SectionColumn[] = [
  { heading: 'station', field: 'x', shown: same },
  { heading: 'along rail', field: 's', shown: same },
  { heading: 'from nose', field: 's', shown: (s, plan) => plan.rail.face.length - s },
  { heading: 'gap', field: 'gap', shown: same },
  { heading: 'rows', field: 'rows', shown: same },
  { heading: 'slot', field: 'slot', shown: same },
  { heading: 'bevel', field: 'bevel', shown: inDegrees },
  { heading: 'at station', field: 'stationBevel', shown: inDegrees },
  { heading: 'rise', field: 'bevel', shown: (bevel, plan) => plan.design.rail.stripWidth * Math.tan(bevel) },
  { heading: 'planing', field: 'planing', shown: same },
  { heading: 'cap left', field: 'capLeft', shown: same },
  { heading: 'cover', field: 'cover', shown: same },
];

/** One rib's row: its own station, and the section where the rib-end line crosses it. */
function ribRow(rib: RibAtRail, plan: Plan): string[] {
  const cells = SECTION_COLUMNS.map(({ field, heading, shown }) => {
    if (field === 'x') return millimetres(rib.x);
    const value = shown(rib.section[field], plan);
    if (field === 'rows') return String(value);
    return heading === 'rise' ? `${millimetres(value)}:${plan.design.rail.stripWidth}` : millimetres(value);
  });
  return [`rib ${rib.index + 1}`, ...cells];
}

function sizes(plan: Plan): string {
  const { design, hull, rail } = plan;
  const r = design.rail;
  const ends = { round: 'round', meets: 'pointed', open: 'square' };
  const meets = [
    ...(rail.meets.tail ? [`${millimetres(rail.meets.tail.x)} mm from the tail`] : []),
    ...(rail.meets.nose ? [`${millimetres(hull.length - rail.meets.nose.x)} mm from the nose`] : []),
  ];
  const { bevel, gap, cover, planing } = rail.range;
  return [
    `  Length ${millimetres(hull.length)} mm, half-breadth ${millimetres(hull.widest.halfBreadth)} mm, ${millimetres(hull.widest.x)} mm from the tail, volume ${(hull.volume / 1e6).toFixed(1)} l`,
    `  Strip ${r.stripWidth} wide: sole ${r.soleThickness}, cap ${r.capThickness}; spacer ${r.spacerWidth} x ${r.spacerHeight}, up to ${r.rows} ${r.rows === 1 ? 'row' : 'rows'}; outer skins ${r.outerLayers} x ${r.outerThickness} mm`,
    `  Box face ${millimetres(rail.face.length)} mm along the rail, each side; tail ${ends[rail.face.tail.kind]}, nose ${ends[rail.face.nose.kind]}`,
    ...(meets.length > 0 ? [`  The two sides' boxes meet ${meets.join(' and ')}`] : []),
    `  Sole from ${millimetres(rail.sole.s0)} to ${millimetres(rail.sole.s1)} mm along the rail, cap from ${millimetres(rail.cap.s0)} to ${millimetres(rail.cap.s1)}`,
    `  Hollow ${(rail.hollowVolume / 1e6).toFixed(2)} l each side`,
    `  Gap ${millimetres(gap.min)} to ${millimetres(gap.max)} mm, bevel ${degrees(bevel.min)} to ${degrees(bevel.max)} degrees, planing depth at most ${millimetres(planing.max)} mm, cover at least ${millimetres(cover.min)} mm`,
    ...(design.trials ? [`  ${trialWords(design, 'mm')}`] : []),
  ].join('\n');
}

/** What the board weighs, with glue and the maker's own weights, where it balances, and the hollow against the solid. */
function weights(parts: Parts): string[] {
  const { totals } = parts;
  if (!totals) return [];
  const { mass, glue, boardMass, hollowRail, solidRail } = totals;
  return [
    '', 'Weight',
    `  Timber ${mass.toFixed(2)} kg, glue left in it ${glue.left.toFixed(2)} kg, board ${boardMass.toFixed(2)} kg; rails hollow ${hollowRail.mass.toFixed(2)} kg, solid ${solidRail.mass.toFixed(2)} kg`,
    ...totalNotes(parts).map((note) => `  ${textOf(note, 'mm')}`),
  ];
}

/** What bending alone finds, which takes a small part of the time that all parts do. */
const bendingAlone = (plan: Plan) => ({ findings: told(bendingFindings(plan, planBending(plan)), plan.design, plan.hull.length) });

/**
 * The rail summary of a plan as text: sizes, rows with their stops from both ends, states along the rail, a
 * table by rib, and the findings. Where the plan's parts are not made, those of bending stand for them, and the
 * text says so. Millimetres and degrees. Ends with a newline.
 */
export function summaryText(plan: Plan, parts?: Parts): string {
  const { design, hull, rail } = plan;
  const findings = allFindings(plan, parts ?? bendingAlone(plan));
  const rows = rail.rows.map((row) => [
    String(row.row),
    millimetres(row.tail.x), millimetres(row.tail.s), STOP_CAUSES[row.tail.cause],
    millimetres(hull.length - row.nose.x), millimetres(rail.face.length - row.nose.s), STOP_CAUSES[row.nose.cause],
    millimetres(row.length),
    row.tabs.map((i) => i + 1).join(' '),
  ]);
  const states = rail.stretches.map((t) => [
    boxText(t),
    millimetres(t.s0), millimetres(t.s1), millimetres(t.s1 - t.s0),
  ]);
  const ribs = rail.ribs.map((rib) => ribRow(rib, plan));
  const none = '  none';
  return [
    `${design.name}, revision ${design.revision}`,
    sizes(plan),
    '',
    'Spacer rows, from the sole up: where the upper edge of each square-cut end stops, measured from the nearer end (mm)',
    rows.length === 0 ? none
    : tableText(['row', 'from tail', 'along rail', 'cause', 'from nose', 'along rail', 'cause', 'length', 'tabs at ribs'], rows),
    '',
    'State of the box along the rail, from the tail (mm)',
    tableText(['state', 'from', 'to', 'length'], states),
    '',
    'By rib (mm, degrees; station from the tail, then along the rail from the tail and from the nose; rise of the deck over the strip width)',
    ribs.length === 0 ? none : tableText(['', ...SECTION_COLUMNS.map((c) => c.heading)], ribs),
    '',
    parts ? 'Findings' : 'Findings of rail and bending (--json and --out add those of joints, skin blanks, frames and totals)',
    findings.length === 0 ? none : findings.map((f) => findingText(plan, f)).join('\n'),
    `To decide: ${decisionsOf(findings, hull.length).length}`,
    ...(parts ? weights(parts) : []),
    '',
  ].join('\n');
}
