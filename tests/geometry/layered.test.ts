/** Outer skins bent in layers: as many blanks as layers, each its share of the thickness, laid out, bought, milled and priced so. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loopArea } from '../../geometry/curves/polygon';
import { planBlanks } from '../../geometry/parts/blanks';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import { blankTable, shopTable } from '../../src/papers/listTables';
import { millTable } from '../../src/papers/millTable';
import { columnAt } from '../../src/papers/tables';
import { mmText } from '../support/said';
import { seedDesign } from './boards';

let plan: Plan;
let parts: Parts;
beforeAll(async () => {
  plan = planBoard(seedDesign('long-275.board.json'));
  parts = await planParts(plan);
});
const piecesOf = ({ blanks }: Pick<Parts, 'blanks'>) => blanks.flatMap(({ pieces }) => pieces);

describe('a skin in layers', () => {
  it('is as thick as it is drawn, and no blank thinner than may be laid up (1.5 mm, own choice)', () => {
    const layered = piecesOf(parts).filter(({ layers }) => layers > 1);
    expect(layered.length).toBeGreaterThan(0);
    for (const piece of piecesOf(parts)) {
      expect(piece.layers * piece.thickness).toBeCloseTo(plan.design.rail.outerThickness, 9);
      expect(piece.layers).toBe(Math.max(1, ...(piece.partings ?? []).map(({ n }) => n)));
      expect(piece.thickness).toBeGreaterThan(1.5 - 1e-9);
    }
  });

  it('lies on boards of its own thickness, every blank of it once', () => {
    const boards = parts.boards?.boards ?? [];
    for (const piece of piecesOf(parts)) {
      const laid = boards.flatMap((board) => board.pieces.filter(({ layer, index }) => layer === piece.layer && index === piece.index).map((placed) => ({ ...placed, thickness: board.thickness })));
      expect(laid).toHaveLength(piece.count * piece.layers);
      expect(new Set(laid.map(({ copy, blank }) => `${copy} ${blank}`)).size).toBe(laid.length);
      for (const { thickness } of laid) expect(thickness).toBe(piece.thickness);
    }
  });

  it('takes as much finished timber as it would whole, and more boards', () => {
    const whole = planBlanks(plan);
    const timber = (of: Pick<Parts, 'blanks' | 'boards'>) => (of.boards?.boards ?? []).flatMap((board) => board.pieces.map(({ layer, index }) => {
      const piece = of.blanks.find((blank) => blank.layer === layer)?.pieces[index];
      return piece ? Math.abs(loopArea(piece.shape.outline)) * board.thickness : Number.NaN;
    })).reduce((sum, volume) => sum + volume, 0);
    expect(timber(parts)).toBeCloseTo(timber(whole), 3);
    expect(parts.boards?.boards.length).toBeGreaterThan(whole.boards?.boards.length ?? Infinity);
  });

  it('is bought, priced, listed and milled so', () => {
    const boards = parts.boards?.boards ?? [];
    const shop = shopTable(plan, parts);
    const bought = shop.rows.filter((row) => /^Board .*outer skins/.test(mmText(row[columnAt(shop, 'item')] ?? '')));
    expect(bought.reduce((sum, row) => sum + Number(row[columnAt(shop, 'needed')]), 0)).toBe(boards.length);
    expect(bought.some((row) => mmText(row[columnAt(shop, 'item')] ?? '').includes('in layers'))).toBe(true);
    const price = boards.reduce((sum, { type }) => sum + plan.design.timber.boards[type].price, 0);
    expect(parts.totals?.parts.find(({ part }) => part === 'outer skins')?.cost).toBeCloseTo(price, 9);
    const list = blankTable(plan, parts);
    const many = list.rows.map((row) => Number(row[columnAt(list, 'how many')]));
    expect(many.reduce((sum, n) => sum + n, 0)).toBe(boards.reduce((sum, board) => sum + board.pieces.length, 0));
    const mill = millTable(plan, parts);
    const milled = mill.rows.filter((row) => /^Outer skin .* layers$/.test(mmText(row[columnAt(mill, 'for')] ?? '')));
    expect(milled.reduce((sum, row) => sum + Number(row[columnAt(mill, 'strips')]), 0))
      .toBe(piecesOf(parts).filter(({ layers }) => layers > 1).reduce((sum, { count, layers }) => sum + count * layers, 0));
  });
});
