/** Ribs and stringer as parts for the laser: cutting lines, labels, and their places on the sheets. */
import { boundsOf, leastWidthBox, loopArea, turned } from '../curves/polygon';
import { numbered } from '../rail/decisions';
import type { BlockPart, FlatShape, FramePart, Nest } from './types';
import { said, size } from '../said';
import type { Finding, Plan, RibAtRail } from '../types';
import { planBlocks } from './blocks';
import { arrowMark, labelIn, type Mark } from './label';
import { fitsSheet, packItems, type PackRules } from './pack';
import { LABEL_LAND, cutRibs, notchHalf, type CutRib, type RibFault, type RibShape } from './ribProfile';
import { CLOSELY } from './weighing';
import { FINGER_HALF, layStringer, splitStringer, stringerShape, type PieceEnd, type StringerPlan, type StringerSplit } from './stringer';

type Draft = Omit<Finding, 'id'>;

/** Least space between parts on a sheet and along its edges, mm, besides the kerf; own choice. */
const PART_SPACE = 3;
/** Where grain tells, a part's least-width box lies along it and is never turned farther than this, radians: common practice, no source. */
const GRAIN_LIMIT = Math.PI / 4;
/** A rib end cut square that leaves more than this open at its far face is sanded to the box, mm; own choice. */
const OPEN_END = 1;

/** What `planFrames` returns. */
export interface FramePlan {
  readonly frames: FramePart[];
  /** Absent where no part fits a sheet. */
  readonly nest?: Nest;
  /** Solid blocks at the ends. */
  readonly blocks: BlockPart[];
  readonly findings: Finding[];
}

/** Every frame part, ribs from the tail, then the stringer's pieces; their nest, the blocks, and what to know about them. */
export function planFrames(plan: Plan): FramePlan {
  const drafts: Draft[] = [];
  const { ribs: shapes, faults } = cutRibs(plan);
  const frames: FramePart[] = shapes.map(({ rib, shape }) => ribPart(plan, rib, shape, drafts));
  const stringer = layStringer(plan, shapes);
  frames.push(...stringerParts(plan, stringer, drafts));
  for (const { rib, fault } of faults) drafts.push(faultFinding(plan, rib, fault));
  ribFindings(plan, shapes, drafts);
  const nest = nestFrames(plan, frames, drafts);
  const { blocks, findings } = planBlocks(plan);
  drafts.push(...findings);
  return { frames, ...(nest ? { nest } : {}), blocks, findings: numbered(drafts) };
}

/** Station as a label writes it: millimetres from the tail, no more decimals than it has. */
const stationText = (x: number): string => String(Number(x.toFixed(1)));

function ribPart(plan: Plan, rib: RibAtRail, shape: RibShape, drafts: Draft[]): FramePart {
  const { half, floor } = shape.notch;
  const land = half + Math.min(LABEL_LAND, shape.end - half) - 1;
  const name = `R${rib.index + 1} ${stationText(rib.x)}`;
  const marks: Mark[] = labelIn([name, 'TAIL SIDE'], -land, floor + 1, land, shape.deck - 1);
  if (marks.length === 0) {
    drafts.push({
      code: 'label-room', level: 'note', title: said('No room for the label of rib {rib}', { rib: rib.index + 1 }), place: { s: rib.s, x: rib.x },
      advice: 'Write its number on by hand as it comes off the laser.',
    });
  }
  // Up, beside the notch, where the rib is solid from edge to edge.
  const at = half + Math.min(LABEL_LAND, shape.end - half) / 2;
  marks.push(arrowMark(at, shape.bottom + (floor - shape.bottom) * 0.3, at, shape.bottom + (floor - shape.bottom) * 0.9));
  return {
    id: `rib-${rib.index + 1}`, kind: 'rib', rib: rib.index, label: `Rib ${rib.index + 1}`, thickness: plan.design.frames.ribThickness,
    shape: { outline: shape.outline, holes: shape.holes, marks },
  };
}

/** The room a laser's sheet gives: margins taken off. Parts are turned a quarter only where the face grain does not matter. */
function sheetRules(plan: Plan): PackRules {
  const { sheet, kerf } = plan.design.frames;
  const space = PART_SPACE + kerf;
  return { length: sheet.length, width: sheet.width, gap: space, border: space, turns: plan.design.frames.grain === 'either' };
}

/** The stringer split for the sheets as they are turned, and the longest piece that they hold. */
function splitForSheets(plan: Plan, stringer: StringerPlan): StringerSplit & { readonly long: number } {
  const { length, width, border, turns } = sheetRules(plan);
  const [long, short] = (turns ? [Math.max(length, width), Math.min(length, width)] : [length, width]).map((side) => side - 2 * border);
  return { ...splitStringer(plan, stringer, long, short, turns ? undefined : GRAIN_LIMIT), long };
}

