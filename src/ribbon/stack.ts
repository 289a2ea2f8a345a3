/** The stack on the ribbon: sole, tabs, rows with their stops, hollow and cap; its labels lie over all else. */
import { nothing, svg } from 'lit-html';
import { stopsOf } from '../../geometry/rail/laid';
import type { BoxState, Plan, Stop, StripName } from '../../geometry/types';
import type { AsBuilt } from '../../geometry/trust/types';
import { boxText, nearerEnd, stopReason } from '../say/words';
import { lengthText, lengthWithUnit, type Unit } from '../say/units';
import { type Pin, pinned } from './decisionPins';
import { lineSamples, px, type RibbonScale } from './scale';
import css from './Stack.module.css';

/** Px a letter takes, to see whether a name has room. */
const LETTER = 5.6;
/** Least px of a row's height in which its name is read. */
const LETTERED_ROW = 9.5;
/** States of the box that nothing else on the ribbon tells. */
const TOLD: readonly BoxState[] = ['closed', 'none', 'meet'];

/** Px that a letter of a stop's figure takes, its height, and how far it stands from the stop. */
const FIGURE = { letter: 6.7, height: 13, off: 4, pad: 3 };

interface Figure {
  readonly stop: Stop;
  readonly text: string;
  /** What it says beside it: the figure as drawn. */
  readonly beside: string;
  readonly left: number;
  readonly width: number;
  readonly y: number;
}

/** The stop as drawn of one as built that moved; undefined where it did not. */
export function drawnStop(plan: Plan, built: AsBuilt, stop: Stop): Stop | undefined {
  const moved = built.changes.find((c) => c.what === 'stop' && c.row === stop.row && c.end === stop.end && c.is === stop.s);
  return moved && stopsOf(plan.rail).find((was) => was.row === stop.row && was.end === stop.end && was.s === moved.was);
}

/** The figures of the stops that have room, lowest rows first: beyond the row's end, or over the row where the ribbon ends. */
function stopFigures(plan: Plan, scale: RibbonScale, unit: Unit, was: (stop: Stop) => Stop | undefined): ReadonlyMap<Stop, Figure> {
  const { soleThickness, spacerHeight } = plan.design.rail;
  const nearer = (x: number) => lengthText(Math.min(x, plan.hull.length - x), unit, 0);
  const out = new Map<Stop, Figure>();
  for (const stop of stopsOf(plan.rail)) {
    const drawn = was(stop);
    const [text, beside] = [nearer(stop.x), drawn ? ` drawn ${nearer(drawn.x)}` : ''];
    const width = text.length * FIGURE.letter + beside.length * LETTER + 2 * FIGURE.pad;
    const [at, y] = [scale.at(stop.x), scale.z(soleThickness + (stop.row - 0.5) * spacerHeight)];
    const places = [at - FIGURE.off - width, at + FIGURE.off];
    if (stop.end === 'nose') places.reverse();
    const left = places.find((from) => from >= scale.left - 30 && from + width <= scale.right + 20) ?? places[0];
    const clear = [...out.values()].every((other) => Math.abs(other.y - y) >= FIGURE.height - 1 || left >= other.left + other.width || other.left >= left + width);
    if (clear) out.set(stop, { stop, text, beside, left, width, y });
  }
  return out;
}

