/** What the work is held to and stood on: templates of the rail round at ribs and stops, and supports that carry the rocker. */
import { loopArea, reversed } from '../curves/polygon';
import { panelAt, panelProbe } from '../hull/panel';
import { sectionDrawing } from '../rail/query';
import type { Plan } from '../types';
import { blockTemplates } from './blockTemplates';
import { ribHalf } from './ends';
import { labelIn } from './label';
import type { FlatShape, JigPart } from './types';

/** How far inboard of the rib-end line a template of the round rests on deck and bottom, and its timber outside the round, mm: own choice. */
const REST = 30;
const BODY = 24;
/** Half the width of a rocker support, its least height, and the least distance from one to the next, mm: own choice. */
const SUPPORT_HALF = 85;
const LEAST_SUPPORT = 35;
const SUPPORTS_APART = 300;
/** Shares of the length where supports stand on a board without ribs. */
const WITHOUT_RIBS = [0.15, 0.4, 0.65, 0.9];
/** Points along a support's upper edge. */
const POINTS = 32;

const ccw = (loop: Float64Array): Float64Array => (loopArea(loop) < 0 ? reversed(loop) : loop);

/** A template that slides onto the rail from outboard: the finished section square to the rail, cut out of a plate. */
function roundAt(plan: Plan, s: number, id: string, label: string): JigPart {
  const drawing = sectionDrawing(plan, s);
  const { finished } = drawing;
  const inner: number[] = [];
  const put = (o: number, z: number) => inner.push(o, z);
  for (let i = 0; i + 1 < finished.length; i += 2) {
    const [o, z] = [finished[i], finished[i + 1]];
    const before = i > 0 ? finished[i - 2] : o;
    // Where the line crosses the template's rest, it is cut off there.
    if (i > 0 && before < -REST !== o < -REST) {
      const t = (-REST - before) / (o - before);
      put(-REST, finished[i - 1] + t * (z - finished[i - 1]));
    }
    if (o >= -REST) put(o, z);
  }
  const [os, zs] = [0, 1].map((k) => inner.filter((_, i) => i % 2 === k));
  const [o0, o1, z0, z1] = [Math.min(...os), Math.max(...os) + BODY, Math.min(...zs) - BODY, Math.max(...zs) + BODY];
  const shape: FlatShape = {
    outline: ccw(Float64Array.from([...inner, o0, z1, o1, z1, o1, z0, o0, z0])), holes: [],
    marks: labelIn([label.toUpperCase(), `${drawing.x.toFixed(0)} FROM TAIL`], o0 + 2, Math.max(...zs) + 3, o1 - 2, z1 - 2),
  };
  return { id, label, place: { s, x: drawing.x }, shape };
}

/** Templates of the finished rail round, tail to nose: at every rib and at every end of a row. */
function rounds(plan: Plan): JigPart[] {
  const { ribs, rows } = plan.rail;
  const places = [
    ...ribs.map(({ s, index }) => ({ s, id: `rib-${index + 1}`, label: `Round at rib ${index + 1}` })),
    ...rows.flatMap((row, i) => [row.tail, row.nose].map(({ s, end }) => ({ s, id: `row-${row.row}-${end}-${i + 1}`, label: `Round at row ${row.row}, ${end} stop` }))),
  ];
  return places.sort((a, b) => a.s - b.s).map(({ s, id, label }) => roundAt(plan, s, `round-${id}`, label));
}

/** Stations of the rocker supports: ribs, the first and the last among them. */
function supportStations({ design, hull }: Plan): number[] {
  const { ribs } = design.frames;
  if (ribs.length === 0) return WITHOUT_RIBS.map((share) => share * hull.length);
  const last = ribs[ribs.length - 1];
  const chosen: number[] = [];
  for (const x of ribs) if (chosen.length === 0 || (x - chosen[chosen.length - 1] >= SUPPORTS_APART && last - x >= SUPPORTS_APART)) chosen.push(x);
  return last > chosen[chosen.length - 1] ? [...chosen, last] : chosen;
}

/** How far the supports lift the board above the heights of its lines, mm: whole fives. */
export function supportLift(plan: Plan): number {
  const least = Math.min(...supportStations(plan).map((x) => panelAt(plan.hull.bottom, x, 0, panelProbe()).z));
  return Math.max(0, 5 * Math.ceil((LEAST_SUPPORT - least) / 5));
}

/** Supports that the bottom skin is laid and glued up on: plates across the board, in its stations' planes, from the bench up. */
function supports(plan: Plan): JigPart[] {
  const { hull, design } = plan;
  const lift = supportLift(plan);
  const half = design.frames.ribThickness / 2;
  return supportStations(plan).map((x, i): JigPart => {
    const reach = Math.min(SUPPORT_HALF, Math.max(10, ribHalf(plan, x)));
    const probe = panelProbe();
    const top: number[] = [];
    for (let k = 0; k <= POINTS; k++) {
      const y = reach * (1 - (2 * k) / POINTS);
      // Over the plate's whole thickness: the lower of its two faces carries.
      const p = panelAt(hull.bottom, x, Math.abs(y), probe);
      top.push(y, p.z + lift - Math.abs(p.zx) * half);
    }
    const mid = top[POINTS + 1];
    const rib = design.frames.ribs.indexOf(x);
    return {
      id: `support-${i + 1}`, label: rib < 0 ? `Support ${i + 1}` : `Support at rib ${rib + 1}`, place: { x },
      shape: {
        outline: ccw(Float64Array.from([-reach, 0, reach, 0, ...top])), holes: [],
        marks: [{ kind: 'line', points: Float64Array.from([0, 0, 0, mid]) }, ...labelIn([`${rib < 0 ? `SUPPORT ${i + 1}` : `SUPPORT R${rib + 1}`} ${x.toFixed(0)}`, 'TAIL SIDE'], 3, 3, reach - 3, mid - 6)],
      },
    };
  });
}

/** All of them. */
export const planJigs = (plan: Plan): { rounds: JigPart[]; supports: JigPart[]; blocks: JigPart[] } =>
  ({ rounds: rounds(plan), supports: supports(plan), blocks: blockTemplates(plan) });
