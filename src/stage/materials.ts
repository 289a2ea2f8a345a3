/** Materials of the stage: timber, bevel map, hollow, ink and shadow. GLSL lives in shaders/. */
import {
  Color, ColorManagement, DataTexture, DoubleSide, FrontSide, GreaterDepth, LessEqualDepth, LineBasicMaterial,
  type Material, MeshBasicMaterial, NoColorSpace, Plane, RGBAFormat, ShaderMaterial, type Side, UnsignedByteType, Vector3,
} from 'three';
import type { PartKind } from '../../geometry/types';
import { RAMP_SIZE, rampBytes } from '../say/ramp';
import type { ThemeName } from '../state/view';
import bevelFrag from '../../shaders/bevel.frag.glsl?raw';
import bevelVert from '../../shaders/bevel.vert.glsl?raw';
import hollowFrag from '../../shaders/hollow.frag.glsl?raw';
import hollowVert from '../../shaders/hollow.vert.glsl?raw';
import shadowFrag from '../../shaders/shadow.frag.glsl?raw';
import shadowVert from '../../shaders/shadow.vert.glsl?raw';
import timberFrag from '../../shaders/timber.frag.glsl?raw';
import timberVert from '../../shaders/timber.vert.glsl?raw';

// Colours go to the canvas as they are written: no conversion, so that a pixel can be read against the legend.
ColorManagement.enabled = false;

/** Way of the grain, as the timber shader counts it. */
const ALONG_RUN = 0;
const ALONG_BOARD = 1;
const ACROSS_BOARD = 2;

interface Timber {
  readonly early: string;
  readonly late: string;
  readonly grain: number;
}

/** Timbers by part, as they look freshly planed. */
const TIMBERS: Readonly<Record<Exclude<PartKind, 'hollow'>, Timber>> = {
  'bottom-skin': { early: '#ead9b8', late: '#d3b88b', grain: ALONG_BOARD },
  'deck-skin': { early: '#efdfc0', late: '#d9bf93', grain: ALONG_BOARD },
  rib: { early: '#dcbf8f', late: '#b98f5a', grain: ACROSS_BOARD },
  stringer: { early: '#cfa873', late: '#a77d49', grain: ALONG_BOARD },
  sole: { early: '#e6c898', late: '#c39a62', grain: ALONG_RUN },
  row: { early: '#d6a470', late: '#ab7446', grain: ALONG_RUN },
  cap: { early: '#ecd2a6', late: '#cba56e', grain: ALONG_RUN },
  'outer-skin': { early: '#b87a52', late: '#8a4f30', grain: ALONG_RUN },
  round: { early: '#c08a5e', late: '#96603a', grain: ALONG_BOARD },
  block: { early: '#d8b384', late: '#b08450', grain: ALONG_BOARD },
  fitting: { early: '#c98f63', late: '#9a623c', grain: ALONG_BOARD },
};

interface StageColours {
  readonly ink: string;
  readonly glow: string;
  readonly accent: string;
  /** Lines drawn on the bench. */
  readonly rule: string;
  readonly dim: number;
}

/** What the two themes change on the stage. */
const STAGE_COLOURS: Readonly<Record<ThemeName, StageColours>> = {
  paper: { ink: '#2a2622', glow: '#12b3c4', accent: '#d23c0d', rule: '#2a2622', dim: 1 },
  bench: { ink: '#0d0c0b', glow: '#3fe0ea', accent: '#ff7d4a', rule: '#d8cdb8', dim: 0.84 },
};

const themed = { ink: { value: new Color() }, glow: { value: new Color() }, accent: { value: new Color() }, rule: { value: new Color() }, dim: { value: 1 } };

/** Colours all materials for a theme. */
export function paintTheme(theme: ThemeName): void {
  const colours = STAGE_COLOURS[theme];
  themed.ink.value.set(colours.ink);
  themed.glow.value.set(colours.glow);
  themed.accent.value.set(colours.accent);
  themed.rule.value.set(colours.rule);
  themed.dim.value = colours.dim;
}

/** Planes of the cut at the station, square to the rail on starboard and on port: what lies on their far side is left out. Out of the way while nothing is cut. */
const NO_CUT = 1e6;
const cutPlanes = [0, 1].map(() => new Plane(new Vector3(-1, 0, 0), NO_CUT));
/** The materials that are cut, and whether what either plane leaves stays. */
let joined = false;
const cutMaterials = new Set<Material>();

/** Has a material cut at the station. */
function cuts<M extends Material>(material: M): M {
  material.clippingPlanes = cutPlanes;
  material.clipIntersection = joined;
  cutMaterials.add(material);
  material.addEventListener('dispose', () => cutMaterials.delete(material));
  return material;
}

