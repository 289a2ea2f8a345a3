/** Deck and bottom skin glued up from planks: how they lie, where they butt, what each is cut to, and the order of gluing. */
import { boundsOf } from '../../../../geometry/curves/polygon';
import { glueUpWords } from '../../../../geometry/parts/skinPlanks';
import type { PanelPlan } from '../../../../geometry/parts/types';
import { list } from '../../../../geometry/said';
import { textOf } from '../../../say/said';
import { tickBox } from '../flow';
import { len, lenUnit, type Kit } from './kit';

const NAMES = { deck: 'Deck skin', bottom: 'Bottom skin' } as const;

/** Space between two skins side by side, and between the pieces of a list, mm. */
const GAP = 6;

/** One skin seen from the deck, tail left and starboard below: planks with their numbers and butts, the oversize outline thick, the finished one thin. */
function panelDrawing({ flow: { pen } }: Kit, { shape, pieces }: PanelPlan, left: number, top: number, k: number): void {
  const { x0, y0, y1 } = boundsOf(shape.outline);
  const x = (u: number): number => left + (u - x0) * k;
  const y = (v: number): number => top + (v - y0) * k;
  const drawn = (points: ArrayLike<number>): Float64Array => Float64Array.from(points, (v, i) => (i % 2 === 0 ? x(v) : y(v)));
  for (const { number, u0, u1, v0, v1 } of pieces) {
    const [low, high] = [Math.max(v0, y0), Math.min(v1, y1)];
    pen.rect(x(u0), y(low), (u1 - u0) * k, (high - low) * k, { width: 0.2, fill: number % 2 === 0 ? 0.95 : 1 });
    pen.text(x((u0 + u1) / 2), y((low + high) / 2) + 1, String(number), { size: Math.min(9, (high - low) * k * 2.4), face: 'bold', align: 'centre' });
  }
  pen.path(drawn(shape.outline), { closed: true, width: 0.5 });
  const [net] = shape.marks;
  if (net) pen.path(drawn(net.points), { closed: true, width: 0.15 });
}

/** The skins that are glued up from planks, on half a page or so; nothing where they are bought as panels. */
export function panelChapter(kit: Kit): void {
  const { flow, parts: { skins } } = kit;
  if (!skins) return;
  const wide = (flow.width - GAP) / 2;
  const boxes = skins.panels.map(({ shape }) => boundsOf(shape.outline));
  const k = wide / Math.max(...boxes.map(({ x0, x1 }) => x1 - x0));
  const tall = Math.max(...boxes.map(({ y0, y1 }) => y1 - y0)) * k;
  flow.chapter('Cut: deck and bottom skin from planks', tall + 24);
  flow.text(`${skins.planks.length} planks ${len(kit, skins.length, 0)} x ${lenUnit(kit, skins.width, 0)}, grain along the board. Thick line: sawn to it once glued; thin: the finished outline. Seen from the deck, tail left, starboard below: write each piece's number on the face that looks up.`, 8.5);
  flow.space(1);
  flow.need(tall + 7);
  skins.panels.forEach((panel, i) => {
    const left = flow.left + i * (wide + GAP);
    flow.fitted(left, flow.y + 4, wide, `${NAMES[panel.panel]}: ${panel.strakes} wide, each ${len(kit, panel.wide)} x ${lenUnit(kit, panel.thickness)}`, 10.5, 'bold');
    panelDrawing(kit, panel, left, flow.y + 5.5, k);
  });
  flow.space(tall + 8);
  // Each piece with its length and its plank, three side by side; planks that butt in one strake stand one after another.
  const pieces = skins.panels.flatMap((panel) => panel.pieces);
  const column = (flow.width - 2 * GAP) / 3;
  const rows = Math.ceil(pieces.length / 3);
  for (let row = 0; row < rows; row++) {
    flow.need(4.6);
    [0, 1, 2].forEach((c) => {
      const piece = pieces[row + c * rows];
      if (!piece) return;
      const x = flow.left + c * (column + GAP);
      tickBox(flow.pen, x + 2, flow.y + 2.3, 3.2);
      flow.fitted(x + 5.5, flow.y + 3.8, 24, `${piece.number}: ${len(kit, piece.length)}`, 10, 'bold');
      flow.fitted(x + 30, flow.y + 3.8, column - 30, `plank ${piece.plank}, ${len(kit, piece.u0, 0)} to ${len(kit, piece.u1, 0)}`, 8.5);
    });
    flow.space(4.6);
  }
  const [bottom, deck] = (['bottom', 'deck'] as const).map((panel) => textOf(list(glueUpWords(skins, panel)), kit.stamp.unit));
  const alike = bottom.replace('bottom', 'deck') === deck;
  flow.text(alike ? `${bottom} The deck skin likewise.` : `${bottom} ${deck}`, 8.5);
}