/** Volume of ribs and stringer as `planFrames` cuts them, mm3, without their labels, sheets and blocks; as closely as is said. */
export function framesVolume(plan: Plan, { rounding, inner } = CLOSELY): number {
  const { ribs } = cutRibs(plan, rounding, inner);
  const stringer = layStringer(plan, ribs, inner);
  const { ends } = splitForSheets(plan, stringer);
  const { ribThickness, stringerThickness } = plan.design.frames;
  return ribThickness * ribs.reduce((sum, { shape }) => sum + shapeArea(shape), 0)
    + stringerThickness * ends.slice(1).reduce((sum, to, i) => sum + shapeArea(stringerShape(plan, stringer, ends[i], to, rounding)), 0);
}

function stringerParts(plan: Plan, stringer: StringerPlan, drafts: Draft[]): FramePart[] {
  const { ends, fits, long } = splitForSheets(plan, stringer);
  if (!fits) {
    drafts.push({
      code: 'stringer-sheet', level: 'check', unit: 'mm', figure: stringer.x1 - stringer.x0, limit: long,
      title: said('The stringer cannot be split to fit a sheet of {sheet}', { sheet: size(plan.design.frames.sheet.length, plan.design.frames.sheet.width) }),
      advice: 'Use a larger sheet, or leave more room between two ribs for a joint.',
    });
  }
  return ends.slice(1).map((to, i) => {
    const from = ends[i];
    const shape = stringerShape(plan, stringer, from, to);
    const many = ends.length > 2;
    const name = many ? `STRINGER ${i + 1}` : 'STRINGER';
    const marks = stringerMarks(plan, stringer, from, to, name);
    return {
      id: many ? `stringer-${i + 1}` : 'stringer', kind: 'stringer', label: many ? `Stringer, piece ${i + 1}` : 'Stringer',
      thickness: plan.design.frames.stringerThickness, shape: { ...shape, marks },
    };
  });
}

/** Rib numbers under their notches, the part's name at its tail end, an arrow toward the tail. */
function stringerMarks(plan: Plan, stringer: StringerPlan, from: PieceEnd, to: PieceEnd, name: string): Mark[] {
  const web = plan.design.frames.leastWeb;
  const here = stringer.crossings.filter((c) => c.x > from.x && c.x < to.x);
  const marks: Mark[] = here.flatMap((c) => {
    const reach = c.half + web - 1;
    const low = Math.max(stringer.low(c.x - reach), stringer.low(c.x + reach));
    return labelIn([`R${c.rib + 1}`], c.x - reach, low + 1, c.x + reach, c.floor - 1);
  });
  // The web over the bottom edge is solid all along: the name and the arrow go in it, in the widest bay.
  const stands = [from.x + (from.fingers ? FINGER_HALF : 0), ...here.map((c) => c.x), to.x - (to.fingers ? FINGER_HALF : 0)];
  let widest = 0;
  for (let i = 0; i + 1 < stands.length; i++) if (stands[i + 1] - stands[i] > stands[widest + 1] - stands[widest]) widest = i;
  const mid = (stands[widest] + stands[widest + 1]) / 2;
  const reach = Math.min(30, (stands[widest + 1] - stands[widest]) / 2 - web);
  if (reach > 5) {
    const floor = (a: number, b: number) => Math.max(stringer.low(a), stringer.low((a + b) / 2), stringer.low(b)) + 0.5;
    const roof = (a: number, b: number) => Math.min(stringer.low(a), stringer.low((a + b) / 2), stringer.low(b)) + web - 0.5;
    marks.push(...labelIn([`${name} TAIL`], mid - reach * 0.4, floor(mid - reach * 0.4, mid + reach), mid + reach, roof(mid - reach * 0.4, mid + reach)));
    const z = (floor(mid - reach, mid - reach * 0.5) + roof(mid - reach, mid - reach * 0.5)) / 2;
    marks.push(arrowMark(mid - reach * 0.5, z, mid - reach, z));
  }
  return marks;
}

function faultFinding(plan: Plan, rib: RibAtRail, fault: RibFault): Draft {
  const narrow = fault === 'narrow';
  return {
    code: narrow ? 'rib-narrow' : 'rib-thin', level: 'check', place: { s: rib.s, x: rib.x }, unit: 'mm',
    title: said(narrow ? 'Rib {rib} is no wider than its notch over the stringer: it is left out' : 'Rib {rib} has no height left between the skins: it is left out', { rib: rib.index + 1 }),
    advice: narrow ? 'Move it toward the middle of the board, or leave this end to the block.' : 'Make the board thicker here, or its skins thinner.',
    figure: narrow ? rib.ribY : rib.section.depth, limit: narrow ? notchHalf(plan, plan.design.frames.stringerThickness) : 0,
  };
}

