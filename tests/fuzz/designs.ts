/** Random boards over the whole schema: sound by the schema's own check, as wild as that lets them be. */
import { checkDesign } from '../../geometry/design/read';
import { BOARD_FORMAT, BOARD_VERSION, type Design, type LengthCurveDesign } from '../../geometry/design/schema';
import { BUILT_IN_SPECIES } from '../../geometry/design/timber';
import { dice, type Dice } from './dice';

type EndKind = 'pointed' | 'round' | 'square';

/** What a random board is, for the report on the spread. */
export interface Traits {
  readonly tail: EndKind;
  readonly nose: EndKind;
  readonly tries: number;
}

const round = (v: number, digits = 3) => Number(v.toFixed(digits));

/** Places between 0 and 1, at least a share of an even step apart. */
function places(d: Dice, n: number): number[] {
  return Array.from({ length: n }, (_, i) => (i + 1 + d.real(-0.4, 0.4)) / (n + 1));
}

function outline(d: Dice, length: number, half: number): { outline: Design['lines']['outline']; tail: EndKind; nose: EndKind } {
  const kind = (): EndKind => d.pick(['pointed', 'round', 'square']);
  const [tail, nose] = [kind(), kind()];
  const widest = d.real(0.3, 0.7);
  const ends = { tail: tail === 'square' ? half * d.real(0.1, 1) : 0, nose: nose === 'square' ? half * d.real(0.1, 1) : 0 };
  // A superellipse each way from the widest place: square root where the end is round, blunter or finer else.
  const shape = { tail: [d.real(1.3, 3), tail === 'round' ? 2 : d.real(1, 1.3)], nose: [d.real(1.3, 3), nose === 'round' ? 2 : d.real(1, 1.3)] };
  const rough = d.chance(0.15) ? 0.12 : d.chance(0.5) ? 0.02 : 0;
  const yAt = (t: number) => {
    const end = t < widest ? 'tail' : 'nose';
    const from = t < widest ? (widest - t) / widest : (t - widest) / (1 - widest);
    const [p, q] = shape[end];
    return ends[end] + (half - ends[end]) * Math.max(0, 1 - from ** p) ** (1 / q);
  };
  const cornered = d.chance(0.1);
  const inner = places(d, d.int(1, 8)).map((t) => ({
    x: round(t * length), y: round(Math.min(1000, Math.max(0.5, yAt(t) * (1 + d.real(-rough, rough))))), ...(cornered && d.chance(0.3) ? { corner: true } : {}),
  }));

  const angle = (end: EndKind) => (end === 'round' ? 90 : d.chance(0.4) ? undefined : round(end === 'pointed' ? d.real(3, 70) : d.real(-8, 40), 1));
  const [tailAngleDeg, noseAngleDeg] = [angle(tail), angle(nose)];
  return {
    tail, nose,
    outline: {
      points: [{ x: 0, y: round(ends.tail) }, ...inner, { x: length, y: round(ends.nose) }],
      ...(tailAngleDeg === undefined ? {} : { tailAngleDeg }), ...(noseAngleDeg === undefined ? {} : { noseAngleDeg }),
    },
  };
}

/** A curve within [min, max] about a rule, with some corners and end slopes. */
function curve(d: Dice, length: number, min: number, max: number, rule: (t: number) => number, sway: number): LengthCurveDesign {
  const ts = [0, ...places(d, d.int(0, 6)), 1];
  const cornered = d.chance(0.05);
  const slope = () => (d.chance(0.15) ? round(Math.atan2((max - min) * d.real(-0.5, 0.5), length) * (180 / Math.PI), 2) : undefined);
  const [tailSlopeDeg, noseSlopeDeg] = [slope(), slope()];
  return {
    points: ts.map((t, i) => ({
      x: i === 0 ? 0 : t === 1 ? length : round(t * length),
      v: round(Math.min(max, Math.max(min, rule(t) + d.real(-sway, sway))), 4),
      ...(cornered && t > 0 && t < 1 && d.chance(0.4) ? { corner: true } : {}),
    })),
    ...(tailSlopeDeg === undefined ? {} : { tailSlopeDeg }), ...(noseSlopeDeg === undefined ? {} : { noseSlopeDeg }),
  };
}

function species(d: Dice): Design['timber']['species'] {
  return Array.from({ length: d.int(0, 3) }, (_, i) => {
    const dryLimit = round(d.log(0.0005, 0.03), 5);
    return {
      id: `lot-${i}`, name: `Lot ${i}`, density: round(d.real(80, 900), 0), moe: round(d.real(1500, 16000), 0), mor: round(d.real(8, 150), 1),
      ...(d.chance(0.6) ? { dryLimit, steamLimit: round(Math.min(0.2, dryLimit * d.real(1, 8)), 5) } : {}), ...(d.chance(0.5) ? { woodClass: d.pick(['softwood', 'hardwood']) } : {}),
    };
  });
}

