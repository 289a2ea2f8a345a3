/** The sampled rail: one typed array per field of a section. */
import type { RailSamples, RailSection } from '../types';
import { SECTION_FIELDS } from './section';

/** Room for n samples `step` mm apart, all zero. */
export function emptySamples(n: number, step: number): RailSamples {
  const fields = Object.fromEntries(SECTION_FIELDS.map((f) => [f, new Float64Array(n)])) as Record<keyof RailSection, Float64Array>;
  return { n, step, ...fields };
}

/** Write a section into sample i. Spelled out, as is its twin below: a loop over names costs ten times as much. */
export function storeSample(to: RailSamples, i: number, from: RailSection): void {
  to.s[i] = from.s; to.u[i] = from.u; to.x[i] = from.x; to.y[i] = from.y; to.tx[i] = from.tx; to.ty[i] = from.ty;
  to.nx[i] = from.nx; to.ny[i] = from.ny; to.kappa[i] = from.kappa; to.ribX[i] = from.ribX; to.ribY[i] = from.ribY;
  to.deckRib[i] = from.deckRib; to.deckFace[i] = from.deckFace; to.bottomRib[i] = from.bottomRib;
  to.bottomFace[i] = from.bottomFace; to.capSlope[i] = from.capSlope; to.soleSlope[i] = from.soleSlope;
  to.depth[i] = from.depth; to.gap[i] = from.gap; to.soleBottom[i] = from.soleBottom; to.soleTop[i] = from.soleTop;
  to.capBottom[i] = from.capBottom; to.capTop[i] = from.capTop; to.bevel[i] = from.bevel;
  to.stationBevel[i] = from.stationBevel; to.soleBevel[i] = from.soleBevel; to.planing[i] = from.planing;
  to.capLeft[i] = from.capLeft; to.solePlaning[i] = from.solePlaning; to.soleLeft[i] = from.soleLeft;
  to.deckHollow[i] = from.deckHollow; to.soleHollow[i] = from.soleHollow; to.rows[i] = from.rows; to.slot[i] = from.slot;
  to.hollowArea[i] = from.hollowArea; to.cover[i] = from.cover; to.boxCover[i] = from.boxCover;
}

/** Read sample i back into a section; returns it. */
export function loadSample(from: RailSamples, i: number, to: RailSection): RailSection {
  to.s = from.s[i]; to.u = from.u[i]; to.x = from.x[i]; to.y = from.y[i]; to.tx = from.tx[i]; to.ty = from.ty[i];
  to.nx = from.nx[i]; to.ny = from.ny[i]; to.kappa = from.kappa[i]; to.ribX = from.ribX[i]; to.ribY = from.ribY[i];
  to.deckRib = from.deckRib[i]; to.deckFace = from.deckFace[i]; to.bottomRib = from.bottomRib[i];
  to.bottomFace = from.bottomFace[i]; to.capSlope = from.capSlope[i]; to.soleSlope = from.soleSlope[i];
  to.depth = from.depth[i]; to.gap = from.gap[i]; to.soleBottom = from.soleBottom[i]; to.soleTop = from.soleTop[i];
  to.capBottom = from.capBottom[i]; to.capTop = from.capTop[i]; to.bevel = from.bevel[i];
  to.stationBevel = from.stationBevel[i]; to.soleBevel = from.soleBevel[i]; to.planing = from.planing[i];
  to.capLeft = from.capLeft[i]; to.solePlaning = from.solePlaning[i]; to.soleLeft = from.soleLeft[i];
  to.deckHollow = from.deckHollow[i]; to.soleHollow = from.soleHollow[i]; to.rows = from.rows[i]; to.slot = from.slot[i];
  to.hollowArea = from.hollowArea[i]; to.cover = from.cover[i]; to.boxCover = from.boxCover[i];
  return to;
}