/** Ends to sand, notches that leave little, tabs without room. */
function ribFindings(plan: Plan, shapes: readonly CutRib[], drafts: Draft[]): void {
  const { frames } = plan.design;
  let steep: { rib: RibAtRail; open: number } | undefined;
  for (const { rib, shape } of shapes) {
    const place = { s: rib.s, x: rib.x };
    const open = Math.abs(rib.section.ty / rib.section.tx) * frames.ribThickness;
    if (open > OPEN_END && (!steep || open > steep.open)) steep = { rib, open };
    if (rib.hasTab && !shape.tab) {
      drafts.push({
        code: 'tab-low', level: 'check', title: said('Rib {rib} has no room for a tab over its whole thickness', { rib: rib.index + 1 }), place,
        figure: rib.gap, limit: 0, unit: 'mm', advice: 'Space the strips by hand here, or use a thinner rib.',
      });
    }
    const left = shape.deck - shape.notch.floor;
    if (left < frames.leastWeb) {
      drafts.push({
        code: 'notch-web', level: 'note', title: said('Little is left over the notch of rib {rib}', { rib: rib.index + 1 }), place,
        figure: left, limit: frames.leastWeb, unit: 'mm', advice: 'Handle it with care until it is glued to the stringer.',
      });
    }
  }
  if (steep) {
    drafts.push({
      code: 'rib-end-open', level: 'note', unit: 'mm', figure: steep.open, limit: OPEN_END, place: { s: steep.rib.s, x: steep.rib.x },
      title: 'Square-cut rib ends touch the box at one face only; most so here',
      advice: 'Sand the rib end to the line of the strip, or fill the wedge with thickened glue.',
    });
  }
  if (notchHalf(plan, 0) < 0) {
    drafts.push({
      code: 'notch-tight', level: 'note', unit: 'mm', figure: frames.notchFit, limit: 0, title: 'Half-lap notches are tighter than their sheet is thick',
      advice: 'Ease them with a file; try one pair before cutting all.',
    });
  }
}

/** Net area of a shape, holes taken out, mm2. */
export const shapeArea = (shape: Pick<FlatShape, 'outline' | 'holes'>): number =>
  Math.abs(loopArea(shape.outline)) - shape.holes.reduce((sum, h) => sum + Math.abs(loopArea(h)), 0);

/**
 * Lay the parts on sheets of their own thickness by their boxes, ribs square to the sheet, stringer pieces along
 * their least-width box first; the face grain, along the sheet, runs along every part unless it does not matter. A part goes to its place by turning its shape by `turn` about its own origin and then moving it
 * by (x, y). Parts larger than the sheet are listed and said.
 */
function nestFrames(plan: Plan, frames: readonly FramePart[], drafts: Draft[]): Nest | undefined {
  const rules = sheetRules(plan);
  const { sheet } = plan.design.frames;
  const items = frames.map((part) => {
    const lay = part.kind === 'stringer' ? leastWidthBox(part.shape.outline, rules.turns ? undefined : GRAIN_LIMIT).turn : 0;
    const b = boundsOf(turned(part.shape.outline, lay));
    return { part, lay, width: b.x1 - b.x0, height: b.y1 - b.y0 };
  });
  const unplaced = items.filter((item) => !fitsSheet(item, rules));
  for (const { part, width, height } of unplaced) {
    const rib = part.rib;
    const across = fitsSheet({ width, height }, { ...rules, turns: true });
    drafts.push(across ? {
      code: 'sheet-grain', level: 'check', unit: 'mm', figure: width, limit: sheet.length - 2 * rules.border,
      title: said('{part} is {own} and fits a sheet of {sheet} only across its face grain', { part: part.label, own: { ...size(width, height), decimals: 1 }, sheet: size(sheet.length, sheet.width) }),
      advice: 'Use a longer sheet, cut this part by hand from its template, or say that the face grain does not matter.',
      ...(rib === undefined ? {} : { place: { x: plan.design.frames.ribs[rib] } }),
    } : {
      code: 'sheet-small', level: 'check', unit: 'mm', figure: Math.max(width, height), limit: Math.max(sheet.length, sheet.width) - 2 * rules.border,
      title: said('{part} is {own}; a sheet of {sheet} does not hold it with its margins', {
        part: part.label, own: { ...size(width, height), decimals: 1 }, sheet: size(sheet.length, sheet.width),
      }),
      advice: 'Use a larger sheet, or cut this part by hand from its template.',
      ...(rib === undefined ? {} : { place: { x: plan.design.frames.ribs[rib] } }),
    });
  }
  const fits = items.filter((item) => fitsSheet(item, rules));
  if (fits.length === 0) return undefined;
  const sheets = [...new Set(fits.map(({ part }) => part.thickness))].flatMap((thickness) => {
    const fit = fits.filter(({ part }) => part.thickness === thickness);
    return packItems(fit, rules).map((bin) => ({
      length: sheet.length, width: sheet.width, thickness,
      parts: bin.map(({ index, x, y, turned: quarter }) => {
        const { part, lay } = fit[index];
        const turn = lay + (quarter ? Math.PI / 2 : 0);
        const b = boundsOf(turned(part.shape.outline, turn));
        return { id: part.id, x: x - b.x0, y: y - b.y0, turn };
      }),
      yield: bin.reduce((sum, { index }) => sum + shapeArea(fit[index].part.shape), 0) / (sheet.length * sheet.width),
    }));
  });
  return {
    sheets, unplaced: unplaced.map(({ part }) => part.id),
    yield: sheets.reduce((sum, s) => sum + s.yield, 0) / sheets.length,
  };
}