/** The strips, tabs and hollow, and the ribs' numbers but for those under a pin. `onPlace`: a click on what leads to a run; `picked`: the strip in accent. */
export function stackDrawing(plan: Plan, scale: RibbonScale, unit: Unit, pins: readonly Pin[], onPlace: (s: number) => void, picked: StripName | null) {
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
  const half = Math.max(1, ((scale.at(1) - scale.at(0)) * design.frames.ribThickness) / 2);
  const rowHeight = scale.z(0) - scale.z(spacerHeight);
  return svg`
    ${under ? svg`<path class=${css.hollow} d="${under}V${floor}H${px(scale.x(s[inBox[0]]))}Z"></path>` : nothing}
    ${rail.ribs.map((rib) => {
      const x = scale.at(rib.x);
      return svg`<g class=${css.tab} data-leads="true" @click=${() => onPlace(rib.s)}>
      <title>${`Rib ${rib.index + 1}: ${nearerEnd(plan, rib.x, unit)}, gap ${lengthText(rib.gap, unit)}, ${rib.rows} rows`}</title>
      ${rib.hasTab ? svg`<rect x=${px(x - half)} width=${px(2 * half)} y=${px(scale.z(sole + Math.max(0, rib.gap)))} height=${px(Math.max(0, scale.z(sole) - scale.z(sole + rib.gap)))}></rect>` : nothing}
      ${pinned(pins, x) ? nothing : svg`<text x=${px(x)} y=${scale.headBottom - 8}>${rib.index + 1}</text><path d="M${px(x)} ${scale.headBottom - 4}v5"></path>`}
    </g>`;
    })}
    ${rail.rows.map((row) => {
      const [x0, x1] = [scale.at(row.tail.x), scale.at(row.nose.x)];
      const [name, y] = [`row ${row.row}`, scale.z(sole + row.row * spacerHeight)];
      const lettered = rowHeight >= LETTERED_ROW && x1 - x0 > name.length * LETTER + 8;
      return svg`<g class=${css.row} ?data-picked=${picked?.kind === 'row' && picked.order === row.row}>
      <rect x=${px(x0)} width=${px(x1 - x0)} y=${px(y)} height=${px(rowHeight)}></rect>
      ${lettered ? svg`<text x=${px((x0 + x1) / 2)} y=${px(y + rowHeight / 2 + 3.5)}>${name}</text>` : nothing}
    </g>`;
    })}
    <rect class=${css.strip} ?data-picked=${picked?.kind === 'sole'} x=${px(scale.x(rail.sole.s0))} width=${px(scale.x(rail.sole.s1) - scale.x(rail.sole.s0))} y=${floor} height=${px(scale.z(0) - scale.z(sole))}></rect>
    ${under ? svg`<path class=${css.strip} ?data-picked=${picked?.kind === 'cap'} d="${under}${over}Z"></path>` : nothing}`;
}

/** Names of states and figures of the stops. `was`: the stop as drawn of one that stands elsewhere as built. */
export function stackLabels(plan: Plan, scale: RibbonScale, unit: Unit, onPlace: (s: number) => void, was: (stop: Stop) => Stop | undefined) {
  const { rail, design } = plan;
  const { soleThickness: sole, spacerHeight } = design.rail;
  const figures = stopFigures(plan, scale, unit, was);
  return svg`
    ${rail.stretches.filter(({ state }) => TOLD.includes(state)).map((stretch) => {
      const [x0, x1] = [scale.x(stretch.s0), scale.x(stretch.s1)];
      const name = boxText(stretch);
      return svg`<g class=${css.state} data-state=${stretch.state}>
        <title>${`${name}: ${lengthText(stretch.s0, unit, 0)} to ${lengthWithUnit(stretch.s1, unit, 0)} along the rail`}</title>
        <line x1=${px(x0)} x2=${px(x1)} y1=${px(scale.stackBottom + 2)} y2=${px(scale.stackBottom + 2)}></line>
        ${x1 - x0 > name.length * LETTER + 6 ? svg`<text x=${px((x0 + x1) / 2)} y=${px(scale.z(sole / 2) + 3)}>${name}</text>` : nothing}
      </g>`;
    })}
    ${rail.rows.flatMap((row) => [row.tail, row.nose].map((stop) => {
      const x = px(scale.at(stop.x));
      const figure = figures.get(stop);
      return svg`<g class=${css.stop} data-leads="true" @click=${() => onPlace(stop.s)}>
        <title>${stopReason(stop, unit)}</title>
        ${[true, false].map((casing) => svg`<line ?data-casing=${casing} x1=${x} x2=${x} y1=${px(scale.z(sole + row.row * spacerHeight) - 2)} y2=${px(scale.z(sole + (row.row - 1) * spacerHeight))}></line>`)}
        ${figure ? svg`<rect x=${px(figure.left)} width=${px(figure.width)} y=${px(figure.y - FIGURE.height / 2)} height=${FIGURE.height}></rect>
        <text x=${px(figure.left + FIGURE.pad)} y=${px(figure.y + 4)}>${figure.text}${figure.beside ? svg`<tspan class=${css.drawn}>${figure.beside}</tspan>` : nothing}</text>` : nothing}
      </g>`;
    }))}`;
}
