/**
 * Two sides that were measured: two corrected rails, and cut list, joints and steps that read each side's own. Held
 * against the board as drawn, and against the two sides planned each alone. The project's own rules.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import type { Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { applyReadings } from '../../geometry/trust/asBuilt';
import type { Reading } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import type { Side } from '../../geometry/types';
import { mmText } from '../support/said';
import { seedDesign } from './boards';

const plan = planBoard(seedDesign('child-155.board.json'));
const { ribs, rows: drawn } = plan.rail;
/** A side whose cap is thicker, and of one rib higher: its rows are shorter. */
const thick = (side: Side): Reading[] => [{ of: 'batch', side, cap: plan.design.rail.capThickness + 0.4 }, { of: 'rib', rib: ribs[2].index + 1, side, sole: plan.design.rail.soleThickness + 0.3 }];
const builtOf = (...readings: Reading[]) => (side: Side) => applyReadings(plan, { ...noReadings(plan.design.name, plan.design.revision), readings }, side).plan;

let solver: MilpSolver;
let [asDrawn, alike, apart, portOnly]: Parts[] = [];
const both = builtOf(...thick('starboard'), ...thick('port'));
const portAlone = builtOf(...thick('port'));
beforeAll(async () => {
  solver = await loadMilp();
  const of = (built: object) => planParts(plan, { solver, built });
  asDrawn = await of({});
  alike = await of({ starboard: both('starboard'), port: both('port') });
  apart = await of({ starboard: builtOf({ of: 'batch', side: 'starboard', cap: plan.design.rail.capThickness - 0.3 })('starboard'), port: portAlone('port') });
  portOnly = await of({ port: portAlone('port') });
}, 240_000);

/** Whole length of the spacer rows of a side, by its cut list. */
const cut = ({ joints }: Parts, side: Side) => (joints?.pieces ?? []).filter((p) => p.side === side && p.strip.kind === 'row').reduce((sum, p) => sum + (p.s1 - p.s0), 0);
const rowsOf = (of: typeof plan) => of.rail.rows.reduce((sum, row) => sum + row.length, 0);
const step = ({ steps }: Parts, title: string) => steps.find((s) => s.title === title) ?? steps[0];
const words = (of: Parts, title: string) => step(of, title).checks.map(({ what }) => mmText(what));

describe('sides measured alike', () => {
  it('are two equal rails, and every piece of the one has its twin on the other', () => {
    expect(both('port').rail).toEqual(both('starboard').rail);
    const lengths = (side: Side) => (alike.joints?.pieces ?? []).filter((p) => p.side === side).map((p) => p.strip.kind + p.strip.order).sort();
    expect(lengths('port')).toEqual(lengths('starboard'));
    expect(cut(alike, 'port')).toBeCloseTo(cut(alike, 'starboard'), 6);
    expect(alike.findings.filter(({ code }) => code === 'not-made')).toEqual([]);
  });

  it('are cut as measured, not as drawn', () => {
    expect(Math.abs(rowsOf(both('starboard')) - rowsOf(plan))).toBeGreaterThan(5);
    expect(cut(alike, 'starboard')).toBeCloseTo(rowsOf(both('starboard')), 0);
    expect(cut(asDrawn, 'starboard')).toBeCloseTo(rowsOf(plan), 0);
    expect(mmText(step(alike, 'The other side').text)).toContain('Both sides were measured');
    expect(words(alike, 'Fair the box to the deck').filter((what) => /^(Port|Starboard): /.test(what))).toEqual([]);
  });
});

describe('sides that differ', () => {
  it('are cut each to its own rows, from one stock', () => {
    const [starboard, port] = [cut(apart, 'starboard'), cut(apart, 'port')];
    expect(port).toBeCloseTo(rowsOf(portAlone('port')), 0);
    expect(starboard).toBeGreaterThan(port + 5);
    const { pieces = [], stockLengths = [] } = apart.joints ?? {};
    expect(stockLengths.flatMap((s) => s.pieces).sort((a, b) => a - b)).toEqual(pieces.map((_, i) => i));
    for (const stock of stockLengths) expect(stock.waste).toBeGreaterThanOrEqual(-1e-6);
    expect(apart.joints?.proof.optimal).toBe(true);
    expect(pieces).toHaveLength(apart.joints?.proof.pieceBound ?? 0);
  });

  it('are told apart in the steps, each figure for its side', () => {
    const bevels = words(apart, 'Clean the rib ends');
    expect(bevels.some((what) => what.startsWith('Starboard: '))).toBe(true);
    expect(bevels.filter((what) => what.startsWith('Starboard: ')).map((what) => what.replace('Starboard', 'Port')).every((what) => bevels.includes(what))).toBe(true);
    const ports = step(apart, 'The other side').checks.filter(({ what }) => mmText(what).startsWith('Port: '));
    const stops = portAlone('port').rail.rows.flatMap(({ tail, nose }) => [tail.upper.s, nose.upper.s]);
    for (const s of stops) expect(ports.some(({ value }) => Math.abs(value - s) < 1e-6)).toBe(true);
    // The steps of starboard are starboard's alone.
    expect(words(apart, 'Spacer rows').some((what) => /^(Port|Starboard): /.test(what))).toBe(false);
  });
});

describe('one side measured', () => {
  it('leaves the other as drawn, and says so', () => {
    expect(cut(portOnly, 'starboard')).toBeCloseTo(rowsOf(plan), 0);
    expect(cut(portOnly, 'port')).toBeCloseTo(rowsOf(portAlone('port')), 0);
    expect(mmText(step(portOnly, 'The other side').text)).toContain('Starboard was not measured: its figures are as drawn.');
    const rows = step(portOnly, 'Spacer rows').checks.map(({ value }) => value);
    expect(rows.some((value) => Math.abs(value - drawn[0].tail.upper.s) < 1e-9)).toBe(true);
  });

  it('every step has an id of its own, which is the same with and without readings', () => {
    const ids = asDrawn.steps.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(portOnly.steps.map(({ id }) => id)).toEqual(ids);
    for (const id of ids) expect(id).toMatch(/^[a-z][a-z0-9-]+$/);
  });
});
