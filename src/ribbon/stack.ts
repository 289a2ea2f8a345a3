/** The stack on the ribbon: sole, tabs, rows with their stops, hollow and cap; its labels lie over all else. */
import { nothing, svg } from 'lit-html';
import { stopsOf } from '../../geometry/rail/rows';
import type { Plan, Stop } from '../../geometry/types';
import { boxText, nearerEnd, stopReason } from '../say/words';
import { lengthText, lengthWithUnit, type Unit } from '../say/units';
import { lineSamples, px, type RibbonScale } from './scale';
import css from './Stack.module.css';

/** Px a letter of the state names takes, to see whether a name has room. */
const LETTER = 5.6;

/** Px that a stop's figure takes, and the drawn one beside it. */
const FIGURE = { width: 30, drawn: 62, height: 11 };

/** Which way from its stop a figure stands, -1 to the left: beyond the row's end, or over the row where the ribbon ends. */
function figureWay(stop: Stop, scale: RibbonScale): 1 | -1 {
  const toward = stop.end === 'tail' ? -1 : 1;
  const at = scale.x(stop.s) + toward * 40;
  return at < scale.left || at > scale.right ? (-toward as 1 | -1) : toward;
}

/** The stops whose figures have room, lowest rows first; px that the figures take. */
function legibleStops(plan: Plan, scale: RibbonScale, width: number): Set<Stop> {
  const { soleThickness, spacerHeight } = plan.design.rail;
  const placed: { x: number; y: number }[] = [];
  const out = new Set<Stop>();
  for (const stop of stopsOf(plan.rail)) {
    const x = scale.x(stop.s) + (figureWay(stop, scale) * width) / 2;
    const y = scale.z(soleThickness + (stop.row - 0.5) * spacerHeight);
    if (placed.some((other) => Math.abs(other.x - x) < width && Math.abs(other.y - y) < FIGURE.height)) continue;
    placed.push({ x, y });
    out.add(stop);
  }
  return out;
}

/** The strips, tabs and hollow. `onPlace`: a click on what leads to a run. */
export function stackDrawing(plan: Plan, scale: RibbonScale, unit: Unit, onPlace: (s: number) => void) {
  const { rail, design } = plan;
  const { soleThickness: sole, capThickness: cap, spacerHeight } = design.rail;
  const { s, gap } = rail.samples;
  const low = (i: number) => scale.z(sole + Math.max(0, gap[i]));
  const inBox = lineSamples(plan, scale, rail.cap.s0, rail.cap.s1, low);
  const up = scale.z(0) - scale.z(cap);
  let under = '';
  let over = '';
  for (const i of inBox) {
    const [x, y] = [px(scale.x(s[i])), low(i)];
    under += `${under ? 'L' : 'M'}${x} ${px(y)}`;
    over = `L${x} ${px(y - up)}${over}`;
  }
  const floor = px(scale.z(sole));
  const half = Math.max(1, ((scale.x(1) - scale.x(0)) * design.frames.ribThickness) / 2);
  return svg`
    ${under ? svg`<path class=${css.hollow} d="${under}V${floor}H${px(scale.x(s[inBox[0]]))}Z"></path>` : nothing}
    ${rail.ribs.map((rib) => svg`<g class=${css.tab} data-leads="true" @click=${() => onPlace(rib.s)}>
      <title>${`Rib ${rib.index + 1}: ${nearerEnd(plan, rib.x, unit)}, gap ${lengthText(rib.gap, unit)}, ${rib.rows} rows`}</title>
      ${rib.hasTab ? svg`<rect x=${px(scale.x(rib.s) - half)} width=${px(2 * half)} y=${px(scale.z(sole + Math.max(0, rib.gap)))} height=${px(Math.max(0, scale.z(sole) - scale.z(sole + rib.gap)))}></rect>` : nothing}
      <text x=${px(scale.x(rib.s))} y=${scale.stackTop - 7}>${rib.index + 1}</text>
    </g>`)}
    ${rail.rows.map((row) => svg`<rect class=${css.row} x=${px(scale.x(row.tail.s))} width=${px(scale.x(row.nose.s) - scale.x(row.tail.s))}
      y=${px(scale.z(sole + row.row * spacerHeight))} height=${px(scale.z(0) - scale.z(spacerHeight))}></rect>`)}
    <rect class=${css.strip} x=${px(scale.x(rail.sole.s0))} width=${px(scale.x(rail.sole.s1) - scale.x(rail.sole.s0))} y=${floor} height=${px(scale.z(0) - scale.z(sole))}></rect>
    ${under ? svg`<path class=${css.strip} d="${under}${over}Z"></path>` : nothing}`;
}

/** Names of the states and figures of the stops. `was`: the stop as drawn of one that stands elsewhere as built. */
export function stackLabels(plan: Plan, scale: RibbonScale, unit: Unit, onPlace: (s: number) => void, was: (stop: Stop) => Stop | undefined) {
  const { rail, design, hull } = plan;
  const { soleThickness: sole, spacerHeight } = design.rail;
  const legible = legibleStops(plan, scale, rail.rows.some(({ tail, nose }) => was(tail) ?? was(nose)) ? FIGURE.width + FIGURE.drawn : FIGURE.width);
  const nearer = (x: number) => lengthText(Math.min(x, hull.length - x), unit, 0);
  return svg`
    ${rail.stretches.map((stretch) => {
      const [x0, x1] = [scale.x(stretch.s0), scale.x(stretch.s1)];
      const name = boxText(stretch);
      return svg`<g class=${css.state} data-state=${stretch.state}>
        <title>${`${name}: ${lengthText(stretch.s0, unit, 0)} to ${lengthWithUnit(stretch.s1, unit, 0)} along the rail`}</title>
        <line x1=${px(x0)} x2=${px(x1)} y1=${px(scale.stackBottom + 3)} y2=${px(scale.stackBottom + 3)}></line>
        ${x1 - x0 > name.length * LETTER + 6 ? svg`<text x=${px((x0 + x1) / 2)} y=${px(scale.z(sole / 2) + 3)}>${name}</text>` : nothing}
      </g>`;
    })}
    ${rail.rows.flatMap((row) => [row.tail, row.nose].map((stop) => {
      const drawn = was(stop);
      const x = px(scale.x(stop.s));
      const way = figureWay(stop, scale);
      return svg`<g class=${css.stop} data-leads="true" @click=${() => onPlace(stop.s)}>
        <title>${stopReason(stop, unit)}</title>
        <line x1=${x} x2=${x} y1=${px(scale.z(sole + row.row * spacerHeight) - 2)} y2=${px(scale.z(sole + (row.row - 1) * spacerHeight))}></line>
        ${legible.has(stop) ? svg`<text x=${px(x + way * 5)} y=${px(scale.z(sole + (row.row - 0.5) * spacerHeight) + 4)} text-anchor=${way < 0 ? 'end' : 'start'}>${nearer(stop.x)}${
          drawn ? svg`<tspan class=${css.drawn}> drawn ${nearer(drawn.x)}</tspan>` : nothing}</text>` : nothing}
      </g>`;
    }))}`;
}