/** Cuts the board at a stage point of starboard and at its mirror image, leaving out what lies along `away`; null cuts nothing. */
export function setCut(at: { readonly point: Vector3; readonly away: Vector3 } | null): void {
  const mirrored = (v: Vector3, port: boolean) => (port ? new Vector3(v.x, v.y, -v.z) : v.clone());
  cutPlanes.forEach((plane, i) => {
    if (at) plane.setFromNormalAndCoplanarPoint(mirrored(at.away, i === 1).negate(), mirrored(at.point, i === 1));
    else plane.set(new Vector3(-1, 0, 0), NO_CUT);
  });
  // The two meet on the centreline: where the rail closes in on it, a side's own plane is the one that leaves more.
  joined = at !== null && at.away.z < 0;
  for (const material of cutMaterials) material.clipIntersection = joined;
}

/** A part's colour where it is cut across: end grain, or the hollow's glow. */
export function cutColour(kind: PartKind): Color {
  if (kind === 'hollow') return themed.glow.value;
  return new Color(TIMBERS[kind].early).lerp(new Color(TIMBERS[kind].late), 0.45);
}

/** Faces of the cut, coloured by vertex. */
export const cutFaceMaterial = new MeshBasicMaterial({
  // Opaque, but drawn after the glow, which would shine through it. It is flat: two passes, the far side first, would show the same.
  vertexColors: true, transparent: true, side: DoubleSide, forceSinglePass: true, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1,
});

/** What colours a part's own face by vertex, cut with it. */
export const coatMaterial = cuts(new MeshBasicMaterial({ vertexColors: true, transparent: true, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1 }));

/** A timber for a part. Opacity below 1 lets what is under it show; `last` has it drawn after the glow. */
export function timberMaterial(kind: Exclude<PartKind, 'hollow'>, opacity: number, last: boolean): ShaderMaterial {
  const timber = TIMBERS[kind];
  const side: Side = kind === 'round' ? DoubleSide : FrontSide;
  return cuts(new ShaderMaterial({
    vertexShader: timberVert,
    fragmentShader: timberFrag,
    // Few facets stand for the round, whose light is worked out from normals; all else is lit by its facets.
    defines: kind === 'round' ? { SMOOTH: '' } : {},
    uniforms: {
      early: { value: new Color(timber.early) },
      late: { value: new Color(timber.late) },
      grainWay: { value: timber.grain },
      opacity: { value: opacity },
      dim: themed.dim,
    },
    clipping: true,
    side,
    transparent: last || opacity < 1,
    depthWrite: opacity === 1,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  }));
}

const ramp = new DataTexture(rampBytes, RAMP_SIZE, 1, RGBAFormat, UnsignedByteType);
ramp.colorSpace = NoColorSpace;
ramp.needsUpdate = true;

/** The bevel map; `low`, `high` and `contour` are set from the plan's scale. */
export const bevelMaterial = cuts(new ShaderMaterial({
  vertexShader: bevelVert,
  fragmentShader: bevelFrag,
  uniforms: {
    ramp: { value: ramp },
    rampSize: { value: RAMP_SIZE },
    low: { value: 0 },
    high: { value: 1 },
    contour: { value: 1 },
    ink: themed.ink,
  },
  toneMapped: false,
  clipping: true,
  // Opaque, but drawn after faded skins and glow, so that nothing tints its colours.
  transparent: true,
  polygonOffset: true,
  polygonOffsetFactor: 1,
  polygonOffsetUnits: 1,
}));

function hollow(strength: number, hidden: boolean): ShaderMaterial {
  return cuts(new ShaderMaterial({
    vertexShader: hollowVert,
    fragmentShader: hollowFrag,
    uniforms: { glow: themed.glow, strength: { value: strength } },
    transparent: true,
    clipping: true,
    depthWrite: false,
    depthFunc: hidden ? GreaterDepth : LessEqualDepth,
    side: FrontSide,
  }));
}

/** The hollow where it can be seen, and where timber is in front of it. */
export const hollowMaterial = hollow(0.85, false);
export const hollowBehindMaterial = hollow(0.2, true);

function lineMaterial(colour: Color, opacity: number): LineBasicMaterial {
  const material = new LineBasicMaterial({ transparent: true, opacity, depthWrite: false });
  material.color = colour;
  return material;
}

/** Ink lines over timber; in the accent where the part is to be seen at once. */
export function inkMaterial(opacity: number, stressed = false): LineBasicMaterial {
  return cuts(lineMaterial((stressed ? themed.accent : themed.ink).value, opacity));
}
/** Lines drawn on the bench. */
export const ruleMaterial = (opacity: number) => lineMaterial(themed.rule.value, opacity);

/** Accent lines: the station cursor. */
export const accentLineMaterial = new LineBasicMaterial({ depthTest: false, transparent: true });
accentLineMaterial.color = themed.accent.value;

/** The shadow on the bench: hatched, or soft under the finished board. */
export const shadowMaterial = new ShaderMaterial({
  vertexShader: shadowVert,
  fragmentShader: shadowFrag,
  uniforms: { ink: themed.ink, floorHeight: { value: 0 }, strength: { value: 0.3 }, soft: { value: 0 } },
  transparent: true,
  // Laid flat, only the upper faces stay turned up: each place is hatched once.
  side: FrontSide,
});