/** What version 2 of the board file lets a maker decide; as often as not nothing of it. */
function decisions(d: Dice, length: number, half: number): Partial<Design> {
  const maybe = <T>(share: number, make: () => T): T | undefined => (d.chance(share) ? make() : undefined);
  const methods = ['cold', 'forced', 'wet', 'split', 'layers', 'strap', 'block'] as const;
  const atEnds = () => ({ tail: maybe(0.5, () => d.pick(methods)), nose: maybe(0.5, () => d.pick(methods)) });
  const end = () => ({ block: d.pick(['ring', 'solid'] as const), skins: d.pick(['wrapped', 'butted'] as const) });
  const made: Partial<Design> = {
    methods: maybe(0.3, () => ({ sole: maybe(0.5, atEnds), rows: maybe(0.5, atEnds), cap: maybe(0.5, atEnds), skins: maybe(0.5, atEnds) })),
    consents: maybe(0.3, () => ({ split: d.chance(0.5), strap: d.chance(0.5) })),
    ends: maybe(0.4, () => ({ tail: maybe(0.6, end), nose: maybe(0.6, end), ringWidth: maybe(0.4, () => round(d.edgy(10, 200), 1)) })),
    vent: maybe(0.3, () => ({ x: round(d.real(0, length)), y: round(d.real(-half, half)), through: d.pick(['deck', 'bottom']), diameter: round(d.edgy(2, 80), 1) })),
    fittings: maybe(0.3, () => Array.from({ length: d.int(0, 4) }, () => ({
      kind: d.pick(['leash', 'fin', 'handle'] as const), x: round(d.real(0, length)), y: round(d.real(-half, half)),
      length: round(d.log(10, 600), 1), width: round(d.log(10, 400), 1), under: d.pick(['deck', 'bottom'] as const),
      ...(d.chance(0.5) ? { depth: round(d.log(4, 300), 1) } : {}),
    }))),
    adhesive: maybe(0.3, () => ({ name: 'Any', spread: round(d.log(20, 2000), 0), openMinutes: round(d.log(1, 600), 0), clampMinutes: round(d.log(1, 10000), 0) })),
    weights: maybe(0.3, () => ({ finish: round(d.real(0, 20), 2) })),
  };
  return JSON.parse(JSON.stringify(made)) as Partial<Design>;
}

const stock = (d: Dice) => Array.from({ length: d.int(1, 3) }, () => ({
  length: round(d.log(600, 6000), 0), price: round(d.real(0, 40), 2), ...(d.chance(0.3) ? { onHand: d.int(0, 40) } : {}),
}));

