/** From three curves and their companions to a lofted hull. */
import type { Spline } from '../curves/bspline';
import { graphSpline } from '../curves/graph';
import { parameterAtX } from '../curves/station';
import type { Design, LengthCurveName } from '../design/schema';
import type { Hull, Panel } from '../types';
import { graphInflections, loftError, outlineInflections } from './fairness';
import { loft, loftKnots, loftParameters } from './loft';
import { buildOutline, widestPoint } from '../curves/outline';
import { PANEL_COLUMNS, ROUND_COLUMNS, bottomSection, deckSection, roundSection } from './sections';
import { panelOf } from './panel';
import { hullVolume } from './volume';

const LENGTH_CURVES: readonly LengthCurveName[] = [
  'rocker', 'thickness', 'crown', 'concave', 'vee', 'apex', 'fullness', 'tuck', 'turn',
];

/** Longest step between lofted sections, mm along the outline. Named in the fairness report by its error. */
export const LOFT_STEP = 48;

/**
 * Build the hull: the outline and length curves as splines, panels lofted through station sections, the rail
 * round through sections square to the outline. Throws a BuildError for an outline that folds or crosses.
 */
export function buildHull(design: Design, step = LOFT_STEP): Hull {
  const outline = buildOutline(design.lines.outline);
  const lines = Object.fromEntries(LENGTH_CURVES.map((name) => [name, graphSpline(design.lines[name])])) as Record<LengthCurveName, Spline>;
  const corners = LENGTH_CURVES.flatMap((name) => design.lines[name].points.slice(1, -1).filter((p) => p.corner).map((p) => p.x));
  const knots = loftKnots(outline.knots, corners.map((x) => parameterAtX(outline, x)), step);
  const parameters = loftParameters(knots);
  const skin = (rule: (u: number, out: Float64Array, at: number) => void, columns: number): Spline => {
    const rows = new Float64Array(parameters.length * columns);
    for (let i = 0; i < parameters.length; i++) rule(parameters[i], rows, i * columns);
    return loft(knots, rows, columns);
  };
  const deckRule = (u: number, out: Float64Array, at: number) => deckSection(outline, lines, u, out, at);
  const bottomRule = (u: number, out: Float64Array, at: number) => bottomSection(outline, lines, u, out, at);
  const deck: Panel = panelOf(skin(deckRule, PANEL_COLUMNS));
  const bottom: Panel = panelOf(skin(bottomRule, PANEL_COLUMNS));
  const roundRule = (u: number, out: Float64Array, at: number) => roundSection({ outline, lines, deck, bottom }, u, out, at);
  const round = skin(roundRule, ROUND_COLUMNS);
  const { points } = outline;
  return {
    length: points[points.length - 2],
    outline,
    lines,
    deck,
    bottom,
    round,
    widest: widestPoint(outline),
    fairness: {
      loftError: Math.max(loftError(deck.spline, deckRule, parameters), loftError(bottom.spline, bottomRule, parameters)),
      inflections: {
        outline: outlineInflections(outline),
        rocker: graphInflections(lines.rocker),
        thickness: graphInflections(lines.thickness),
      },
    },
    ...hullVolume(deck, bottom, round),
  };
}