/** One throw: a design whose fields each lie in range; what lies between fields may still be wrong. */
function throwDesign(d: Dice, name: string): { design: Design; tail: EndKind; nose: EndKind } {
  const length = round(d.chance(0.1) ? d.pick([300, 6000]) : d.log(300, 6000), 0);
  const half = Math.min(1000, length * d.real(0.06, 0.3));
  const plan = outline(d, length, half);
  const deep = Math.min(300, Math.max(14, half * d.real(0.08, 0.6)));
  const skin = () => round(Math.min(20, d.log(0.5, Math.max(0.6, deep / 8))), 2);
  const skins = { bottom: skin(), deck: skin() };
  const thin = skins.bottom + skins.deck;
  const [tailDeep, noseDeep] = [d.real(0.15, 1), d.real(0.15, 1)].map((share) => Math.max(thin * 1.15, deep * share));
  const hump = (t: number) => {
    const end = t < 0.5 ? tailDeep : noseDeep;
    return end + (deep - end) * (1 - Math.abs(2 * t - 1) ** 2);
  };
  const rise = length * d.real(0, 0.08);
  const calm = d.chance(0.6) ? 0.25 : 1;
  const stripWidth = round(Math.min(80, Math.max(3, d.log(3, Math.max(3.1, half * 0.35)))), 1);
  const strip = () => round(d.log(1, Math.max(1.2, Math.min(40, deep * 0.3))), 1);
  const own = species(d);
  const timber = () => d.pick([...own.map((s) => s.id), ...BUILT_IN_SPECIES.map((s) => s.id)]);
  const strips = stock(d);
  const spacers = stock(d);
  const ribThickness = round(d.log(1, 40), 1);
  const ribs = d.chance(0.08) ? [] : places(d, d.int(1, d.chance(0.1) ? 40 : 12)).map((t) => round(t * length, 1));
  const flat = (max: number) => d.real(0, max) * (d.chance(0.4) ? 0 : 1);
  const [crown, concave, vee] = [flat(0.35), flat(0.12), flat(0.12)];
  return {
    tail: plan.tail, nose: plan.nose,
    design: {
      format: BOARD_FORMAT, version: BOARD_VERSION, name, revision: d.pick(['', 'A', 'b2']),
      lines: {
        outline: plan.outline,
        rocker: curve(d, length, -50, 600, (t) => rise * Math.abs(2 * t - 0.8) ** 2.2, rise * 0.05 * calm),
        thickness: curve(d, length, 2, 300, hump, deep * 0.12 * calm),
        crown: curve(d, length, -0.1, 0.5, () => crown, 0.05 * calm),
        concave: curve(d, length, 0, 0.3, () => concave, concave === 0 ? 0 : 0.03 * calm),
        vee: curve(d, length, 0, 0.3, () => vee, vee === 0 ? 0 : 0.03 * calm),
        apex: curve(d, length, 0.07, 0.93, () => d.real(0.2, 0.8), 0.2 * calm),
        fullness: curve(d, length, 0.02, 0.95, () => d.real(0.1, 0.9), 0.1 * calm),
        tuck: curve(d, length, 0.6, 140, () => deep * d.real(0.05, 0.6), deep * 0.1 * calm),
        turn: curve(d, length, 0.6, 140, () => deep * d.real(0.05, 0.8), deep * 0.1 * calm),
      },
      skins,
      frames: {
        stringerThickness: round(d.log(1, Math.min(60, half)), 1), ribThickness, ribs,
        leastWeb: round(d.edgy(3, 60), 1), notchFit: round(d.edgy(-0.5, 2), 2), kerf: round(d.edgy(0, 3), 2),
        sheet: { length: round(d.log(100, 5000), 0), width: round(d.log(100, 3000), 0), price: round(d.real(0, 200), 2) },
      },
      rail: {
        stripWidth, soleThickness: strip(), capThickness: strip(),
        spacerWidth: round(Math.max(1, stripWidth * d.real(0.15, 0.95)), 1), spacerHeight: strip(), rows: d.int(1, 8),
        clearance: round(d.chance(0.7) ? d.real(0, 1) : d.edgy(0, 10), 2), glueLine: round(d.chance(0.7) ? d.real(0, 0.3) : d.edgy(0, 2), 2),
        leastRow: round(d.chance(0.3) ? 0 : d.real(0, length * 0.4), 0), fillSlot: d.chance(0.5),
        outerLayers: d.int(1, 6), outerThickness: round(d.log(0.5, Math.max(0.6, Math.min(30, half * 0.05))), 1),
        shapingAllowance: round(d.chance(0.6) ? 0 : d.real(0, Math.min(30, half * 0.1)), 1), leastCover: round(d.edgy(0, 30), 1),
        jointStagger: round(d.real(0, 600), 0), joint: d.pick(['butt', 'scarf']), scarfRatio: round(d.edgy(4, 20), 1),
        blankOversize: round(d.edgy(0, 60), 1), leastPiece: round(d.real(20, 600), 0),
      },
      timber: {
        rail: timber(), outer: timber(), skins: timber(), frames: timber(), sawKerf: round(d.edgy(0, 6), 1), species: own,
        strips, spacers,
        ...(d.chance(0.2) ? { planks: stock(d).map((one) => ({ ...one, width: round(d.log(20, 600), 0), thickness: round(d.log(2, 200), 1) })) } : {}),
        ...(d.chance(0.2) ? { skinPlanks: stock(d).map((one) => ({ ...one, width: round(d.log(20, 600), 0) })) } : {}),
        boards: Array.from({ length: d.int(1, 3) }, () => ({ length: round(d.log(300, 6000), 0), width: round(d.log(20, 600), 0), price: round(d.real(0, 90), 2) })),
        skinPricePerM2: round(d.real(0, 200), 2), currency: d.pick(['EUR', 'kr', '']),
      },
      ...decisions(d, length, half),
      spread: {
        strip: round(d.edgy(0, 1), 2), skin: round(d.edgy(0, 1), 2), glueLine: round(d.edgy(0, 0.5), 2),
        kerf: round(d.edgy(0, 0.5), 2), ribHeight: round(d.edgy(0, 2), 2),
      },
    },
  };
}

/** Throws before a board is dropped. */
const MOST_TRIES = 200;

/** The index-th random board of a seed: thrown until `checkDesign` takes it. Throws an Error where it never does. */
export function randomDesign(seed: number, index: number): { design: Design; traits: Traits } {
  const d = dice(seed, index);
  for (let tries = 1; tries <= MOST_TRIES; tries++) {
    const { design, tail, nose } = throwDesign(d, `Random ${seed}/${index}`);
    const read = checkDesign(design);
    if (read.ok) return { design: read.design, traits: { tail, nose, tries } };
  }
  throw new Error(`no sound board in ${MOST_TRIES} throws: the generator does not suit the schema`);
}
